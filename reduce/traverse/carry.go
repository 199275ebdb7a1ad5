package traverse

import (
	"math"

	"example.org/readback/reduce"
)

// A Control says what a traverse is checked by.
type Control uint8

// What can check a traverse.
const (
	Unchecked        Control = 0 // open: nothing checks it
	AnglesOnly       Control = 1 // its bearings close, its coordinates do not
	PositionOnly     Control = 2 // its coordinates close, its bearings do not
	AnglesAndLengths Control = 3 // both close
)

// String says in one sentence what checks the traverse.
func (c Control) String() string {
	switch c {
	case AnglesOnly:
		return "The angles are checked; nothing checks the lengths."
	case PositionOnly:
		return "The coordinates close; nothing checks the sum of the angles."
	case AnglesAndLengths:
		return "The angles and the coordinates close."
	}
	return "Open: nothing checks this traverse."
}

// A Side says what the clockwise angles of a ring are, or that it is a link.
type Side uint8

// The sides.
const (
	link     Side = 0 // between two known bearings
	Interior Side = 1 // sum (n − 2)·180°
	Exterior Side = 2 // sum (n + 2)·180°
	Crossing Side = 3 // the ring crosses itself: sum another multiple of 180°
)

// An AngleSum is the angular misclosure of a ring or a link.
type AngleSum struct {
	N          int          // angles in it
	Sum        reduce.Angle // ring: sum of the clockwise angles; link: the carried end bearing
	Should     reduce.Angle // what Sum should be
	Misclosure reduce.Angle // Sum − Should, in (−180°, 180°]
	Limit      reduce.Angle // k·√n
	Side       Side
}

// Within tells whether the misclosure is within its limit.
func (a AngleSum) Within() bool { return a.Misclosure.Abs() <= a.Limit }

// A Linear is the misclosure of the carried coordinates.
type Linear struct {
	Closing    Point   // carried end minus known end: (ΣΔE, ΣΔN) of a ring
	Misclosure float64 // its length
	Length     float64 // sum of the legs
	Ratio      float64 // 1 in this many: Length / Misclosure; 0 where the misclosure is nil
	LeastRatio float64 // the limit
}

// Within tells whether the linear misclosure is within its limit.
func (l Linear) Within() bool { return l.Ratio == 0 || l.Ratio >= l.LeastRatio }

// Row is one leg of a carried traverse.
type Row struct {
	Bearing    reduce.Direction // after the angular misclosure was spread
	Length     float64
	Delta      Point // ΔE, ΔN as carried
	Correction Point // compass rule
	Adjusted   Point // Delta + Correction
}

// Carried is a traverse worked by carrying bearings and coordinates, its
// angular misclosure spread evenly and its linear misclosure by the compass
// rule.
type Carried struct {
	Control     Control
	Assumed     bool               // the first bearing was not known: 0 was taken
	Angular     *AngleSum          // nil where the bearings do not close
	Corrections []reduce.Angle     // one per angle; 0 for a missing one
	Bearings    []reduce.Direction // one per leg, after correction
	Rows        []Row              // one per leg; nil where a length is missing
	Linear      *Linear            // nil where the coordinates do not close
	Points      []Point            // adjusted, one per station; nil where a length is missing
}

// carry works the traverse from its start: sum of the angles, bearings,
// coordinates and the compass rule. Misclosures beyond their limits are spread
// all the same; who asks must look at Within. The error is an *inputError.
func carry(t Traverse, s Settings) (*Carried, error) {
	if err := t.check(); err != nil {
		return nil, err
	}
	c := &Carried{Assumed: !t.Start.HasBearing}
	raw := t.bearings(nil)
	c.Corrections = make([]reduce.Angle, len(t.Angles))
	if t.closesAngles() {
		c.Control |= AnglesOnly
		c.Angular = t.angleSum(raw, s)
		c.Corrections = t.spread(c.Angular.Misclosure, s.AngleStep)
	}
	c.Bearings = t.bearings(c.Corrections)[:len(t.Legs)]
	if t.measured() {
		t.lengths(c, s)
	}
	return c, nil
}

