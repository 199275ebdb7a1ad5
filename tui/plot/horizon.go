package plot

import (
	"math"

	"example.org/readback/reduce"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// A Ray is a target as seen from the station.
type Ray struct {
	Name      string
	Direction reduce.Angle // clockwise, from any common zero
	Current   bool         // the one to be sighted next
	Done      bool         // has its reading in this half
}

// A Horizon is the plan of the targets around a station.
type Horizon struct {
	Station string
	Rays    []Ray
	Up      reduce.Angle // the direction that is drawn upwards
	Note    string       // what is up, "Alder up"; written in the corner
}

// mark is the sign of a ray's target: ◆ current, ● done, ○ still open.
func (r Ray) mark() (rune, look.Role) {
	switch {
	case r.Current:
		return '◆', look.Current
	case r.Done:
		return '●', look.Mark
	}
	return '○', look.Mark
}

// Draw draws the plan as large as the area allows. Names that do not fit beside
// their target are cut.
func (h Horizon) Draw(a widget.Area) {
	if a.W < 7 || a.H < 3 {
		return
	}
	longest := 0
	for _, r := range h.Rays {
		longest = max(longest, widget.Width(r.Name))
	}
	margin := float64(min(longest, a.W/4) + 2)
	c := NewCanvas(a)
	w, hh := c.Size()
	u, v := w/2, hh/2
	radius := max(min(w/2-margin, hh/2-3), 2)
	c.Circle(look.Rule, u, v, radius, 3)
	for _, r := range h.Rays {
		s, k := math.Sincos((r.Direction - h.Up).Radians())
		step := 3
		if r.Current {
			step = 1
		}
		c.Segment(rayRole(r), u, v, u+radius*s, v-radius*k, step)
	}
	c.Draw()
	a.Rune(int(u), int(v/2), look.Strong, '▲')
	h.labels(a, u, v, radius)
	if h.Note != "" {
		a.Text(0, a.H-1, look.Aside, widget.Cut(a.Theme().Rewrite(h.Note), a.W))
	}
}

func rayRole(r Ray) look.Role {
	if r.Current {
		return look.Mark
	}
	return look.Rule
}

// labels writes the marks and names, the current one last so that it stands on
// top.
func (h Horizon) labels(a widget.Area, u, v, radius float64) {
	taken := newTaken(a)
	for _, current := range []bool{true, false} {
		for _, r := range h.Rays {
			if r.Current == current {
				x, y := h.place(r, u, v, radius)
				taken.use(x, y, 1)
			}
		}
	}
	for _, current := range []bool{true, false} {
		for _, r := range h.Rays {
			if r.Current != current {
				continue
			}
			x, y := h.place(r, u, v, radius)
			sign, role := r.mark()
			a.Rune(x, y, role, sign)
			taken.label(a, x, y, role, r.Name)
		}
	}
}

func (h Horizon) place(r Ray, u, v, radius float64) (x, y int) {
	s, k := math.Sincos((r.Direction - h.Up).Radians())
	return int(math.Floor(u + radius*s)), int(math.Floor((v - radius*k) / 2))
}

// taken remembers which cells hold a mark or a name.
type taken struct {
	w, h  int
	cells []bool
}

func newTaken(a widget.Area) *taken { return &taken{a.W, a.H, make([]bool, a.W*a.H)} }

func (t *taken) use(x, y, w int) {
	for i := max(x, 0); i < min(x+w, t.w); i++ {
		if y >= 0 && y < t.h {
			t.cells[y*t.w+i] = true
		}
	}
}

func (t *taken) free(x, y, w int) bool {
	if x < 0 || y < 0 || y >= t.h || x > t.w-w {
		return false
	}
	for i := x; i < x+w; i++ {
		if t.cells[y*t.w+i] {
			return false
		}
	}
	return true
}

// label writes a name beside the mark at x, y: outwards from the middle, else
// above or below, else inwards, else shortened, wherever the cells are free.
func (t *taken) label(a widget.Area, x, y int, role look.Role, name string) {
	name = a.Theme().Rewrite(name)
	full := widget.Width(name)
	for w := full; w >= min(2, full) && w > 0; w = min(w-1, 8) {
		for _, p := range t.beside(x, y, w) {
			if t.free(p[0], p[1], w) {
				t.name(a, p[0], p[1], w, labelRole(role), widget.Cut(name, w))
				return
			}
		}
	}
}

// beside lists where a name of w cells may stand, the best place first.
func (t *taken) beside(x, y, w int) [6][2]int {
	out, in, away := x+2, x-1-w, 1
	if x < t.w/2 {
		out, in = in, out
	}
	if y < t.h/2 {
		away = -1
	}
	return [6][2]int{{out, y}, {x - w/2, y + away}, {out, y + away}, {x - w/2, y - away}, {out, y - away}, {in, y}}
}

// name writes a name with a blank on either side.
func (t *taken) name(a widget.Area, x, y, w int, role look.Role, s string) {
	for _, i := range []int{x - 1, x + w} {
		if t.free(i, y, 1) {
			a.Rune(i, y, look.Base, ' ')
		}
	}
	a.Text(x, y, role, s)
	t.use(x-1, y, w+2)
}

func labelRole(r look.Role) look.Role {
	if r == look.Current {
		return r
	}
	return look.Base
}
