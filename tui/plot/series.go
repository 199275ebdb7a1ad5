package plot

import (
	"math"
	"strconv"

	"example.org/readback/tui/look"
)

// A Series is a quantity from setup to setup: the collimation of an instrument,
// its index error.
type Series struct {
	Values []float64 // in order; NaN where there is none
	Unit   string    // "″"
	Mean   float64   // the middle of the band
	Limit  float64   // the band either way; 0 for none
}

// banded tells whether there is a band to draw.
func (s Series) banded() bool { return drawable(s.Limit) && math.Abs(s.Mean) < huge }

// Draw draws the values from left to right in w × h cells with the band, the
// greatest and the least value of the scale at the left.
func (s Series) Draw(t *look.Theme, w, h int) []string {
	lo, hi := s.span()
	upper, lower := s.label(hi), s.label(lo)
	lw := max(look.Width(upper), look.Width(lower))
	if w < lw+6 || h < 2 {
		return nil
	}
	c := newCanvas(t, w-lw-2, h)
	cw, ch := c.size()
	at := func(i int, v float64) (float64, float64) {
		u := cw / 2
		if n := len(s.Values); n > 1 {
			u = 0.5 + (cw-1)*float64(i)/float64(n-1)
		}
		return u, min(max((hi-v)/(hi-lo)*(ch-0.5)+0.2, 0), ch-0.1) // off the scale: on its edge
	}
	if s.banded() {
		for _, l := range []float64{s.Mean - s.Limit, s.Mean + s.Limit} {
			_, v := at(0, l)
			c.segment(look.Line, 0, v, cw-0.5, v, 3, false)
		}
	}
	s.join(c, at)
	s.beyond(c, at)
	lines := c.lines()
	for y := range lines {
		label := ""
		switch y {
		case 0:
			label = upper
		case h - 1:
			label = lower
		}
		lines[y] = t.Row().Right(look.Quiet, label, lw).To(lw+1).Put(look.Line, "│").Add(lines[y], c.w).String()
	}
	return lines
}

// join joins neighbouring values.
func (s Series) join(c *canvas, at func(int, float64) (float64, float64)) {
	for i, v := range s.Values {
		if math.IsNaN(v) {
			continue
		}
		u1, v1 := at(i, v)
		c.point(look.Accent, u1, v1)
		if i > 0 && !math.IsNaN(s.Values[i-1]) {
			u0, v0 := at(i-1, s.Values[i-1])
			c.segment(look.Accent, u0, v0, u1, v1, 1, false)
		}
	}
}

// beyond marks the values outside the band.
func (s Series) beyond(c *canvas, at func(int, float64) (float64, float64)) {
	for i, v := range s.Values {
		if s.banded() && math.Abs(v-s.Mean) > s.Limit {
			u, y := at(i, v)
			c.word(whole(u), whole(y/2), look.Out, "!")
		}
	}
}

// span is the scale: the values and the band with a little room.
func (s Series) span() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	if s.banded() {
		lo, hi = s.Mean-s.Limit*1.2, s.Mean+s.Limit*1.2
	}
	for _, v := range s.Values {
		if math.Abs(v) < huge {
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