// bearings carries the bearing of each leg and, last, the closing one: of the
// first leg again for a ring, of the mark at the end for a walk that is none.
// Corrections may be nil.
func (t Traverse) bearings(corr []reduce.Angle) []reduce.Direction {
	at := func(i int) reduce.Angle {
		a := t.Angles[i].Value
		if corr != nil {
			a += corr[i]
		}
		return a
	}
	b := make([]reduce.Direction, 0, len(t.Legs)+1)
	first := t.Start.Bearing
	if !t.Ring && t.Start.HasBearing && t.Angles[0].Observed {
		first = first.Add(at(0))
	}
	b = append(b, first)
	for i := 1; i <= len(t.Legs); i++ {
		b = append(b, b[i-1].Opposite().Add(at(i%len(t.Angles))))
	}
	return b
}

// angleSum compares the closing bearing of raw with what it should be.
func (t Traverse) angleSum(raw []reduce.Direction, s Settings) *AngleSum {
	n, last := t.observed(), raw[len(raw)-1]
	a := &AngleSum{N: n, Limit: Limit(s.AnglePerRoot, n)}
	if !t.Ring {
		a.Sum, a.Should = last.Angle(), t.End.Bearing.Angle()
		a.Misclosure = last.Sub(t.End.Bearing)
		return a
	}
	for _, g := range t.Angles {
		a.Sum += g.Value.Normalize()
	}
	a.Misclosure = last.Sub(raw[0])
	a.Should = a.Sum - a.Misclosure
	switch a.Should {
	case reduce.Angle(n-2) * reduce.HalfTurn:
		a.Side = Interior
	case reduce.Angle(n+2) * reduce.HalfTurn:
		a.Side = Exterior
	default:
		a.Side = Crossing
	}
	return a
}

// spread shares the misclosure out over the observed angles, evenly, with the
// sign turned, so that the i-th of n bearings carries i/n of it [MAHUN]. The
// shares sum to the misclosure exactly.
func (t Traverse) spread(misclosure, step reduce.Angle) []reduce.Angle {
	out := make([]reduce.Angle, len(t.Angles))
	n, seen, given := int64(t.observed()), int64(0), reduce.Angle(0)
	for i, a := range t.Angles {
		if !a.Observed {
			continue
		}
		seen++
		if step > 0 {
			out[i] = (-misclosure / step / reduce.Angle(n)) * step
		} else {
			out[i] = (-misclosure * reduce.Angle(seen)).Div(n) - given
		}
		given += out[i]
	}
	t.leftOver(out, -misclosure-given, step)
	return out
}

// leftOver gives what rounding to step left to the first angles, one step each,
// and what is less than a step to the next.
func (t Traverse) leftOver(out []reduce.Angle, left, step reduce.Angle) {
	for i := range out {
		if left == 0 || !t.Angles[i].Observed {
			continue
		}
		give := left
		if left > step {
			give = step
		} else if left < -step {
			give = -step
		}
		out[i] += give
		left -= give
	}
}

// lengths fills what needs the lengths of the legs.
func (t Traverse) lengths(c *Carried, s Settings) {
	deltas, legs := make([]Point, len(t.Legs)), make([]float64, len(t.Legs))
	for i, l := range t.Legs {
		legs[i], deltas[i] = l.Length, polar(c.Bearings[i], l.Length)
		if s.LengthStep > 0 {
			deltas[i] = roundPoint(deltas[i], s.LengthStep)
		}
	}
	corr := make([]Point, len(t.Legs))
	if t.closesPosition() {
		c.Control |= PositionOnly
		c.Linear = closing(deltas, legs, t.goal().Sub(t.origin()), s.LeastRatio)
		corr = compassRule(c.Linear.Closing, legs, s.LengthStep)
	}
	p := t.origin()
	c.Points = append(c.Points, p)
	for i, d := range deltas {
		adj := d.Add(corr[i])
		c.Rows = append(c.Rows, Row{c.Bearings[i], legs[i], d, corr[i], adj})
		p = p.Add(adj)
		c.Points = append(c.Points, p)
	}
	c.Points = c.Points[:len(t.Stations)]
}

func roundPoint(p Point, step float64) Point {
	return Point{roundTo(p.E, step), roundTo(p.N, step)}
}

// roundTo rounds half away from zero.
func roundTo(x, step float64) float64 { return math.Round(x/step) * step }
