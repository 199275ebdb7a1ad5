package tui

import (
	"fmt"
	"math"

	"example.org/readback/booking"
	"example.org/readback/reduce"
	"example.org/readback/tui/look"
)

// verticals sets the vertical circle readings.
func (s *sheet) verticals() {
	spec := s.v.setup.Spec
	if !spec.Verticals && len(s.v.red.Verticals) == 0 {
		return
	}
	if s.v.prompt.Phase < booking.InVerticals && s.v.slot.Quantity != booking.Vertical && len(s.v.red.Verticals) == 0 {
		return
	}
	at := len(s.leaf.lines)
	s.title("Vertical circle", "from the "+spec.Instrument.Circle.String())
	if s.mean {
		s.titles("FL", "FR", smallHead(spec, "index"), "altitude", "gradient")
	} else {
		s.titles("FL", "FR", smallHead(spec, "index"), "", s.last("altitude", "gradient"))
	}
	for _, name := range spec.Sighted() {
		k := booking.Slot{Quantity: booking.Vertical, Face: reduce.FL, Target: name}
		s.struck(k, name)
		w := booking.VerticalWork{Target: name}
		for _, x := range s.v.red.Verticals {
			if x.Target == name {
				w = x
			}
		}
		inks := []ink{{x: 0, w: s.name, text: name}}
		fl, fr := s.booked(k)
		inks = append(inks, s.face(0, k, fl, at)...)
		inks = append(inks, s.face(1, k.Pair(), fr, at)...)
		if w.HasPair {
			inks = append(inks, s.put(2, look.Ink, signed(spec, w.Index)))
			alt := w.Altitude.Format(spec.Instrument.Unit, spec.Instrument.Places()+1)
			if s.mean {
				inks = append(inks, s.put(3, look.Strong, alt), s.put(4, look.Ink, gradientText(w)))
			} else {
				inks = append(inks, s.put(4, look.Strong, s.last(alt, gradientText(w))))
			}
		}
		s.called(s.leaf.add(append(inks, s.notes(k, fl, fr)...)...))
		s.again(k, at)
	}
	s.leaf.blank()
}

func gradientText(w booking.VerticalWork) string {
	if math.IsInf(w.Gradient, 0) {
		return "plumb"
	}
	return decimalSigned("%+.3f %%", w.Gradient)
}

// distances sets the distances, the target heights and what follows from them.
func (s *sheet) distances() {
	spec := s.v.setup.Spec
	h := s.v.red.Heights
	any := h.Before != nil || h.After != nil || s.v.slot.Quantity == booking.InstrumentHeight && s.v.asks
	distances := s.v.asks && (s.v.slot.Quantity == booking.Slope || s.v.slot.Quantity == booking.TargetHeight)
	for _, r := range s.v.setup.Readings {
		distances = distances || r.Slot.Quantity == booking.Slope || r.Slot.Quantity == booking.TargetHeight
	}
	calls := spec.Distances && s.v.prompt.Phase >= booking.InDistances
	if !any && !calls && !distances {
		return
	}
	at := len(s.leaf.lines)
	head := "Instrument height"
	if h.Before != nil {
		head += " " + lengthText(spec, h.Before.Length())
	}
	if h.After != nil {
		head += ", measured again " + lengthText(spec, h.After.Length())
	}
	if any {
		s.title(head, "")
	}
	if s.v.asks && s.v.slot.Quantity == booking.InstrumentHeight {
		s.leaf.now, s.leaf.first = at, at
	}
	if calls || distances {
		s.title("Distances", "")
		if s.mean {
			s.titles("slope", "target", "", "level", "rise")
		} else {
			s.titles("slope", "target", "rise", "", "level")
		}
		for _, name := range spec.Sighted() {
			s.distance(name, at)
		}
	}
	s.leaf.blank()
}

func (s *sheet) distance(name string, at int) {
	k := booking.Slot{Quantity: booking.Slope, Target: name}
	th := booking.Slot{Quantity: booking.TargetHeight, Target: name}
	for _, r := range s.v.setup.Readings {
		if !r.Stands() && (r.Slot == k || r.Slot == th) {
			col := 0
			if r.Slot == th {
				col = 1
			}
			x, w := s.col(col)
			reason, _ := s.col(2)
			s.leaf.add(ink{x: 0, w: s.name, text: name}, ink{x: x, w: w - 1, align: right, text: readingText(s.v.setup.Spec, r), struck: true},
				ink{x: reason + 1, w: -1, text: "struck: " + r.Struck.Reason, role: look.Quiet})
		}
	}
	w := booking.VerticalWork{Target: name}
	for _, x := range s.v.red.Verticals {
		if x.Target == name {
			w = x
		}
	}
	w.Slope, w.TargetHeight = nil, nil // as they stand, left out or not
	if r, ok := s.v.setup.At(k); ok {
		w.Slope = &r
	}
	if r, ok := s.v.setup.At(th); ok {
		w.TargetHeight = &r
	}
	inks := []ink{{x: 0, w: s.name, text: name}}
	inks = append(inks, s.face(0, k, w.Slope, at)...)
	inks = append(inks, s.face(1, th, w.TargetHeight, at)...)
	if w.HasHorizontal {
		col := 3
		if !s.mean {
			col = 4
		}
		inks = append(inks, s.put(col, look.Strong, fmt.Sprintf("%.3f m", w.Horizontal)))
	}
	switch {
	case w.HasRise && s.mean:
		inks = append(inks, s.put(4, look.Strong, decimalSigned("%+.3f m", w.Rise)))
	case w.HasRise:
		inks = append(inks, s.put(2, look.Strong, decimalSigned("%+.3f", w.Rise)))
	}
	s.called(s.leaf.add(append(inks, s.notes(k, w.Slope, w.TargetHeight)...)...))
	s.againLengths(k, th, at)
}

// againLengths sets under a distance and a target height what was measured of them
// once more as a check.
func (s *sheet) againLengths(k, th booking.Slot, at int) {
	for n := 1; n <= booking.MaxRepeats; n++ {
		k.Repeat, th.Repeat = n, n
		inks := []ink{{x: 0, w: s.name, text: " again", role: look.Quiet}}
		var rs []*booking.Reading
		for col, slot := range []booking.Slot{k, th} {
			var r *booking.Reading
			if x, ok := s.v.setup.At(slot); ok {
				r = &x
				rs = append(rs, r)
			}
			inks = append(inks, s.face(col, slot, r, at)...)
		}
		if len(inks) > 1 {
			s.called(s.leaf.add(append(inks, s.notes(k, rs...)...)...))
		}
	}
}

// remarks sets the remarks on the setup as a whole.
func (s *sheet) remarks() {
	first := true
	for _, m := range s.v.setup.Remarks {
		if m.On != 0 {
			continue
		}
		if first {
			s.title("Remarks", "")
			first = false
		}
		s.leaf.wrapped(look.Ink, 0, s.w, m.Text)
	}
	if l := s.v.setup.Lift; l != nil {
		t := "Lifted, verdict " + l.Verdict + "."
		if l.Despite != "" {
			t += " Lifted on Hold: " + l.Despite
		}
		s.leaf.wrapped(look.Strong, 0, s.w, t)
	}
}
