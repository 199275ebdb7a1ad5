package places

import (
	"errors"
	"math"
	"slices"

	"example.org/readback/reduce/normal"
	"example.org/readback/reduce/traverse"
)

// ErrNoSolution is returned where the adjustment does not settle: the places it
// started from are too far off, or the observations contradict each other grossly.
var ErrNoSolution = errors.New("the adjustment does not settle: an observation or a name is grossly wrong")

// A way is one unknown: a step of a point along a unit vector.
type way struct {
	col int
	by  traverse.Point
}

// work is the state of an adjustment.
type work struct {
	net    *Network
	obs    []Observation // those that are used
	from   []int         // of each used observation its number in the network
	at     []traverse.Point
	lost   []bool // of each point: nothing fixes it
	free   []int  // of each point: in how many ways it moves
	ways   [][]way
	orient []float64
	rows   []row
	n      int // unknowns
	datum  datum
	m      *normal.Matrix // factored
	rhs    []float64
	sets   []setSum
	inSets [][]int // of each set the numbers of its observations
}

// A setSum holds what the elimination of an orientation takes: Σu², Σu·l, and
// Σu·a by unknown.
type setSum struct {
	uu, ul float64
	col    []int
	val    []float64
}

func newWork(n *Network) *work {
	w := &work{net: n, lost: make([]bool, len(n.Points)), orient: make([]float64, n.sets())}
	for _, p := range n.Points {
		w.at = append(w.at, p.At)
	}
	return w
}

// maxIterations is more than any network needs that settles at all.
const maxIterations = 30

// undetermined is the part of its diagonal that the pivot of an unknown keeps.
const undetermined = 1e-11

// settle iterates until nothing moves. Points that nothing fixes are set aside.
func (w *work) settle() error {
	for {
		w.choose()
		held, err := w.iterate()
		if err != nil || held == nil {
			return err
		}
		for p, ws := range w.ways {
			for _, x := range ws {
				w.lost[p] = w.lost[p] || slices.Contains(held, x.col)
			}
		}
	}
}

// choose takes the observations of the points that are not lost, the datum and the
// order of the unknowns.
func (w *work) choose() {
	w.pick()
	w.datum = w.findDatum()
	w.pick()
	w.ways = make([][]way, len(w.at))
	w.n = 0
	for _, p := range w.order() {
		for _, by := range w.datum.ways(w, p) {
			w.ways[p] = append(w.ways[p], way{w.n, by})
			w.n++
		}
	}
	w.rows = make([]row, len(w.obs))
	w.inSets = make([][]int, len(w.orient))
	for i, o := range w.obs {
		if o.Kind == Direction {
			w.inSets[o.Set] = append(w.inSets[o.Set], i)
		}
	}
}

// pick keeps the observations between points that are not lost.
func (w *work) pick() {
	w.obs, w.from = w.obs[:0], w.from[:0]
	touched := make([]bool, len(w.at))
	for i, o := range w.net.Observations {
		two := o.Kind != East && o.Kind != North
		if w.lost[o.From] || two && w.lost[o.To] || o.Kind == Angle && w.lost[o.Back] {
			continue
		}
		touched[o.From] = true
		if two {
			touched[o.To] = true
		}
		if o.Kind == Angle {
			touched[o.Back] = true
		}
		w.obs, w.from = append(w.obs, o), append(w.from, i)
	}
	w.free = make([]int, len(w.at))
	for p := range w.at {
		if !touched[p] && !w.net.Points[p].Fixed {
			w.lost[p] = true
		}
		if touched[p] && !w.net.Points[p].Fixed {
			w.free[p] = 2
		}
	}
}

