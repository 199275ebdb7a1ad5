package reduce

import (
	"math"

	"example.org/readback/reduce/decimal"
)

// An Angle is a whole number of micro-arcseconds: a difference of directions, a
// correction, an altitude or a zenith angle. Clockwise is positive. A point on
// the circle is a Direction. Range: 7,116,799 turns
// either way.
//
// Exact in this unit: degrees, minutes, seconds with up to six decimals, gon
// with up to seven decimals (10⁻⁷ gon = 324), decimal degrees with up to eight
// (10⁻⁸° = 36), and the 6400-mil circle (202,500,000 a mil). Half of any
// reading to 0.1″ or to 0.1 mgon is exact. Up to 6,949 turns the value is exact
// as a float64, so trigonometry loses nothing at the border.
type Angle int64

// Units of an Angle. Multiply: 5 * Arcsecond.
const (
	microarcsecond Angle = 1
	Arcsecond            = 1_000_000 * microarcsecond
	Arcminute            = 60 * Arcsecond
	Degree               = 60 * Arcminute
	Turn                 = 360 * Degree
	HalfTurn             = Turn / 2
	QuarterTurn          = Turn / 4
	Gon                  = Turn / 400
	Milligon             = Gon / 1000
	Mil                  = Turn / 6400 // 202.5″
)

// Wrap returns a turned by whole circles into (−180°, 180°].
func (a Angle) Wrap() Angle {
	a = a.Normalize()
	if a > HalfTurn {
		a -= Turn
	}
	return a
}

// Normalize returns a turned by whole circles into [0°, 360°).
func (a Angle) Normalize() Angle {
	a %= Turn
	if a < 0 {
		a += Turn
	}
	return a
}

// Abs returns a without its sign.
func (a Angle) Abs() Angle {
	if a < 0 {
		return -a
	}
	return a
}

// Div returns a/n, rounded half away from zero. n must not be 0.
func (a Angle) Div(n int64) Angle { return Angle(decimal.Div(int64(a), n)) }

// Half returns a/2, rounded half away from zero.
func (a Angle) Half() Angle { return a.Div(2) }

// Round returns a rounded to a multiple of step, half away from zero. A step of
// zero or less returns a unchanged.
func (a Angle) Round(step Angle) Angle {
	if step <= 0 {
		return a
	}
	return a.Div(int64(step)) * step
}

// Seconds, Degrees and Radians return a as a float64 in that unit.
func (a Angle) Seconds() float64 { return float64(a) / float64(Arcsecond) }

// Degrees returns a in decimal degrees.
func (a Angle) Degrees() float64 { return float64(a) / float64(Degree) }

// Radians returns a in radians.
func (a Angle) Radians() float64 { return float64(a) / float64(HalfTurn) * math.Pi }

// FromSeconds returns the Angle nearest to s arc-seconds.
func FromSeconds(s float64) Angle { return Angle(decimal.Round(s * float64(Arcsecond))) }

// FromDegrees returns the Angle nearest to d decimal degrees.
func FromDegrees(d float64) Angle { return Angle(decimal.Round(d * float64(Degree))) }

// FromRadians returns the Angle nearest to r radians.
func FromRadians(r float64) Angle { return Angle(decimal.Round(r / math.Pi * float64(HalfTurn))) }
