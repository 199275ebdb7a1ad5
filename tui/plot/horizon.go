package plot

import (
	"math"

	"example.org/readback/reduce"
	"example.org/readback/tui/look"
)

// A Ray is a target as seen from the station.
type Ray struct {
	Name      string
	Direction reduce.Angle // clockwise from what is drawn upwards
	Current   bool         // the one to be sighted next
	Done      bool         // has its reading in this half
}

// A Horizon is the plan of the targets around a station, the first one (the RO)
// upwards.
type Horizon struct {
	Rays []Ray
}

// mark is the sign of a ray's target: ◆ current, ● done, ○ still open.
func (r Ray) mark() (string, look.Role) {
	switch {
	case r.Current:
		return "◆", look.Accent
	case r.Done:
		return "●", look.Ink
	}
	return "○", look.Ink
}

// Draw draws the plan as large as w × h cells allow. Names that do not fit beside
// their target stand in short.
func (h Horizon) Draw(t *look.Theme, w, rows int) []string {
	c := newCanvas(t, max(w, 0), max(rows, 0))
	if w < 7 || rows < 3 {
		return c.lines()
	}
	longest := 0
	for _, r := range h.Rays {
		longest = max(longest, look.Width(r.Name))
	}
	margin := float64(min(longest, w/4) + 2)
	if w < 40 { // names stand over and under their marks: the circle is what is looked at
		margin = 3
	}
	cw, ch := c.size()
	u, v := cw/2, ch/2
	radius := max(min(cw/2-margin, ch/2-3), 2)
	c.circle(look.Line, u, v, radius, 3)
	for _, r := range h.Rays {
		if r.Current {
			s, k := math.Sincos(r.Direction.Radians())
			c.segment(look.Accent, u, v, u+radius*s, v-radius*k, 1, true)
		}
	}
	c.word(int(u), int(v/2), look.Strong, "▲")
	for _, current := range []bool{true, false} { // the current one first: it has its place
		for _, r := range h.Rays {
			if r.Current == current {
				x, y := h.place(r, u, v, radius)
				if sign, role := r.mark(); current || c.free(x, y, 1) {
					c.word(x, y, role, sign)
				}
			}
		}
	}
	for _, current := range []bool{true, false} {
		for _, r := range h.Rays {
			if r.Current == current {
				x, y := h.place(r, u, v, radius)
				_, role := r.mark()
				c.label(x, y, role, r.Name)
			}
		}
	}
	return c.lines()
}

func (h Horizon) place(r Ray, u, v, radius float64) (x, y int) {
	s, k := math.Sincos(r.Direction.Radians())
	return whole(u + radius*s), whole((v - radius*k) / 2)
}
