package plot

import (
	"math"
	"strconv"

	"example.org/readback/tui/look"
)

// A Series is a quantity from setup to setup: the collimation of an instrument,
// its index error. Its scale is the data's; the band is drawn where it lies within.
type Series struct {
	Values []float64 // in order; NaN where there is none
	At     []float64 // when each was, in days from any day; nil: evenly
	Names  []string  // what stands under each, its date; nil: no row for them
	Unit   string    // "″"
	Limit  float64   // the band either way of nothing; 0 for none
}

// banded tells whether there is a band to draw.
func (s Series) banded() bool { return drawable(s.Limit) }

// Draw draws the values from left to right in w × h cells with the band, at the left the
// limits where they lie on the scale, else its greatest and its least value, the dates underneath.
func (s Series) Draw(t *look.Theme, w, h int) []string {
	lo, hi := s.span()
	upper, lower := s.label(hi), s.label(lo)
	lw := max(look.Width(upper), look.Width(lower))
	for _, l := range []float64{-s.Limit, s.Limit} {
		if s.banded() && l >= lo && l <= hi {
			lw = max(lw, look.Width(s.label(l)))
		}
	}
	dated := len(s.Names) == len(s.Values) && len(s.Names) > 0 && h > 3
	if dated {
		h--
	}
	if w < lw+6 || h < 2 {
		return nil
	}
	c := newCanvas(t, w-lw-2, h)
	cw, ch := c.size()
	place := s.places()
	at := func(i int, v float64) (float64, float64) {
		return 0.5 + (cw-1)*place[i], min(max((hi-v)/(hi-lo)*(ch-0.5)+0.2, 0), ch-0.1) // off the scale: on its edge
	}
	labels := map[int]string{0: upper, h - 1: lower}
	if s.banded() {
		for _, l := range []float64{-s.Limit, s.Limit} {
			if l >= lo && l <= hi {
				v := (hi - l) / (hi - lo) * (ch - 0.5)
				c.segment(look.Line, 0, v, cw-0.5, v, 3, false)
				y := min(whole(v/2), h-1)
				for _, end := range []int{0, h - 1} {
					if y-end <= 1 && end-y <= 1 { // two labels one under the other would be read as one
						delete(labels, end)
					}
				}
				labels[y] = s.label(l)
			}
		}
	}
	s.join(c, at)
	s.beyond(c, at)
	lines := c.lines()
	for y := range lines {
		lines[y] = t.Row().Right(look.Quiet, labels[y], lw).To(lw+1).Put(look.Line, "│").Add(lines[y], c.w).String()
	}
	if dated {
		lines = append(lines, s.dates(t, place, lw+2, w))
	}
	return lines
}

// places are where the values stand from left to right, 0 to 1: as their times lie,
// evenly where they have none.
func (s Series) places() []float64 {
	n := len(s.Values)
	at := make([]float64, n)
	timed := len(s.At) == n && n > 1 && s.At[n-1] > s.At[0] && math.Abs(s.At[n-1]) < huge && math.Abs(s.At[0]) < huge
	for i := range at {
		switch {
		case n == 1:
			at[i] = 0.5
		case timed:
			if x := (s.At[i] - s.At[0]) / (s.At[n-1] - s.At[0]); x >= 0 && x <= 1 {
				at[i] = x
			}
		default:
			at[i] = float64(i) / float64(n-1)
		}
	}
	return at
}

// dates is the row under the picture: the first date, the last, and of the others
// those that have room.
func (s Series) dates(t *look.Theme, place []float64, x0, w int) string {
	n := len(s.Names)
	width := func(i int) int { return look.Width(look.Clean(s.Names[i])) }
	left := func(i int) int {
		return min(max(x0+whole(place[i]*float64(w-x0-1))-width(i)/2, x0), w-width(i))
	}
	row := t.Row()
	end := left(n-1) - 2
	for i := range n {
		x := left(i)
		if last := i == n-1; x < row.Width()+min(i, 2) || !last && i > 0 && (x+width(i) > end || s.Names[i] == s.Names[i-1]) || last && n > 1 && s.Names[i] == s.Names[0] {
			continue
		}
		row.To(x).Put(look.Quiet, s.Names[i])
	}
	return look.FitLine(row.String(), w)
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
		if s.banded() && math.Abs(v) > s.Limit {
			u, y := at(i, v)
			c.word(whole(u), whole(y/2), look.Out, "!")
		}
	}
}

// span is the scale: the values, at least two units, and the band where it is no
// more than three times as wide.
func (s Series) span() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, v := range s.Values {
		if math.Abs(v) < huge {
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	if lo > hi {
		lo, hi = 0, 0
	}
	if room := 1 - (hi-lo)/2; room > 0 {
		lo, hi = lo-room, hi+room
	}
	if band := 1.2 * s.Limit; s.banded() && 2*band <= 3*(hi-lo) {
		lo, hi = min(lo, -band), max(hi, band)
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
