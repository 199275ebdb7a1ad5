package plot

import (
	"math"

	"example.org/readback/tui/look"
)

// Pairs shows a quantity of each pair in the order of pointing, such as 2c or the
// index error, against the limit of its spread.
type Pairs struct {
	Rounds [][]float64 // values by round
	Names  []string    // under the first pair of each round, "R1"
	Limit  float64
	Label  func(v float64) string
}

// all are the values in order.
func (p Pairs) all() (v []float64) {
	for _, r := range p.Rounds {
		v = append(v, r...)
	}
	return v
}

// Draw draws the plot in w × h cells: the ground between the limits with their
// edges, a mark for each pair at half a row, three labels at the left, the rounds
// under it. A value outside has its mark on the edge, as what is out.
func (p Pairs) Draw(t *look.Theme, w, h int) []string {
	v := p.all()
	if len(v) == 0 || !drawable(p.Limit) || h < 4 {
		return nil
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, x := range v {
		if math.Abs(x) < huge {
			lo, hi = min(lo, x), max(hi, x)
		}
	}
	mid := (lo + hi) / 2
	switch {
	case lo > hi: // none that has a place
		mid = 0
	case hi-lo > p.Limit: // the band stands where most of the values fit
		s := Strip{Limit: p.Limit}
		for _, x := range v {
			s.Marks = append(s.Marks, Mark{Value: x})
		}
		mid = s.middle()
	}
	h-- // the rounds
	h -= 1 - h%2
	lw := 0
	labels := [3]string{p.Label(mid + p.Limit/2), p.Label(mid), p.Label(mid - p.Limit/2)}
	for _, l := range labels {
		lw = max(lw, look.Width(l))
	}
	pw := w - lw - 1
	if pw < 4 {
		return nil
	}
	step := 2
	if 2*len(v)+2 > pw {
		step = 1
	}
	size := 1
	if step == 2 && 3*len(v)+2 <= pw {
		step, size = 3, 2
	}
	if first := len(v) - (pw-2)/step; first > 0 {
		return Pairs{Rounds: p.last(len(v) - first), Names: p.Names[max(len(p.Names)-len(p.last(len(v)-first)), 0):], Limit: p.Limit, Label: p.Label}.Draw(t, w, h+1)
	}
	return append(p.rows(t, v, mid, labels, lw, pw, h, step, size), p.under(t, lw+1, w, step))
}

// last keeps the last n values, of whole rounds as far as it may be.
func (p Pairs) last(n int) [][]float64 {
	var out [][]float64
	for i := len(p.Rounds) - 1; i >= 0 && n > 0; i-- {
		r := p.Rounds[i]
		r = r[max(len(r)-n, 0):]
		out = append([][]float64{r}, out...)
		n -= len(r)
	}
	return out
}

func (p Pairs) rows(t *look.Theme, v []float64, mid float64, labels [3]string, lw, pw, h, step, size int) []string {
	lines := make([]string, h)
	for y := range lines {
		label, fill := "", " "
		switch y {
		case 0:
			label, fill = labels[0], "▔"
		case h - 1:
			label, fill = labels[2], "▁"
		}
		if y == h/2 && y > 0 && y < h-1 {
			label = labels[1]
		}
		row := t.Row().Right(look.Quiet, label, lw).To(lw + 1)
		for x := 0; x < pw; {
			i, in := (x-1)/step, x > 0 && (x-1)%step == 0
			if in && i < len(v) {
				if sign, role := p.sign(v[i]-mid, y, h); sign != "" {
					for range size {
						row.Put(role, sign)
					}
					x += size
					continue
				}
			}
			switch {
			case y == h/2 && x%2 == 0:
				row.Put(look.BandLine, "·")
			default:
				row.Put(look.BandLine, fill)
			}
			x++
		}
		lines[y] = row.String()
	}
	return lines
}

// sign is the mark of a value in row y of h, empty where it is not in that row.
func (p Pairs) sign(off float64, y, h int) (string, look.Role) {
	level := whole((0.5 - off/p.Limit) * float64(2*h))
	role := look.BandPoint
	if math.IsNaN(off) {
		return "", role
	}
	if math.Abs(off) > p.Limit/2+1e-9 {
		role = look.Out
		if off > 0 && y == 0 {
			return "▲", role
		}
		if off < 0 && y == h-1 {
			return "▼", role
		}
		return "", role
	}
	level = min(max(level, 0), 2*h-1)
	switch {
	case level/2 != y:
		return "", role
	case level%2 == 0:
		return "▀", role
	}
	return "▄", role
}

// under names the rounds under their first pair.
func (p Pairs) under(t *look.Theme, x, w, step int) string {
	row, n := t.Row(), 0
	for i, r := range p.Rounds {
		at := x + 1 + n*step
		if i < len(p.Names) && len(r) > 0 && at > row.Width() && at+look.Width(look.Clean(p.Names[i])) <= w {
			row.To(at).Put(look.Quiet, p.Names[i])
		}
		n += len(r)
	}
	return row.To(w).String()
}
