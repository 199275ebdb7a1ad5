package tui

import (
	"fmt"
	"math"

	"example.org/readback/booking"
	"example.org/readback/booking/page"
	"example.org/readback/reduce/decimal"
	"example.org/readback/reduce/faces"
	"example.org/readback/tui/look"
)

// verticals sets the vertical circle readings.
func (s *sheet) verticals() {
	spec := s.setup.Spec
	if !spec.Verticals && len(s.red.Verticals) == 0 {
		return
	}
	if s.prompt.Phase < booking.InVerticals && s.slot.Quantity != booking.Vertical && len(s.red.Verticals) == 0 {
		return
	}
	at := len(s.leaf.lines)
	s.title("Vertical circle", "from the "+spec.Instrument.Circle.String())
	// where both have room the altitude stands in the place of the mean
	first, last := "altitude", "gradient"
	if !s.mean {
		last = s.last(first, last)
	}
	s.heads("FL", "FR", smallHead(spec, "index"), first, last)
	for _, name := range spec.Sighted() {
		k := booking.Slot{Quantity: booking.Vertical, Face: faces.FL, Target: name}
		s.struck(k, k.Pair(), name)
		var index, altitude, gradient string
		if w := s.worked(name); w.HasPair {
			index, altitude, gradient = signed(spec, w.Index), w.Altitude.Format(spec.Instrument.Unit, spec.Instrument.Places()+1), gradientText(w)
		}
		role := page.Base
		if !s.mean {
			gradient, role = s.last(altitude, gradient), page.Strong
		}
		s.readings(name, k, k.Pair(), at, page.One(index, page.Base), page.One(altitude, page.Strong), page.One(gradient, role))
		s.again(k, k.Pair(), at)
	}
	s.leaf.blank()
}

// worked is what the vertical circle and the distance of a target come to.
func (s *sheet) worked(name string) booking.VerticalWork {
	for _, w := range s.red.Verticals {
		if w.Target == name {
			return w
		}
	}
	return booking.VerticalWork{Target: name}
}

func gradientText(w booking.VerticalWork) string {
	if math.IsInf(w.Gradient, 0) {
		return "plumb"
	}
	return decimal.Sprintf("%+.3f %%", w.Gradient)
}

// distances sets the distances, the target heights and what follows from them.
func (s *sheet) distances() {
	spec := s.setup.Spec
	h := s.red.Heights
	any := h.Before != nil || h.After != nil || s.slot.Quantity == booking.InstrumentHeight && s.asks
	distances := s.asks && (s.slot.Quantity == booking.Slope || s.slot.Quantity == booking.TargetHeight)
	for _, r := range s.setup.Readings {
		distances = distances || r.Slot.Quantity == booking.Slope || r.Slot.Quantity == booking.TargetHeight
	}
	calls := spec.Distances && s.prompt.Phase >= booking.InDistances
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
		s.leaf.blank()
	}
	if s.asks && s.slot.Quantity == booking.InstrumentHeight {
		s.leaf.now, s.leaf.first = at, at
	}
	if !calls && !distances {
		return
	}
	s.title("Distances", "")
	s.heads("slope", "target", s.narrow("", "rise"), "level", s.narrow("rise", "level"))
	for _, name := range spec.Sighted() {
		s.distance(name, at)
	}
	s.leaf.blank()
}

// narrow is the second of two where the page has no room for the mean.
func (s *sheet) narrow(wide, narrow string) string {
	if s.mean {
		return wide
	}
	return narrow
}

func (s *sheet) distance(name string, at int) {
	k := booking.Slot{Quantity: booking.Slope, Target: name}
	th := booking.Slot{Quantity: booking.TargetHeight, Target: name}
	s.struck(k, th, name)
	w, level, rise, short := s.worked(name), "", "", ""
	if w.HasHorizontal {
		level = fmt.Sprintf("%.3f m", w.Horizontal)
	}
	if w.HasRise {
		rise, short = decimal.Sprintf("%+.3f m", w.Rise), decimal.Sprintf("%+.3f", w.Rise)
	}
	s.readings(name, k, th, at, page.One(s.narrow("", short), page.Strong), page.One(level, page.Strong), page.One(s.narrow(rise, level), page.Strong))
	s.again(k, th, at)
}

// remarks sets the remarks on the setup as a whole.
func (s *sheet) remarks() {
	first := true
	for _, m := range s.setup.Remarks {
		if m.On != 0 {
			continue
		}
		if first {
			s.title("Remarks", "")
			first = false
		}
		s.leaf.wrapped(look.Ink, 0, m.Text)
	}
	if l := s.setup.Lift; l != nil {
		t := "Lifted, verdict " + l.Verdict + "."
		if l.Despite != "" {
			t += " Lifted on Hold: " + l.Despite
		}
		s.leaf.wrapped(look.Strong, 0, t)
	}
}
