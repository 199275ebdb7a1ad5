package landxml

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/page/sheet"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// setup makes the InstrumentSetup of one setup.
func (f *file) setup(instrument string, sh sheet.Sheet) instrumentSetup {
	s := sh.Setup
	r := reduction.Of(s)
	f.setups++
	e := instrumentSetup{
		ID: fmt.Sprintf("st%d", f.setups), Details: instrument, Station: clean(s.Spec.Station), Height: "0",
		Point: pointRef{clean(s.Spec.Station)},
	}
	if h, ok := r.Heights.Height(); ok {
		e.Height = lengthText(h)
	} else {
		e.Notes = append(e.Notes, "The instrument height was not measured: 0 stands for it.")
	}
	for _, w := range r.Rounds {
		g := f.round(e.ID, s, w)
		if e.Backsight == nil && w.Used() {
			e.Backsight = g.Backsight
		}
		e.Groups = append(e.Groups, g)
	}
	if g, ok := f.verticals(e.ID, s); ok {
		e.Groups = append(e.Groups, g)
	}
	if g, ok := f.reduced(e.ID, s, r); ok {
		e.Groups = append(e.Groups, g)
	}
	if sh.Book.Drill {
		e.Notes = append(e.Notes, drillNote)
	}
	v := check.JudgeReduction(s, r)
	e.Notes = append(append(e.Notes, setupNotes(s)...), repeatNotes(v)...)
	e.Features = []feature{setupFeature(sh, v)}
	return e
}

// repeatNotes say of what was measured again how far the values lie apart, and the limit.
func repeatNotes(v check.Verdict) []string {
	var ns []string
	for _, c := range v.Checks {
		if c.Name == "repeats" {
			ns = append(ns, clean(c.Text))
		}
	}
	return ns
}

// observed says the order of observing.
func observed(s spec.Spec) string {
	if s.Order == spec.ByRepetition {
		return fmt.Sprintf("The angle was observed by repetition, %d times on each face; directions are from the means.", s.Repetitions)
	}
	return fmt.Sprintf("The rounds were observed %s.", s.Order)
}

// setupNotes are the remarks on the setup and how it ended.
func setupNotes(s booking.Setup) []string {
	var ns []string
	switch s.Spec.LengthUnit {
	case lengths.Feet:
		ns = append(ns, "Lengths were booked in international feet and are written in metres.")
	case lengths.USFeet:
		ns = append(ns, "Lengths were booked in US survey feet (1200/3937 m) and are written in metres.")
	}
	if o := s.Spec.Order; o != spec.ByHalves {
		ns = append(ns, observed(s.Spec))
	}
	if k := s.Spec.KeyedAfterwards; k != nil {
		ns = append(ns, clean(fmt.Sprintf("Booked on paper first, keyed in by %s from %s.", k.By, k.File)))
	}
	if s.Lift != nil && s.Lift.Despite != "" {
		ns = append(ns, clean(fmt.Sprintf("Lifted on Hold by %s: %s", s.Lift.By, s.Lift.Despite)))
	}
	if v := s.Void; v != nil {
		ns = append(ns, clean(fmt.Sprintf("The setup was struck as a whole by %s: %s", v.By, v.Reason)))
	}
	for _, a := range s.Amended {
		text := fmt.Sprintf("The setup was amended by %s: %s", a.By, strings.Join(a.Changes(), "; "))
		if a.Reason != "" {
			text += ". Reason: " + a.Reason
		}
		ns = append(ns, clean(text))
	}
	for _, r := range s.Readings {
		if r.Slot.Quantity == spec.InstrumentHeight && !r.Stands() {
			ns = append(ns, clean(fmt.Sprintf("Instrument height %s struck by %s: %s", r.Text, r.Struck.By, r.Struck.Reason)))
		} else if r.Slot.Quantity == spec.InstrumentHeight && (r.Slot.Closing || r.Slot.Repeat > 0) {
			ns = append(ns, clean("Instrument height measured again: "+r.Text))
		}
	}
	for _, m := range s.Remarks {
		if m.On == 0 {
			ns = append(ns, clean(fmt.Sprintf("Remark by %s: %s", m.By, m.Text)))
		}
	}
	return ns
}

func setupFeature(sh sheet.Sheet, v check.Verdict) feature {
	s := sh.Setup
	p := []property{
		{"book", clean(sh.Name)},
		{"identity of the book", clean(sh.ID)},
		{"setup", strconv.Itoa(s.Number)},
		{"reference object", clean(s.Spec.RO)},
		{"observer", clean(s.Spec.Observer)},
		{"booker", clean(s.Spec.Booker)},
		{"verdict", v.Word()},
		{"last event", strconv.FormatUint(s.LastSeq, 10)},
	}
	if sh.Hash != "" {
		p = append(p, property{"hash of the last event", clean(sh.Hash)})
	}
	return feature{Name: "setup", Properties: p}
}

