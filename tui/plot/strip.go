package plot

import (
	"math"
	"sort"

	"example.org/readback/tui/look"
)

// A Mark of a strip is a value and the sign that stands for it.
type Mark struct {
	Value float64
	Sign  string // one cell
	Now   bool   // the entry, among the marks of what is booked
}

// A Strip shows values against a limit of their spread. The band is one limit
// wide and stands where most of the values fit, so that a mark stands outside
// exactly when the limit is not met, and the odd one stands out alone.
type Strip struct {
	Marks []Mark
	Limit float64
}

// middle is where the band stands: about the middle of the values that fit into
// it together, the most there are; of two values about the middle of both.
func (s Strip) middle() float64 {
	var v []float64
	for _, m := range s.Marks {
		if math.Abs(m.Value) < huge {
			v = append(v, m.Value)
		}
	}
	if len(v) == 0 {
		return 0
	}
	sort.Float64s(v)
	lo, hi, most := 0, len(v)-1, 0
	if len(v) > 2 {
		for i := range v {
			j := i
			for j+1 < len(v) && v[j+1]-v[i] <= s.Limit+1e-9 {
				j++
			}
			if j-i+1 > most {
				lo, hi, most = i, j, j-i+1
			}
		}
	}
	return (v[lo] + v[hi]) / 2
}

// column is where a value stands on a strip of w cells that reaches a limit to
// either side of the middle.
func (s Strip) column(v float64, w int) float64 {
	return (v/(2*s.Limit) + 0.5) * float64(w-1)
}

// Draw draws the strip in one row of w cells: dots, the limit, the ground within
// it, the middle, the limit, dots.
func (s Strip) Draw(t *look.Theme, w int) string {
	if !drawable(s.Limit) || w < 9 {
		return t.Row().To(w).String()
	}
	signs, roles := make([]string, w), make([]look.Role, w)
	lo, hi := int(math.Round(s.column(-s.Limit/2, w))), int(math.Round(s.column(s.Limit/2, w)))
	mid := (lo + hi) / 2
	for x := range signs {
		switch {
		case x == lo || x == hi:
			signs[x], roles[x] = "│", look.Ink
		case x == mid:
			signs[x], roles[x] = "┊", look.BandLine
		case x > lo && x < hi:
			signs[x], roles[x] = " ", look.Band
		default:
			signs[x], roles[x] = "·", look.Line
		}
	}
	at := s.middle()
	used := map[int]bool{}
	for _, m := range s.Marks {
		s.mark(m, m.Value-at, lo, hi, signs, roles, used)
	}
	row := t.Row()
	for x := range signs {
		row.Put(roles[x], signs[x])
	}
	return row.String()
}

// mark puts one value; beyond the ends it stands beside an arrow.
func (s Strip) mark(m Mark, off float64, lo, hi int, signs []string, roles []look.Role, used map[int]bool) {
	if math.IsNaN(off) {
		return
	}
	w := len(signs)
	out := math.Abs(off) > s.Limit/2+1e-9
	x := whole(math.Round(s.column(off, w)))
	switch {
	case out && off < 0:
		x = min(x, lo-1)
	case out:
		x = max(x, hi+1)
	default:
		x = min(max(x, lo+1), hi-1)
	}
	role, sign := look.BandPoint, m.Sign
	if out {
		role = look.Out
	}
	switch {
	case x < 1:
		signs[0], roles[0], x = "◂", role, 1
	case x > w-2:
		signs[w-1], roles[w-1], x = "▸", role, w-2
	}
	if used[x] && !m.Now || look.Width(sign) != 1 {
		sign = "●"
	}
	used[x] = true
	signs[x], roles[x] = sign, role
}

// Scale is the row under the last strip: the limits and the middle, as label says
// them, and the unit behind the last where the labels have none.
func (s Strip) Scale(t *look.Theme, w int, label func(v float64) string, unit string) string {
	at := func(v float64) int { return max(whole(math.Round(s.column(v, w)))-look.Width(label(v))/2, 0) }
	low, middle, high := label(-s.Limit/2), label(0), label(s.Limit/2)
	last := at(s.Limit / 2)
	if unit != "" {
		high += " " + unit
		last = min(last, w-look.Width(high))
	}
	row := t.Row().To(max(min(at(-s.Limit/2), last-1-look.Width(low)), 0)).Put(look.Quiet, low)
	if x := at(0); x > row.Width() && x+look.Width(middle) < last {
		row.To(x).Put(look.Quiet, middle)
	}
	if last > row.Width() {
		row.To(last).Put(look.Quiet, high)
	}
	return look.FitLine(row.String(), w)
}
