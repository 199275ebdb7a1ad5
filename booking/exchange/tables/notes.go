package tables

import (
	"fmt"
	"strings"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

// notes writes what was written down in a setup that is no reading, in the order of
// the kinds: amendments, rounds and halves, pointings passed over, remarks, weather,
// files, the pack-up.
func (w *Writer) notes(b Book, s booking.Setup) {
	n := int64(0)
	add := func(kind string, at time.Time, by, text, reason string, late bool, reading uint64) {
		n++
		x := w.begin(b).whole(int64(s.Number), n).text(kind).time(at, true).text(by, text, reason).flag(late)
		if reading > 0 {
			x.whole(int64(reading))
		} else {
			x.none(1)
		}
		w.put(notes)
	}
	for _, a := range s.Amended {
		add("amended", a.At, a.By, strings.Join(a.Changes(), "; "), a.Reason, a.AfterLift, 0)
	}
	for _, r := range s.Rounds {
		where := spec.Slot{Quantity: spec.Horizontal, Round: r.Number}.String()
		if v := r.Void; v != nil {
			add("round void", time.Time{}, v.By, where, v.Reason, false, 0)
		}
		if l := r.LeftOut; l != nil {
			add("round left out", time.Time{}, l.By, where, l.Reason, l.AfterLift, 0)
		}
	}
	for _, h := range s.Halves {
		add("half again", h.At, h.By, spec.Slot{Quantity: spec.Horizontal, Round: h.Round, Face: h.Face, Repeat: h.Repeat}.String(), "", false, 0)
	}
	for _, k := range s.Skips {
		add("passed over", time.Time{}, k.By, k.Slot.String(), k.Reason, false, 0)
	}
	for _, m := range s.Remarks {
		add("remark", m.At, m.By, m.Text, "", m.AfterLift, m.On)
	}
	after := func(at time.Time) bool { return s.Lift != nil && at.After(s.Lift.At) }
	for _, a := range s.Airs {
		add("weather", a.At, a.By, a.Words(), "", after(a.At), 0)
	}
	for _, f := range s.Files {
		add("file", f.At, f.By, f.Words(), "", after(f.At), 0)
	}
	for _, p := range s.Packed {
		add("packed up", p.At, p.By, p.Words(), "", after(p.At), 0)
	}
}

// bookNotes writes what was written down in the book itself: checks of instruments
// before work, notes to the next crew, what stood beside its mark, settings of figures,
// the plan, levelled differences, the folder of the second journal.
func (w *Writer) bookNotes(b Book) {
	n := int64(0)
	add := func(kind string, at time.Time, by, text string) {
		n++
		w.begin(b).whole(n).text(kind).time(at, true).text(by, text)
		w.put(bookNotes)
	}
	for _, c := range b.State.Checks {
		add("instrument checked", c.At, c.By, strings.TrimSpace(c.Instrument.Name+" "+c.Instrument.Serial)+": "+c.Words())
	}
	for _, h := range b.State.Notes {
		add("note to the next crew", h.At, h.By, h.Text)
	}
	for _, c := range b.State.Centres {
		add("beside its mark", time.Time{}, c.By, fmt.Sprintf("setup %d: ", c.Setup)+c.Words(reduce.DMS))
	}
	if f := (event.FiguresSet{Values: b.State.Figures}); len(f.Values) > 0 {
		add("settings of figures", time.Time{}, "", f.Words())
	}
	for _, p := range b.State.Plan {
		add("planned", time.Time{}, "", p.Words())
	}
	for _, l := range b.State.Levels {
		add("levelled", time.Time{}, "", l.Words())
	}
	if b.State.Copy != "" {
		add("second journal", time.Time{}, "", b.State.Copy)
	}
}
