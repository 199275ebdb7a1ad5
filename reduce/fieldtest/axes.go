package fieldtest

import (
	"math"

	"example.org/readback/reduce"
	"example.org/readback/reduce/precision"
)

// A Pair is what one pointing on both faces says about the axes.
type Pair struct {
	C        reduce.Angle // half collimation difference of the horizontal readings (Collimation)
	Altitude reduce.Angle
}

// Axes are the errors of the instrument's axes found from the pairs of a setup:
// c(h) = C0/cos h + Tilt·tan h. [TRADE]
type Axes struct {
	C0, Tilt     float64          // seconds: collimation on a level line; tilt of the trunnion axis
	SDC0, SDTilt float64          // seconds; 0 without degrees of freedom
	Separated    bool             // C0 and Tilt were both found; else Tilt is taken as 0 and C0 takes it all up
	S            precision.Spread // scatter of one c, seconds
	Used         int              // pairs used: those nearer than 1° to the zenith or nadir are left out
}

// The axes are told apart when the determinant of the normal equations is at
// least this part of the product of their diagonal: altitudes of −5° and +15°
// give 0.78, of 0° and 10° give 0.49, of 30° and 40° give 0.015.
const separable = 0.1

// leastAltitudeSpan is the least difference of altitudes from which the tilt is
// worked: over less it is the scatter of the pointings, magnified.
const leastAltitudeSpan = 10 * reduce.Degree

// FindAxes fits C0 and Tilt to the pairs by least squares. Where the altitudes
// lie within 10° of each other, or cannot separate the two, it fits C0 alone and
// says so in Separated. Without a pair everything is 0.
func FindAxes(pairs []Pair) Axes {
	var aa, ab, bb, ay, by float64
	var lo, hi reduce.Angle
	x := Axes{}
	for _, p := range pairs {
		if p.Altitude.Abs() > reduce.QuarterTurn-reduce.Degree {
			continue
		}
		if x.Used == 0 {
			lo, hi = p.Altitude, p.Altitude
		}
		lo, hi = min(lo, p.Altitude), max(hi, p.Altitude)
		a, b := 1/math.Cos(p.Altitude.Radians()), math.Tan(p.Altitude.Radians())
		y := p.C.Seconds()
		aa, ab, bb, ay, by = aa+float64(a*a), ab+float64(a*b), bb+float64(b*b), ay+float64(a*y), by+float64(b*y)
		x.Used++
	}
	if x.Used == 0 {
		return x
	}
	det := float64(aa*bb) - float64(ab*ab)
	x.Separated = hi-lo >= leastAltitudeSpan && det >= separable*aa*bb
	unknowns := 1
	qa, qb := 1/aa, 0.0
	x.C0 = ay / aa
	if x.Separated {
		unknowns, qa, qb = 2, bb/det, aa/det
		x.C0, x.Tilt = (float64(bb*ay)-float64(ab*by))/det, (float64(aa*by)-float64(ab*ay))/det
	}
	x.S = axesSpread(pairs, x, x.Used-unknowns)
	x.SDC0, x.SDTilt = x.S.S*math.Sqrt(qa), x.S.S*math.Sqrt(qb)
	return x
}

// at returns the collimation in seconds that the axes give at an altitude.
func (x Axes) at(altitude reduce.Angle) float64 {
	h := altitude.Radians()
	return x.C0/math.Cos(h) + float64(x.Tilt*math.Tan(h))
}

func axesSpread(pairs []Pair, x Axes, dof int) precision.Spread {
	if dof < 1 {
		return precision.Spread{}
	}
	vv := 0.0
	for _, p := range pairs {
		if p.Altitude.Abs() <= reduce.QuarterTurn-reduce.Degree {
			v := x.at(p.Altitude) - p.C.Seconds()
			vv += float64(v * v)
		}
	}
	return precision.Spread{S: math.Sqrt(vv / float64(dof)), Dof: dof}
}
