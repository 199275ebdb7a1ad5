package plot

import (
	"math"
	"strconv"

	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// A Place is a station in plan.
type Place struct {
	Name string
	E, N float64 // metres
}

// A Traverse is stations in the order they were carried, and how the last
// carried point misses the known one.
type Traverse struct {
	Places []Place
	Closed bool // the last leg leads back to the first place
	// Misclosure of the last carried point against where it should be, in
	// metres; it is drawn enlarged from the last place (of a ring the first).
	DE, DN  float64
	Current int // index of the place occupied now, −1 for none
}

// Draw draws the plan, north up, as large as the area allows.
func (t Traverse) Draw(a widget.Area) {
	if len(t.Places) == 0 || a.W < 8 || a.H < 4 {
		return
	}
	c := NewCanvas(a)
	to := t.fit(c)
	for i := range t.Places {
		j := i + 1
		if j == len(t.Places) {
			if !t.Closed {
				break
			}
			j = 0
		}
		u0, v0 := to(t.Places[i].E, t.Places[i].N)
		u1, v1 := to(t.Places[j].E, t.Places[j].N)
		c.Segment(look.Mark, u0, v0, u1, v1, 1)
	}
	note := t.misclosure(c, to)
	c.Draw()
	t.labels(a, to)
	if a.W > 12 {
		a.Text(a.W-3, 0, look.Aside, "N ↑")
	}
	if note != "" {
		a.Text(0, a.H-1, look.Aside, widget.Cut(a.Theme().Rewrite(note), a.W))
	}
}

// fit returns the way from metres to the canvas.
func (t Traverse) fit(c *Canvas) func(e, n float64) (u, v float64) {
	w, h := c.Size()
	e0, e1, n0, n1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	longest := 0
	for _, p := range t.Places {
		e0, e1, n0, n1 = min(e0, p.E), max(e1, p.E), min(n0, p.N), max(n1, p.N)
		longest = max(longest, widget.Width(p.Name))
	}
	mx, my := float64(min(longest, c.area.W/4)+2), 4.0
	k := min((w-2*mx)/max(e1-e0, 1e-9), (h-2*my)/max(n1-n0, 1e-9))
	k = max(k, 0)
	if e1 == e0 && n1 == n0 {
		k = 1
	}
	return func(e, n float64) (u, v float64) {
		return w/2 + (e-(e0+e1)/2)*k, h/2 - (n-(n0+n1)/2)*k
	}
}

// misclosure draws the misclosure about four cells long and returns the sentence
// that says how much it is and how many times enlarged.
func (t Traverse) misclosure(c *Canvas, to func(e, n float64) (u, v float64)) string {
	size := math.Hypot(t.DE, t.DN)
	if size == 0 || math.IsNaN(size) || math.IsInf(size, 0) {
		return ""
	}
	at := t.Places[len(t.Places)-1]
	if t.Closed {
		at = t.Places[0]
	}
	u, v := to(at.E, at.N)
	du, dv := t.DE/size*4, -t.DN/size*4
	c.Segment(look.Band, u, v, u+du, v+dv, 1)
	azimuth := math.Mod(math.Atan2(t.DE, t.DN)*180/math.Pi+360, 360)
	return "misclosure " + strconv.FormatFloat(size, 'f', 3, 64) + " m at " + strconv.FormatFloat(azimuth, 'f', 0, 64) + "°, drawn enlarged"
}

func (t Traverse) labels(a widget.Area, to func(e, n float64) (u, v float64)) {
	taken := newTaken(a)
	at := make([][2]int, len(t.Places))
	for i, p := range t.Places {
		u, v := to(p.E, p.N)
		at[i] = [2]int{int(math.Floor(u)), int(math.Floor(v / 2))}
		taken.use(at[i][0], at[i][1], 1)
	}
	for i, p := range t.Places {
		sign, role := '△', look.Mark
		if i == t.Current {
			sign, role = '▲', look.Current
		}
		a.Rune(at[i][0], at[i][1], role, sign)
		taken.label(a, at[i][0], at[i][1], role, p.Name)
	}
}
