package reductions

import (
	"time"

	"example.org/readback/booking"
)

// A Noted is something written down in a setup that is no reading: Kind is
// amended, struck whole, weather, file, packed up or remark.
type Noted struct {
	Kind      string     `json:"kind"`
	At        *time.Time `json:"at,omitempty"` // left out where the setup was keyed afterwards
	By        string     `json:"by,omitempty"`
	Text      string     `json:"text,omitempty"`
	Changes   []string   `json:"changes,omitempty"` // of an amendment
	Reason    string     `json:"reason,omitempty"`
	AfterLift bool       `json:"after_lift,omitempty"`
}

// notedOf lists what was written down in a setup.
func notedOf(s booking.Setup) (out []Noted) {
	add := func(at time.Time, n Noted) {
		if s.Spec.KeyedAfterwards == nil && !at.IsZero() {
			at = at.UTC()
			n.At = &at
		}
		out = append(out, n)
	}
	for _, a := range s.Amended {
		add(a.At, Noted{Kind: "amended", By: a.By, Changes: a.Changes(), Reason: a.Reason, AfterLift: a.AfterLift})
	}
	for _, m := range s.Remarks {
		if m.On == 0 {
			add(m.At, Noted{Kind: "remark", By: m.By, Text: m.Text, AfterLift: m.AfterLift})
		}
	}
	for _, a := range s.Airs {
		add(a.At, Noted{Kind: "weather", By: a.By, Text: a.Words()})
	}
	for _, f := range s.Files {
		add(f.At, Noted{Kind: "file", By: f.By, Text: f.Words()})
	}
	for _, p := range s.Packed {
		add(p.At, Noted{Kind: "packed up", By: p.By, Text: p.Words()})
	}
	if v := s.Void; v != nil {
		add(v.At, Noted{Kind: "struck whole", By: v.By, Reason: v.Reason})
	}
	return out
}