// iterate makes Gauss-Newton steps. It returns the unknowns that nothing fixes.
func (w *work) iterate() (held []int, err error) {
	w.orientSets()
	first := w.envelope()
	size := w.extent()
	for step := range maxIterations {
		if w.net.stopped() {
			return nil, errStopped
		}
		w.linearise()
		w.assemble(first)
		if held = w.m.Factor(undetermined); held != nil {
			return held, nil
		}
		w.m.Solve(w.rhs)
		largest := 0.0
		for p, ws := range w.ways {
			for _, x := range ws {
				move := w.rhs[x.col]
				w.at[p].E += float64(move * x.by.E)
				w.at[p].N += float64(move * x.by.N)
				largest = max(largest, math.Abs(move))
			}
		}
		w.orientSets()
		if math.IsNaN(largest) || largest > 1e3*size || step >= 10 && largest > size/1000 {
			return nil, ErrNoSolution
		}
		if largest <= 1e-9*size {
			w.linearise()
			w.sumSets()
			return nil, nil
		}
	}
	return nil, ErrNoSolution
}

// extent is the largest difference of a coordinate between two points, at least 1.
func (w *work) extent() float64 {
	lo, hi := w.at[0], w.at[0]
	for _, p := range w.at {
		lo = traverse.Point{E: min(lo.E, p.E), N: min(lo.N, p.N)}
		hi = traverse.Point{E: max(hi.E, p.E), N: max(hi.N, p.N)}
	}
	return max(1, hi.E-lo.E, hi.N-lo.N)
}

// envelope returns the first column of each row of the normal equations.
func (w *work) envelope() []int {
	first := make([]int, w.n)
	for i := range first {
		first[i] = i
	}
	join := func(points []int) {
		least := w.n
		for _, p := range points {
			for _, x := range w.ways[p] {
				least = min(least, x.col)
			}
		}
		for _, p := range points {
			for _, x := range w.ways[p] {
				first[x.col] = min(first[x.col], least)
			}
		}
	}
	for p := range w.ways {
		join([]int{p})
	}
	members := make([][]int, len(w.orient))
	for _, o := range w.obs {
		switch o.Kind {
		case Direction:
			members[o.Set] = append(members[o.Set], o.From, o.To)
		case Distance, Bearing:
			join([]int{o.From, o.To})
		case Angle:
			join([]int{o.From, o.To, o.Back})
		}
	}
	for _, m := range members {
		join(m)
	}
	return first
}

// assemble builds the normal equations, the orientations eliminated: with u the
// reciprocal standard deviations of the directions of a set,
// N = Σ a aᵀ − Σ over sets (Σu·a)(Σu·a)ᵀ/Σu². [LSQ]
func (w *work) assemble(first []int) {
	w.m = normal.Envelope(first)
	w.rhs = make([]float64, w.n)
	for i := range w.rows {
		r := &w.rows[i]
		for j := range r.n {
			w.rhs[r.col[j]] += float64(r.val[j] * r.l)
			for k := 0; k <= j; k++ {
				w.m.Add(r.col[j], r.col[k], r.val[j]*r.val[k])
			}
		}
	}
	w.sumSets()
	for _, s := range w.sets {
		for j, a := range s.val {
			w.rhs[s.col[j]] -= float64(a * s.ul / s.uu)
			for k, b := range s.val[:j+1] {
				w.m.Add(s.col[j], s.col[k], -a*b/s.uu)
			}
		}
	}
}

// sumSets sums the rows of every set.
func (w *work) sumSets() {
	if w.sets == nil || len(w.sets) != len(w.orient) {
		w.sets = make([]setSum, len(w.orient))
	}
	place := make([]int, w.n)
	for s := range w.sets {
		x := &w.sets[s]
		*x = setSum{col: x.col[:0], val: x.val[:0]}
		for _, i := range w.inSets[s] {
			r := &w.rows[i]
			x.uu += float64(r.u * r.u)
			x.ul += float64(r.u * r.l)
			for k := range r.n {
				if place[r.col[k]] == 0 {
					x.col, x.val = append(x.col, r.col[k]), append(x.val, 0)
					place[r.col[k]] = len(x.col)
				}
				x.val[place[r.col[k]]-1] += float64(r.u * r.val[k])
			}
		}
		for _, c := range x.col {
			place[c] = 0
		}
	}
}
