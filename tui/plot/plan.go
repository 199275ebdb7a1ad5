package plot

import (
	"math"
	"strconv"
	"strings"

	"example.org/readback/reduce"
	"example.org/readback/tui/look"
)

// A Place is a station or a target in plan, with the ellipse of its error where one
// is known.
type Place struct {
	Name string
	E, N float64 // metres

	A, B    float64 // half axes of the ellipse, metres; 0 for none
	Bearing float64 // of the longer one, radians from north, clockwise
}

// A Traverse is stations in the order they were carried, and how the last
// carried point misses the known one.
type Traverse struct {
	Places []Place
	Closed bool    // the last leg leads back to the first place
	Sights []Place // targets that no tripod stood on
	// Misclosure of the last carried point against where it should be, in
	// metres; it is drawn enlarged from the last place (of a ring the first).
	DE, DN  float64
	Unit    reduce.Unit // of the circle; the azimuth of the misclosure is told in it
	Current int         // index of the place occupied now, −1 for none
}

// Draw draws the plan, north up, as large as w × h cells allow.
func (t Traverse) Draw(th *look.Theme, w, h int) []string {
	c := newCanvas(th, max(w, 0), max(h, 0))
	if len(t.Places) == 0 || w < 8 || h < 4 {
		return c.lines()
	}
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
		c.segment(look.Accent, u0, v0, u1, v1, 1, true)
	}
	more := t.ellipses(c, to)
	note := t.misclosure(c, to)
	if more != "" && look.Width(note)+2+look.Width(more) <= w {
		note = strings.TrimPrefix(note+"; "+more, "; ")
	} else if more != "" && h > 5 {
		if look.Width(more) > w {
			more = strings.Replace(more, " of 95 %,", "", 1)
		}
		c.word(0, h-2, look.Quiet, more)
	}
	if w > 12 {
		c.word(w-3, 0, look.Quiet, "N ↑")
	}
	t.labels(c, to)
	lines := c.lines()
	if note != "" {
		lines[h-1] = th.Row().Left(look.Quiet, note, w).String()
	}
	return lines
}

// fit returns the way from metres to the canvas.
func (t Traverse) fit(c *canvas) func(e, n float64) (u, v float64) {
	w, h := c.size()
	e0, e1, n0, n1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	longest := 0
	for _, p := range t.all() {
		longest = max(longest, look.Width(p.Name))
		if !(math.Abs(p.E) < huge && math.Abs(p.N) < huge) {
			continue // no place on any plan: the others have theirs
		}
		e0, e1, n0, n1 = min(e0, p.E), max(e1, p.E), min(n0, p.N), max(n1, p.N)
	}
	mx, my := float64(min(longest, c.w/4)+2), 4.0
	k := min((w-2*mx)/max(e1-e0, 1e-9), (h-2*my)/max(n1-n0, 1e-9))
	k = max(k, 0)
	if e1 == e0 && n1 == n0 {
		k = 1
	}
	return func(e, n float64) (u, v float64) {
		return w/2 + (e-(e0+e1)/2)*k, h/2 - (n-(n0+n1)/2)*k
	}
}

// all are the stations and behind them the targets.
func (t Traverse) all() []Place { return append(t.Places[:len(t.Places):len(t.Places)], t.Sights...) }

// ellipses draws the ellipses of error, all enlarged alike so that the largest is
// some six cells wide, and returns the words that say how many times: 1, 2 or 5 with
// noughts, so that a figure may be read off.
func (t Traverse) ellipses(c *canvas, to func(e, n float64) (u, v float64)) string {
	largest := 0.0
	for _, p := range t.all() {
		if p.A > largest && p.A < huge {
			largest = p.A
		}
	}
	u0, _ := to(0, 0)
	u1, _ := to(1, 0)
	if perMetre := u1 - u0; largest > 1e-9 && perMetre > 1e-12 {
		times := roundTimes(min(3, float64(c.w)/16) / (largest * perMetre))
		for _, p := range t.all() {
			if !(p.A > 0 && p.A < huge && p.B >= 0 && math.Abs(p.E) < huge && math.Abs(p.N) < huge) {
				continue
			}
			sin, cos := math.Sincos(p.Bearing)
			mu, mv := to(p.E, p.N)
			du, dv := math.Floor(mu)+0.5-mu, 2*math.Floor(mv/2)+1-mv // about the middle of its mark
			var lu, lv float64
			for i := 0; i <= 48; i++ {
				s, k := math.Sincos(2 * math.Pi * float64(i) / 48)
				a, b := p.A*k*times, p.B*s*times
				u, v := to(p.E+a*sin+b*cos, p.N+a*cos-b*sin)
				u, v = u+du, v+dv
				if i > 0 {
					c.segment(look.Ink, lu, lv, u, v, 1, false)
				}
				lu, lv = u, v
			}
		}
		return "ellipses of 95 %, × " + strconv.FormatFloat(times, 'f', -1, 64)
	}
	return ""
}

// roundTimes is the largest of 1, 2 and 5 with noughts that is not above x.
func roundTimes(x float64) float64 {
	ten := math.Pow(10, math.Floor(math.Log10(x)))
	for _, k := range []float64{5, 2} {
		if k*ten <= x*(1+1e-9) {
			return k * ten
		}
	}
	return ten
}

// misclosure draws the misclosure about four cells long and returns the sentence
// that says how much it is and how many times enlarged.
func (t Traverse) misclosure(c *canvas, to func(e, n float64) (u, v float64)) string {
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
	c.segment(look.Out, u, v, u+du, v+dv, 1, true)
	circle, mark := float64(reduce.Turn/t.Unit.Whole()), t.Unit.Mark()
	if !t.Unit.Decimal() {
		mark = "°"
	}
	azimuth := math.Mod(math.Round(math.Atan2(t.DE, t.DN)/(2*math.Pi)*circle)+circle, circle)
	note := "misclosure " + strconv.FormatFloat(size, 'f', 3, 64) + " m"
	for _, more := range []string{" at " + strconv.FormatFloat(azimuth, 'f', 0, 64) + mark, ", enlarged"} {
		if look.Width(note+more) <= c.w { // never a figure that is cut
			note += more
		}
	}
	if long := strings.Replace(note, ", enlarged", ", drawn enlarged", 1); look.Width(long) <= c.w {
		return long
	}
	return note
}

func (t Traverse) labels(c *canvas, to func(e, n float64) (u, v float64)) {
	all := t.all()
	at := make([][2]int, len(all))
	sign := func(i int) (string, look.Role) {
		switch {
		case i >= len(t.Places):
			return "○", look.Ink
		case i == t.Current:
			return "▲", look.Strong
		}
		return "△", look.Ink
	}
	for i, p := range all {
		u, v := to(p.E, p.N)
		at[i] = [2]int{whole(u), whole(v / 2)}
		mark, role := sign(i)
		c.word(at[i][0], at[i][1], role, mark)
	}
	for i, p := range all {
		_, role := sign(i)
		c.label(at[i][0], at[i][1], role, p.Name)
	}
}
