package places

import (
	"math"

	"example.org/readback/reduce/traverse"
)

// A row is one observation equation divided by the standard deviation: what it
// changes by for a step of each unknown, and what is observed less computed.
type row struct {
	set int // −1: none
	n   int
	col [6]int
	val [6]float64
	u   float64 // 1/σ: minus the coefficient of the orientation
	l   float64
}

func (r *row) put(col int, val float64) {
	for i := range r.n {
		if r.col[i] == col {
			r.val[i] += val
			return
		}
	}
	r.col[r.n], r.val[r.n] = col, val
	r.n++
}

// move enters a derivative by the place of a point.
func (w *work) move(r *row, point int, by traverse.Point) {
	for _, x := range w.ways[point] {
		r.put(x.col, float64(by.E*x.by.E)+float64(by.N*x.by.N))
	}
}

// turn returns the bearing from one point to another and its derivative by the
// second; by the first it is the opposite. [LSQ] from atan2(ΔE, ΔN).
func (w *work) turn(from, to int) (bearing float64, by traverse.Point) {
	d := w.at[to].Sub(w.at[from])
	square := float64(d.E*d.E) + float64(d.N*d.N)
	return math.Atan2(d.E, d.N), traverse.Point{E: d.N / square, N: -d.E / square}
}

// computed returns what an observation should be at the present places, without
// its orientation, and calls move for every derivative by a point.
func (w *work) computed(o Observation, move func(point int, by traverse.Point)) float64 {
	switch o.Kind {
	case Distance:
		d := w.at[o.To].Sub(w.at[o.From])
		length := d.Length()
		by := traverse.Point{E: d.E / length, N: d.N / length}
		move(o.To, by)
		move(o.From, traverse.Point{E: -by.E, N: -by.N})
		return length
	case East:
		move(o.From, traverse.Point{E: 1})
		return w.at[o.From].E
	case North:
		move(o.From, traverse.Point{N: 1})
		return w.at[o.From].N
	}
	bearing, by := w.turn(o.From, o.To)
	move(o.To, by)
	move(o.From, traverse.Point{E: -by.E, N: -by.N})
	if o.Kind == Angle {
		back, by := w.turn(o.From, o.Back)
		move(o.Back, traverse.Point{E: -by.E, N: -by.N})
		move(o.From, by)
		bearing -= back
	}
	return bearing
}

// off returns observed − computed, an angle about the full circle.
func off(k Kind, x float64) float64 {
	if k.angular() {
		return math.Remainder(x, 2*math.Pi)
	}
	return x
}

// linearise fills the rows at the present places.
func (w *work) linearise() {
	for i, o := range w.obs {
		r := &w.rows[i]
		*r = row{set: -1, u: 1 / o.SD}
		x := w.computed(o, func(point int, by traverse.Point) { w.move(r, point, by) })
		if o.Kind == Direction {
			r.set = o.Set
			x -= w.orient[o.Set]
		}
		r.l = off(o.Kind, o.Value-x) * r.u
		for k := range r.n {
			r.val[k] *= r.u
		}
	}
}

// orientSets sets the orientation of every set to the weighted mean of bearing −
// direction at the present places.
func (w *work) orientSets() {
	first := make([]float64, len(w.orient))
	seen := make([]bool, len(w.orient))
	sum, weight := make([]float64, len(w.orient)), make([]float64, len(w.orient))
	for _, o := range w.obs {
		if o.Kind != Direction {
			continue
		}
		bearing, _ := w.turn(o.From, o.To)
		x := bearing - o.Value
		if !seen[o.Set] {
			seen[o.Set], first[o.Set] = true, x
		}
		p := 1 / (o.SD * o.SD)
		sum[o.Set] += float64(p * math.Remainder(x-first[o.Set], 2*math.Pi))
		weight[o.Set] += p
	}
	for s := range w.orient {
		if seen[s] {
			w.orient[s] = math.Remainder(first[s]+sum[s]/weight[s], 2*math.Pi)
		}
	}
}
