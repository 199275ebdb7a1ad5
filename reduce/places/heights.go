package places

import (
	"fmt"
	"math"

	"example.org/readback/reduce/normal"
	"example.org/readback/reduce/precision"
)

// A Level is a height point: known, or to be found.
type Level struct {
	Name   string
	Known  bool
	Height float64 // where Known
}

// A Rise is an observed difference of height, To over From.
type Rise struct {
	From, To int
	Value    float64
	SD       float64 // positive
}

// Levels are adjusted heights. Where no point is known the first that a rise
// touches is given the height 0, and SD is against it.
type Levels struct {
	Heights   []float64
	SD        []float64 // with σ₀ = 1; 0 for a known point
	Lost      []bool    // no rise ties the point to the others
	Residuals []Residual
	Dof       int
	S0        float64
	Global    precision.Test
	Free      bool // no height was known
}

// AdjustHeights adjusts differences of height, trigonometric or levelled, as one
// weighted network. [LSQ] The error wraps ErrObservation.
func AdjustHeights(points []Level, rises []Rise, limits Limits) (*Levels, error) {
	for i, r := range rises {
		if r.From < 0 || r.To < 0 || r.From >= len(points) || r.To >= len(points) || r.From == r.To || !(r.SD > 0) || math.IsNaN(r.Value) || math.IsInf(r.Value+r.SD, 0) {
			return nil, fmt.Errorf("%w: difference of height number %d", ErrObservation, i)
		}
	}
	l := &Levels{Heights: make([]float64, len(points)), SD: make([]float64, len(points)), Lost: make([]bool, len(points)), Residuals: make([]Residual, len(rises))}
	col, n := l.columns(points, rises)
	m, b := normal.New(n), make([]float64, n)
	for _, r := range rises {
		if l.Lost[r.From] {
			continue
		}
		p := 1 / (r.SD * r.SD)
		x := r.Value - (l.Heights[r.To] - l.Heights[r.From])
		from, to := col[r.From], col[r.To]
		if from >= 0 {
			m.Add(from, from, p)
			b[from] -= float64(p * x)
		}
		if to >= 0 {
			m.Add(to, to, p)
			b[to] += float64(p * x)
		}
		if from >= 0 && to >= 0 {
			m.Add(from, to, -p)
		}
	}
	m.Factor(undetermined)
	m.Solve(b)
	q := m.Inverse()
	for p, c := range col {
		if c >= 0 {
			l.Heights[p] += b[c]
			l.SD[p] = math.Sqrt(max(0, q.At(c, c)))
		}
	}
	l.judge(rises, col, q, n, limits)
	return l, nil
}

// columns numbers the unknown heights of what hangs together with a known one, or
// with the first rise where none is known.
func (l *Levels) columns(points []Level, rises []Rise) (col []int, n int) {
	reached := make([]bool, len(points))
	l.Free = true
	for p, x := range points {
		if x.Known {
			reached[p], l.Heights[p], l.Free = true, x.Height, false
		}
	}
	held := -1
	if l.Free && len(rises) > 0 {
		held = rises[0].From
		reached[held] = true
	}
	for again := true; again; {
		again = false
		for _, r := range rises {
			switch {
			case reached[r.From] && !reached[r.To]:
				reached[r.To], again = true, true
				l.Heights[r.To] = l.Heights[r.From] + r.Value
			case reached[r.To] && !reached[r.From]:
				reached[r.From], again = true, true
				l.Heights[r.From] = l.Heights[r.To] - r.Value
			}
		}
	}
	col = make([]int, len(points))
	for p, x := range points {
		col[p] = -1
		l.Lost[p] = !reached[p]
		if reached[p] && !x.Known && p != held {
			col[p] = n
			n++
		}
	}
	return col, n
}

func (l *Levels) judge(rises []Rise, col []int, q *normal.Matrix, n int, limits Limits) {
	sum, used := 0.0, 0
	at := func(i, j int) float64 {
		if i < 0 || j < 0 {
			return 0
		}
		return q.At(i, j)
	}
	for i, r := range rises {
		if l.Lost[r.From] {
			continue
		}
		used++
		f, t := col[r.From], col[r.To]
		x := Residual{Used: true, V: l.Heights[r.To] - l.Heights[r.From] - r.Value, Detectable: math.Inf(1)}
		x.Redundancy = max(0, 1-(at(f, f)+at(t, t)-float64(2*at(f, t)))/(r.SD*r.SD))
		if x.Checked() {
			x.W = math.Abs(x.V) / (r.SD * math.Sqrt(x.Redundancy))
			x.Detectable = precision.DetectableError(x.Redundancy, r.SD, limits.LocalRisk, limits.Power)
		}
		sum += float64(x.V * x.V / (r.SD * r.SD))
		l.Residuals[i] = x
	}
	if l.Dof = used - n; l.Dof > 0 {
		l.S0 = math.Sqrt(sum / float64(l.Dof))
		l.Global = precision.Spread{S: l.S0, Dof: l.Dof}.Between(1, limits.GlobalRisk)
	}
}
