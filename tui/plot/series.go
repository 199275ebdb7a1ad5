package plot

import (
	"math"
	"strconv"

	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// A Series is a quantity from setup to setup: the collimation of an instrument,
// its index error.
type Series struct {
	Values []float64 // in order; NaN where there is none
	Unit   string    // "″"
	Mean   float64   // the middle of the band
	Limit  float64   // the band either way; 0 for none
}

// Draw draws the values from left to right with the band, the greatest and the
// least value of the scale at the left.
func (s Series) Draw(a widget.Area) {
	lo, hi := s.span()
	upper, lower := s.label(hi), s.label(lo)
	lw := max(widget.Width(a.Theme().Rewrite(upper)), widget.Width(a.Theme().Rewrite(lower)))
	if a.W < lw+6 || a.H < 2 {
		return
	}
	a.Fit(0, 0, lw, look.Aside, upper, widget.Right)
	a.Fit(0, a.H-1, lw, look.Aside, lower, widget.Right)
	field := a.Sub(lw+1, 0, a.W-lw-1, a.H)
	for y := 0; y < a.H; y++ {
		field.Rune(0, y, look.Rule, '│')
	}
	field = field.Sub(1, 0, field.W-1, field.H)
	c := NewCanvas(field)
	w, h := c.Size()
	at := func(i int, v float64) (float64, float64) {
		u := w / 2
		if n := len(s.Values); n > 1 {
			u = 0.5 + (w-1)*float64(i)/float64(n-1)
		}
		return u, (hi-v)/(hi-lo)*(h-0.5) + 0.2
	}
	if s.Limit > 0 {
		for _, l := range []float64{s.Mean - s.Limit, s.Mean + s.Limit} {
			_, v := at(0, l)
			c.Segment(look.Band, 0, v, w-0.5, v, 3)
		}
	}
	s.lines(c, at)
	c.Draw()
	s.beyond(field, at)
}

// lines joins neighbouring values.
func (s Series) lines(c *Canvas, at func(int, float64) (float64, float64)) {
	for i, v := range s.Values {
		if math.IsNaN(v) {
			continue
		}
		u1, v1 := at(i, v)
		c.Point(look.Mark, u1, v1)
		if i > 0 && !math.IsNaN(s.Values[i-1]) {
			u0, v0 := at(i-1, s.Values[i-1])
			c.Segment(look.Mark, u0, v0, u1, v1, 1)
		}
	}
}

// beyond marks the values outside the band.
func (s Series) beyond(a widget.Area, at func(int, float64) (float64, float64)) {
	for i, v := range s.Values {
		if s.Limit > 0 && math.Abs(v-s.Mean) > s.Limit {
			u, y := at(i, v)
			a.Rune(int(u), int(y/2), look.Stop, '!')
		}
	}
}

// span is the scale: the values and the band with a little room.
func (s Series) span() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	if s.Limit > 0 {
		lo, hi = s.Mean-s.Limit*1.2, s.Mean+s.Limit*1.2
	}
	for _, v := range s.Values {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	switch {
	case lo > hi:
		return -1, 1
	case hi-lo < 1e-9:
		return lo - 1, hi + 1
	}
	return lo, hi
}

func (s Series) label(v float64) string {
	t := strconv.FormatFloat(math.Abs(v), 'f', 0, 64) + s.Unit
	if v < 0 && math.Round(v) != 0 {
		return "−" + t
	}
	return t
}
