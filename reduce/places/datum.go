package places

import (
	"math"

	"example.org/readback/reduce/traverse"
)

// A datum says what fixes the network in the plane, and what is held to make up
// for what does not.
type datum struct {
	anchors        int  // points whose place is known
	turned, scaled bool // whether something gives the bearing, and the scale
	origin, second int  // held: origin in place, second across or along; −1: not held
	secondBy       traverse.Point
	secondHeld     bool // both ways of second are held
	centre         traverse.Point
	missing        [4]bool // of the shifts E and N, the turn and the scale
}

// findDatum sets aside what does not hang together with the known points (with no
// known point: with the largest part), and finds what is known of the datum.
func (w *work) findDatum() datum {
	anchor := w.anchors()
	part := w.parts()
	size, anchored := map[int]int{}, map[int]bool{}
	for p, k := range part {
		if k >= 0 {
			size[k]++
			anchored[k] = anchored[k] || anchor[p]
		}
	}
	main, any := -1, false
	for p, k := range part { // in order of the points, so that the choice is one
		_ = p
		if k >= 0 && (main < 0 || size[k] > size[main]) {
			main = k
		}
		any = any || k >= 0 && anchored[k]
	}
	for p, k := range part {
		if k >= 0 && (any && !anchored[k] || !any && k != main) {
			w.lost[p] = true
		}
	}
	d := datum{origin: -1, second: -1}
	for p := range w.at {
		if anchor[p] && !w.lost[p] {
			d.anchors++
			d.centre = w.at[p]
		}
	}
	for _, o := range w.obs {
		d.turned = d.turned || o.Kind == Bearing
		d.scaled = d.scaled || o.Kind == Distance
	}
	if d.anchors >= 2 {
		d.turned, d.scaled = true, true
	}
	w.hold(&d, anchor)
	return d
}

// hold chooses what is held for what nothing gives.
func (w *work) hold(d *datum, anchor []bool) {
	d.missing = [4]bool{d.anchors == 0, d.anchors == 0, !d.turned, !d.scaled}
	if d.missing == [4]bool{} {
		return
	}
	for p := range w.at {
		if !w.lost[p] && (d.anchors == 0 || anchor[p]) && d.origin < 0 {
			d.origin = p
		}
	}
	if d.origin < 0 || d.turned && d.scaled {
		return
	}
	far := 0.0
	for p := range w.at {
		if w.lost[p] || p == d.origin || anchor[p] {
			continue
		}
		if x := traverse.Distance(w.at[d.origin], w.at[p]); x > far {
			far, d.second = x, p
		}
	}
	if d.second < 0 {
		return
	}
	by := w.at[d.second].Sub(w.at[d.origin])
	by = traverse.Point{E: by.E / far, N: by.N / far}
	switch {
	case !d.turned && !d.scaled:
		d.secondHeld = true
	case !d.turned:
		d.secondBy = by // it moves along the line only
	default:
		d.secondBy = traverse.Point{E: by.N, N: -by.E} // across only
	}
}

// ways returns the unit vectors a point moves along.
func (d datum) ways(w *work, p int) []traverse.Point {
	switch {
	case w.net.Points[p].Fixed || w.lost[p] || p == d.origin && d.anchors == 0 || p == d.second && d.secondHeld:
		return nil
	case p == d.second:
		return []traverse.Point{d.secondBy}
	}
	return []traverse.Point{{E: 1}, {N: 1}}
}

// anchors tells of every point whether both its coordinates are known.
func (w *work) anchors() []bool {
	known := make([]int, len(w.at))
	for _, o := range w.obs {
		switch o.Kind {
		case East:
			known[o.From] |= 1
		case North:
			known[o.From] |= 2
		}
	}
	out := make([]bool, len(w.at))
	for p := range out {
		out[p] = w.net.Points[p].Fixed || known[p] == 3
	}
	return out
}

// parts numbers what hangs together: −1 for a lost point. Known points hang
// together with what is observed at them only.
func (w *work) parts() []int {
	root := make([]int, len(w.at))
	for p := range root {
		root[p] = p
	}
	find := func(p int) int {
		for root[p] != p {
			root[p] = root[root[p]]
			p = root[p]
		}
		return p
	}
	for _, o := range w.obs {
		switch o.Kind {
		case East, North:
			continue
		case Angle:
			root[find(o.Back)] = find(o.From)
		}
		root[find(o.To)] = find(o.From)
	}
	out := make([]int, len(w.at))
	for p := range out {
		out[p] = find(p)
		if w.lost[p] {
			out[p] = -1
		}
	}
	return out
}

// columns returns how the datum moves a point: the columns of what is missing, for
// a step of each way of the datum.
func (d datum) columns(p, centre traverse.Point) [][2]float64 {
	q := p.Sub(centre)
	all := [4][2]float64{{1, 0}, {0, 1}, {q.N, -q.E}, {q.E, q.N}}
	var out [][2]float64
	for i, missing := range d.missing {
		if missing {
			out = append(out, all[i])
		}
	}
	return out
}

// free tells whether anything of the datum is missing.
func (d datum) free() bool { return d.missing != [4]bool{} }

// settleDatum moves the whole network so that the places lie as near as they can to
// those it started from: the inner constraints. Only what is missing is moved.
func (w *work) settleDatum() {
	if !w.datum.free() {
		return
	}
	var from, to []traverse.Point
	for p := range w.at {
		if !w.lost[p] {
			from, to = append(from, w.at[p]), append(to, w.net.Points[p].At)
		}
	}
	if len(from) < 2 {
		return
	}
	if w.datum.anchors > 0 {
		a, b := 0.0, 0.0
		for i := range from {
			p, q := from[i].Sub(w.datum.centre), to[i].Sub(w.datum.centre)
			a += float64(p.E*q.E) + float64(p.N*q.N)
			b += float64(p.N*q.E) - float64(p.E*q.N)
		}
		w.turnAll(w.datum.centre, w.datum.centre, math.Atan2(b, a))
		return
	}
	h, err := FitHelmert(from, to, w.datum.scaled)
	if err != nil {
		return
	}
	for p := range w.at {
		if !w.lost[p] {
			w.at[p] = h.Apply(w.at[p])
		}
	}
}

// turnAll turns every place clockwise about a centre.
func (w *work) turnAll(centre, to traverse.Point, by float64) {
	sin, cos := math.Sincos(by)
	for p := range w.at {
		if w.lost[p] || w.net.Points[p].Fixed {
			continue
		}
		q := w.at[p].Sub(centre)
		w.at[p] = to.Add(traverse.Point{E: float64(q.E*cos) + float64(q.N*sin), N: float64(q.N*cos) - float64(q.E*sin)})
	}
}
