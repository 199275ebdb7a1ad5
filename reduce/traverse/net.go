package traverse

import (
	"math"

	"example.org/readback/reduce"
	"example.org/readback/reduce/normal"
)

// A net is the state of the iteration.
type net struct {
	t      Traverse
	points []Point
	ways   [][]way // per station: the directions it may move in
	n      int     // unknowns
	size   float64 // longest leg
	matrix *normal.Matrix
	right  []float64
}

// A way is one unknown: a step of a point along a unit vector.
type way struct {
	col int
	dir Point
}

func newNet(t Traverse, start *Carried) *net {
	n := &net{t: t, points: append([]Point(nil), start.Points...), ways: make([][]way, len(t.Stations))}
	last := len(t.Stations) - 1
	for i := range t.Stations {
		switch {
		case i == 0: // fixed, or given 0, 0
		case i == last && !t.Ring && t.closesPosition():
			n.points[i] = t.End.Point
		case i == 1 && n.firstFixed():
			ray := polar(start.Bearings[0], 1)
			n.points[1] = n.points[0].Add(ray.scale(t.Legs[0].Length))
			n.move(1, ray)
		default:
			n.move(i, Point{E: 1})
			n.move(i, Point{N: 1})
		}
	}
	for _, l := range t.Legs {
		n.size = max(n.size, l.Length)
	}
	return n
}

// firstFixed tells whether the bearing of the first leg is given, not carried
// through an observed angle.
func (n *net) firstFixed() bool {
	return n.t.Ring || !n.t.Angles[0].Observed || !n.t.Start.HasBearing
}

func (n *net) move(i int, dir Point) {
	n.ways[i] = append(n.ways[i], way{n.n, dir})
	n.n++
}

// A term is the derivative of an observation by the place of one station.
type term struct {
	station int
	by      Point
}

// improve solves the linearised equations once and moves the points. It returns
// the largest step.
func (n *net) improve() (float64, error) {
	n.matrix, n.right = normal.New(n.n), make([]float64, n.n)
	n.each(n.add)
	if held := n.matrix.Factor(undetermined); held != nil {
		return 0, errUndetermined
	}
	n.matrix.Solve(n.right)
	var largest float64
	for i, ws := range n.ways {
		for _, w := range ws {
			n.points[i] = n.points[i].Add(w.dir.scale(n.right[w.col]))
			largest = max(largest, math.Abs(n.right[w.col]))
		}
	}
	if math.IsNaN(largest) {
		return 0, errUndetermined
	}
	return largest, nil
}

// each calls f for every observation: first the angles in order, then the legs.
// v is computed − observed in radians and in the unit of length.
func (n *net) each(f func(v, sd float64, terms []term)) {
	k := len(n.t.Stations)
	for i, a := range n.t.Angles {
		if a.Observed && !n.loose(i) {
			v, terms := n.angle(i, a.Value)
			f(v, reduce.FromSeconds(1).Radians()*a.SD, terms)
		}
	}
	for i, l := range n.t.Legs {
		d := n.points[(i+1)%k].Sub(n.points[i])
		u := d.scale(1 / d.Length())
		f(d.Length()-l.Length, l.SD, []term{{i, u.scale(-1)}, {(i + 1) % k, u}})
	}
}

// loose tells whether the angle at station i leads to a mark that nothing fixes.
func (n *net) loose(i int) bool {
	if n.t.Ring {
		return false
	}
	return i == 0 && !n.t.Start.HasBearing || i == len(n.t.Stations)-1 && !n.t.closesAngles()
}

// angle returns computed − observed of the angle at station i, and its
// derivatives. At the ends of a link one arm is a fixed bearing.
func (n *net) angle(i int, observed reduce.Angle) (float64, []term) {
	k := len(n.t.Stations)
	var terms []term
	arm := func(to int, fixed reduce.Direction, ends bool, sign float64) float64 {
		if ends {
			return fixed.Radians()
		}
		d := n.points[to].Sub(n.points[i])
		by := d.lever().scale(sign / d.dot(d))
		terms = append(terms, term{to, by}, term{i, by.scale(-1)})
		return math.Atan2(d.E, d.N)
	}
	fore := arm((i+1)%k, n.t.End.Bearing, !n.t.Ring && i == k-1, +1)
	back := arm((i+k-1)%k, n.t.Start.Bearing, !n.t.Ring && i == 0, -1)
	v := math.Remainder(fore-back-observed.Radians(), 2*math.Pi)
	return v, terms
}

// add puts one weighted observation equation into the normal equations.
func (n *net) add(v, sd float64, terms []term) {
	row := n.row(terms)
	for _, p := range row {
		n.right[p.col] -= float64(p.val * v / (sd * sd))
		for _, q := range row {
			if p.col >= q.col {
				n.matrix.Add(p.col, q.col, p.val*q.val/(sd*sd))
			}
		}
	}
}

type entry struct {
	col int
	val float64
}

// row turns derivatives by places into derivatives by unknowns, one entry each.
func (n *net) row(terms []term) []entry {
	var row []entry
	for _, t := range terms {
		for _, w := range n.ways[t.station] {
			val, found := t.by.dot(w.dir), false
			for i := range row {
				if row[i].col == w.col {
					row[i].val += val
					found = true
				}
			}
			if !found {
				row = append(row, entry{w.col, val})
			}
		}
	}
	return row
}

// result gathers residuals and covariances after the last step.
func (n *net) result(iterations int) (*Adjusted, error) {
	a := &Adjusted{Points: n.points, Iterations: iterations,
		AngleResiduals: make([]float64, len(n.t.Angles)), LegResiduals: make([]float64, len(n.t.Legs))}
	var sum float64
	count := 0
	n.each(func(v, sd float64, _ []term) {
		sum += float64(v * v / (sd * sd))
		count++
	})
	a.Dof = count - n.n
	if a.Dof > 0 {
		a.S0 = math.Sqrt(sum / float64(a.Dof))
	}
	n.residuals(a)
	q := n.matrix.Inverse()
	for _, ws := range n.ways {
		var c Covariance
		for _, v := range ws {
			for _, w := range ws {
				c.EE += float64(v.dir.E * w.dir.E * q.At(v.col, w.col))
				c.EN += float64(v.dir.E * w.dir.N * q.At(v.col, w.col))
				c.NN += float64(v.dir.N * w.dir.N * q.At(v.col, w.col))
			}
		}
		a.Covariances = append(a.Covariances, c)
		a.Ellipses = append(a.Ellipses, c.Ellipse())
	}
	return a, nil
}

// residuals fills the residuals of angles and legs.
func (n *net) residuals(a *Adjusted) {
	for i, g := range n.t.Angles {
		if g.Observed && !n.loose(i) {
			v, _ := n.angle(i, g.Value)
			a.AngleResiduals[i] = reduce.FromRadians(v).Seconds()
		}
	}
	k := len(n.t.Stations)
	for i, l := range n.t.Legs {
		a.LegResiduals[i] = Distance(n.points[i], n.points[(i+1)%k]) - l.Length
	}
}
