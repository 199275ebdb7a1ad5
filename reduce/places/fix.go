package places

import (
	"errors"
	"math"

	"example.org/readback/reduce/traverse"
)

// ErrNoFix is returned where what was observed meets in no point, or in no single
// one: rays that run alike, a point on the circle through the marks, angles read the
// other way round.
var ErrNoFix = errors.New("no single point follows from these: the rays run alike, the point lies on the circle through the marks, or an angle was counted the other way round")

// Intersect returns where two rays meet, each a point and a bearing in radians
// clockwise from north. Rays that meet behind a point, or under less than about 1′,
// give ErrNoFix.
func Intersect(a traverse.Point, bearingA float64, b traverse.Point, bearingB float64) (traverse.Point, error) {
	sa, ca := math.Sincos(bearingA)
	sb, cb := math.Sincos(bearingB)
	cross := float64(sb*ca) - float64(cb*sa) // sine of the angle between them, clockwise
	if math.Abs(cross) < 3e-4 {
		return traverse.Point{}, ErrNoFix
	}
	d := b.Sub(a)
	ta := (float64(sb*d.N) - float64(cb*d.E)) / cross
	tb := (float64(sa*d.N) - float64(ca*d.E)) / cross
	if !(ta > 0) || !(tb > 0) {
		return traverse.Point{}, ErrNoFix
	}
	return traverse.Point{E: a.E + float64(ta*sa), N: a.N + float64(ta*ca)}, nil
}

// A Fix is the place of an instrument found from three known marks.
type Fix struct {
	At          traverse.Point
	Orientation float64 // bearing of the circle's zero where directions were given, radians
	// Danger is |distance from the centre of the circle through the marks / its radius − 1|:
	// 0 on the danger circle, where no place follows.
	Danger float64
}

// NearDanger is the Danger from which on a fix by three marks is warned of: at 0.1 of
// the radius the place is some thirty times worse than the directions (computed, P6
// of the tests).
const NearDanger = 0.1

// Resect finds the place of an instrument from the directions to three known marks,
// counted clockwise, radians, orientation unknown. Both circles on which the marks
// are seen under their angles pass through the second mark; the place is where they
// meet again. The place is held against the directions: angles that belong to it
// only as their supplements give ErrNoFix, for the tangent knows angles modulo 180°
// only. (Closed form derived here; common practice as Cassini's and Collins' method.)
func Resect(marks [3]traverse.Point, directions [3]float64) (Fix, error) {
	alpha, beta := directions[1]-directions[0], directions[2]-directions[1]
	if math.Abs(math.Sin(alpha)) < 1e-6 || math.Abs(math.Sin(beta)) < 1e-6 {
		return Fix{}, ErrNoFix
	}
	a, c := marks[0].Sub(marks[1]), marks[2].Sub(marks[1])
	cotA, cotB := 1/math.Tan(alpha), 1/math.Tan(beta)
	// With the second mark as origin each circle is |P|² + u·P = 0.
	u := traverse.Point{E: float64(cotA*a.N) - a.E, N: -a.N - float64(cotA*a.E)}
	v := traverse.Point{E: -c.E - float64(cotB*c.N), N: float64(cotB*c.E) - c.N}
	w := u.Sub(v)
	square := float64(w.E*w.E) + float64(w.N*w.N)
	size := max(a.Length(), c.Length())
	if !(square > 1e-12*size*size) {
		return Fix{}, ErrNoFix
	}
	s := -(float64(u.E*w.N) - float64(u.N*w.E)) / square
	f := Fix{At: marks[1].Add(traverse.Point{E: s * w.N, N: -s * w.E}), Danger: danger(marks, marks[1].Add(traverse.Point{E: s * w.N, N: -s * w.E}))}
	if f.Danger < 1e-5 {
		return Fix{}, ErrNoFix
	}
	for i, m := range marks {
		d := m.Sub(f.At)
		if d.Length() < 1e-6*size {
			return Fix{}, ErrNoFix
		}
		o := math.Atan2(d.E, d.N) - directions[i]
		if i == 0 {
			f.Orientation = math.Remainder(o, 2*math.Pi)
		} else if math.Abs(math.Remainder(o-f.Orientation, 2*math.Pi)) > 1e-3 {
			return Fix{}, ErrNoFix
		}
	}
	return f, nil
}

// danger returns |r/R − 1| with R the radius of the circle through the marks and r the
// distance of p from its centre; +Inf for marks on a line.
func danger(m [3]traverse.Point, p traverse.Point) float64 {
	b, c := m[1].Sub(m[0]), m[2].Sub(m[0])
	d := 2 * (float64(b.E*c.N) - float64(b.N*c.E))
	if math.Abs(d) < 1e-9*b.Length()*c.Length() {
		return math.Inf(1)
	}
	bb, cc := float64(b.E*b.E)+float64(b.N*b.N), float64(c.E*c.E)+float64(c.N*c.N)
	centre := traverse.Point{E: (float64(c.N*bb) - float64(b.N*cc)) / d, N: (float64(b.E*cc) - float64(c.E*bb)) / d}
	return math.Abs(p.Sub(m[0]).Sub(centre).Length()/centre.Length() - 1)
}

// ToCentre returns by how much a direction observed beside the centre must be turned
// clockwise to be that from the centre: e·sin θ/D exactly (arcsine), with θ counted
// clockwise from the centre to the target at the eccentric place, e the distance
// from it to the centre and D that from the centre to the target; radians. The same
// serves a target sighted beside its centre, seen from the other end. [P18 of the
// tests]
func ToCentre(e, theta, distance float64) float64 {
	x := e * math.Sin(theta) / distance
	return math.Asin(max(-1, min(1, x)))
}
