package align

import (
	"math"

	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/precision"
)

// A Reading is one horizontal circle reading that stands.
type Reading struct {
	Round   int // number of the round, 1, 2, …
	Target  int // place in Station.Names; 0 is the reference object
	Face    faces.Face
	Closing bool // the RO observed again to close the half
	Value   reduce.Direction
	Keyed   string // as keyed, where known
	Doubted bool   // it was booked although it did not fit the others, or is the one that such a reading did not fit
	Again   bool   // it was read again and found the same
}

// A Station is all horizontal readings of a setup in the order observed.
type Station struct {
	Readings   []Reading
	Names      []string // the RO first, then the targets clockwise
	Unit       reduce.Unit
	LeastCount reduce.Angle
	Circle     faces.Circle     // of the vertical circle: what it reads may have been booked
	Sigma      float64          // seconds: standard deviation of one reading on one face, without the rounding to the least count; 0: not stated
	Before     precision.Spread // seconds: what earlier setups of the instrument show of one reading on one face, rounding included, where Sigma is not stated
	Altitudes  []reduce.Angle   // of each target, where HasAltitude
	HasAlt     []bool
}

// Level returns what a level line reads on a vertical circle.
func Level(c faces.Circle, right bool) reduce.Angle {
	switch {
	case c == faces.Horizon && !right:
		return 0
	case c == faces.Horizon:
		return reduce.HalfTurn
	case right:
		return 3 * reduce.QuarterTurn
	}
	return reduce.QuarterTurn
}

// Sloping is how far from level a vertical circle is taken to read that was read
// for the horizontal one (assumed).
const Sloping = 10 * reduce.Degree

// Noise returns the standard deviation of a reading in seconds, with the
// rounding to the step the readings are given in.
func (s Station) Noise() float64 {
	v := s.Sigma
	if v <= 0 {
		v = reduce.AssumedNoise(s.LeastCount)
	}
	step := s.Step().Seconds()
	return math.Sqrt(float64(v*v) + step*step/12)
}

// Step returns what all readings are multiples of, at most twice the least count:
// a file may give finer or coarser readings than the least count stated.
func (s Station) Step() reduce.Angle {
	var g reduce.Angle
	for _, r := range s.Readings {
		for v := r.Value.Angle(); v != 0; {
			g, v = v, g%v
		}
	}
	if g == 0 || g > 2*s.LeastCount {
		return s.LeastCount
	}
	return g
}

// Name returns the name of a target.
func (s Station) Name(target int) string {
	if target < len(s.Names) {
		return s.Names[target]
	}
	return ""
}
