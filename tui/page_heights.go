package tui

import (
	"fmt"
	"math"
	"time"

	"example.org/readback/booking/page"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/decimal"
	"example.org/readback/reduce/faces"
	"example.org/readback/tui/look"
)

// verticals sets the vertical circle readings.
func (s *sheet) verticals() {
	agreed := s.setup.Spec
	if !agreed.Verticals && len(s.red.Verticals) == 0 {
		return
	}
	if s.prompt.Phase < programme.InVerticals && s.slot.Quantity != spec.Vertical && len(s.red.Verticals) == 0 {
		return
	}
	at := len(s.leaf.lines)
	s.title("Vertical circle", "from the "+agreed.Instrument.Circle.String())
	// where both have room the altitude stands in the place of the mean
	first, last := "altitude", "gradient"
	if !s.mean {
		last = s.last(first, last)
	}
	s.heads("FL", "FR", smallHead(agreed, "index"), first, last)
	for _, name := range agreed.Sighted() {
		k := spec.Slot{Quantity: spec.Vertical, Face: faces.FL, Target: name}
		s.struck(k, k.Pair(), name)
		var index, altitude, gradient string
		if w := s.worked(name); w.HasPair {
			index, altitude, gradient = signed(agreed, w.Index), w.Altitude.Format(agreed.Instrument.Unit, agreed.Instrument.Places()+1), gradientText(w)
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
func (s *sheet) worked(name string) reduction.VerticalWork {
	for _, w := range s.red.Verticals {
		if w.Target == name {
			return w
		}
	}
	return reduction.VerticalWork{Target: name}
}

func gradientText(w reduction.VerticalWork) string {
	if math.IsInf(w.Gradient, 0) {
		return "plumb"
	}
	return decimal.Sprintf("%+.3f %%", w.Gradient)
}

// distances sets the distances, the target heights and what follows from them.
func (s *sheet) distances() {
	agreed := s.setup.Spec
	h := s.red.Heights
	any := h.Before != nil || h.After != nil || s.slot.Quantity == spec.InstrumentHeight && s.asks
	distances := s.asks && (s.slot.Quantity == spec.Slope || s.slot.Quantity == spec.TargetHeight)
	for _, r := range s.setup.Readings {
		distances = distances || r.Slot.Quantity == spec.Slope || r.Slot.Quantity == spec.TargetHeight
	}
	calls := agreed.Distances && s.prompt.Phase >= programme.InDistances
	if !any && !calls && !distances {
		return
	}
	at := len(s.leaf.lines)
	head := "Instrument height"
	if h.Before != nil {
		head += " " + lengthText(agreed, h.Before.Length())
	}
	if h.After != nil {
		head += ", measured again " + lengthText(agreed, h.After.Length())
	}
	if any {
		s.title(head, "")
		s.leaf.blank()
	}
	if s.asks && s.slot.Quantity == spec.InstrumentHeight {
		s.leaf.now, s.leaf.first = at, at
	}
	if !calls && !distances {
		return
	}
	s.title("Distances", "")
	s.heads("slope", "target", s.narrow("", "rise"), "level", s.narrow("rise", "level"))
	for _, name := range agreed.Sighted() {
		s.distance(name, at)
	}
	s.leaf.blank()
	s.corrections()
}

// corrections sets each distance as it was displayed, the corrections as they are added,
// what they make, and by what: the lines of the printed sheet.
func (s *sheet) corrections() {
	if s.setup.Spec.Making == nil {
		return
	}
	cols := []page.Column{{Part: page.Name, Folds: true}}
	for _, head := range []string{"displayed", "air", "prism", "to level", "sea level", "scale", "horizontal"} {
		cols = append(cols, page.Column{Head: head, Right: true, Gap: 2})
	}
	var rows [][]string
	for _, w := range s.red.Verticals {
		if w.Work != nil {
			rows = append(rows, append([]string{w.Target}, w.Work.Lines()...))
		}
	}
	if len(rows) == 0 {
		return
	}
	s.title("Distances corrected", "metres")
	s.leaf.page(page.Page{Blocks: []page.Block{page.Table{Columns: cols, Groups: page.Rows(rows...)}}})
	for _, t := range s.red.MadeSentences(s.setup.Spec.Making, func(at time.Time) string { return at.Format("15:04") }) {
		s.leaf.wrapped(look.Quiet, 0, t)
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
	k := spec.Slot{Quantity: spec.Slope, Target: name}
	th := spec.Slot{Quantity: spec.TargetHeight, Target: name}
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