// group begins an observation group with an identity of its own.
func (f *file) group(setup, set string) group {
	f.groups++
	return group{ID: fmt.Sprintf("g%d", f.groups), Purpose: "normal", SetupID: setup, SetID: set}
}

// round makes the group of one round, struck readings included.
func (f *file) round(setup string, s booking.Setup, w reduction.RoundWork) group {
	g := f.group(setup, strconv.Itoa(w.Number))
	if circle, ok := circleToRO(s, w); ok {
		g.Backsight = &backsight{Circle: f.angle(circle), Point: pointRef{clean(s.Spec.RO)}}
	}
	for _, r := range s.Readings {
		if !r.Slot.Quantity.OfRound() || r.Slot.Round != w.Number {
			continue
		}
		o := f.raw(s, r)
		o.SetID = g.SetID
		o.Horiz = f.angle(r.Angle())
		o.CircleSet = strconv.Itoa(w.Number)
		if !w.Used() {
			o.Unused = "true"
		}
		if r.Slot.Quantity == spec.Accumulated {
			o.Unused = "true" // it is a sum, and no direction
			o.Notes = append(o.Notes, fmt.Sprintf("The circle after %d repetitions of the angle from %s.", s.Spec.Repetitions, clean(s.Spec.RO)))
		}
		if r.Slot.Closing {
			o.Notes = append(o.Notes, closingNote(s.Spec, r.Slot.Target))
		}
		g.Raw = append(g.Raw, o)
	}
	if v := w.Void; v != nil {
		g.Notes = append(g.Notes, clean(fmt.Sprintf("Round void, said by %s: %s", v.By, v.Reason)))
	}
	if l := w.LeftOut; l != nil {
		g.Notes = append(g.Notes, clean(fmt.Sprintf("Round left out of the means by %s: %s", l.By, l.Reason)))
	}
	return g
}

// closingNote says what the second sight of a reference object was for.
func closingNote(s spec.Spec, target string) string {
	if target != s.RO {
		return "A further reference object observed again to check the half."
	}
	return "The reference object observed again to close the half."
}

// circleToRO is where the circle stood on face left to the RO: its mean, or one
// reading of it where there is no pair.
func circleToRO(s booking.Setup, w reduction.RoundWork) (reduce.Angle, bool) {
	if w.HasRO {
		return w.RO.Angle(), true
	}
	for _, p := range w.Pairs {
		if p.Target != s.Spec.RO {
			continue
		}
		if p.FL != nil {
			return p.FL.Angle(), true
		}
		if p.FR != nil {
			return (p.FR.Angle() + reduce.HalfTurn).Normalize(), true
		}
	}
	return 0, false
}

// raw begins the observation of one reading: all but the figure itself.
func (f *file) raw(s booking.Setup, r booking.Reading) rawObservation {
	o := rawObservation{Target: pointRef{clean(r.Slot.Target)}}
	if at, ok := s.ObservedAt(r); ok { // else only the time of keying is known
		o.TimeStamp = timeText(at)
	}
	switch r.Slot.Face {
	case faces.FL:
		o.DirectFace = "true"
	case faces.FR:
		o.DirectFace = "false"
	}
	if k := r.Struck; k != nil {
		o.Unused, o.Status = "true", "deleted"
		o.Notes = append(o.Notes, clean(fmt.Sprintf("Struck %s by %s: %s", timeText(k.At), k.By, k.Reason)))
	}
	if k := r.LeftOut; k != nil {
		o.Unused = "true"
		o.Notes = append(o.Notes, clean(fmt.Sprintf("Left out of the means %s by %s: %s", timeText(k.At), k.By, k.Reason)))
	}
	if r.Slot.Repeat > 0 {
		o.Notes = append(o.Notes, fmt.Sprintf("Repeated measurement %d.", r.Slot.Repeat+1))
	}
	if r.Confirmed {
		o.Notes = append(o.Notes, clean("Booked although marked: read again, confirmed by "+r.By))
	}
	for _, m := range s.Remarks {
		if m.On == r.Seq {
			o.Notes = append(o.Notes, clean(fmt.Sprintf("Remark by %s: %s", m.By, m.Text)))
		}
	}
	o.Features = []feature{{Name: "reading", Properties: []property{
		{"event", strconv.FormatUint(r.Seq, 10)}, {"quantity", r.Slot.Quantity.String()},
		{"keyed", clean(r.Text)}, {"booked by", clean(r.By)},
	}}}
	return o
}
