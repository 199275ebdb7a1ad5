package traverse

import (
	"math"

	"example.org/readback/reduce"
)

// Settings hold the limits, the standard deviations of what has none of its own,
// and the steps a computation by hand rounds to. DefaultSettings fills them.
type Settings struct {
	AnglePerRoot reduce.Angle // k of the limit k·√n of the angular misclosure
	LeastRatio   float64      // the linear misclosure may be at most 1 in this
	AngleSD      float64      // standard deviation of an angle, seconds
	LengthSD     float64      // constant part of the standard deviation of a leg
	LengthPPM    float64      // part of it that grows with the leg, millionths

	// Working steps. Zero carries every figure unrounded. Else corrections of
	// angles are whole AngleSteps, what is left over going one step each to the
	// first angles; ΔE, ΔN and their corrections are whole LengthSteps, what is
	// left over going to the last leg. This is how the sheets of the handbooks
	// are worked, and their last digit comes out only so.
	AngleStep  reduce.Angle
	LengthStep float64
}

// Limit returns k·√n, the limit of the misclosure of n angles: 10″·√n and
// 30″·√n in [WAC], 2 × least count × √n in common practice.
func Limit(k reduce.Angle, n int) reduce.Angle {
	return reduce.FromSeconds(k.Seconds() * math.Sqrt(float64(n)))
}

// fill returns t with a standard deviation for every angle and leg.
func (s Settings) fill(t Traverse) Traverse {
	t.Angles = append([]StationAngle(nil), t.Angles...)
	t.Legs = append([]Leg(nil), t.Legs...)
	for i := range t.Angles {
		if t.Angles[i].SD == 0 {
			t.Angles[i].SD = s.AngleSD
		}
	}
	for i := range t.Legs {
		if t.Legs[i].SD == 0 {
			t.Legs[i].SD = math.Hypot(s.LengthSD, s.LengthPPM*1e-6*t.Legs[i].Length)
		}
	}
	return t
}
