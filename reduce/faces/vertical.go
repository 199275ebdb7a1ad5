package faces

import (
	"fmt"

	"example.org/readback/reduce"
)

// A Circle says where the vertical circle of an instrument reads zero.
type Circle uint8

// The graduations in use. The numbers are stored: they never change meaning.
const (
	Zenith  Circle = 1 // 0° overhead; a level line reads 90° on face left, 270° on face right
	Horizon Circle = 2 // 0° on a level line face left, 180° on face right
)

// String returns "zenith" or "horizon".
func (c Circle) String() string {
	switch c {
	case Zenith:
		return "zenith"
	case Horizon:
		return "horizon"
	}
	return fmt.Sprintf("circle %d", uint8(c))
}

// ParseCircle reads the words String writes.
func ParseCircle(s string) (Circle, error) {
	switch s {
	case "zenith":
		return Zenith, nil
	case "horizon":
		return Horizon, nil
	}
	return 0, fmt.Errorf("vertical circle %q: expected zenith or horizon", s)
}

// AltitudeFL returns the altitude above the horizon that a face-left reading
// gives: 90° − V on a zenith circle, V on a horizon circle, in (−180°, 180°].
// [TRADE] [F6]
func AltitudeFL(v reduce.Angle, c Circle) reduce.Angle {
	if c == Horizon {
		return v.Wrap()
	}
	return (reduce.QuarterTurn - v).Wrap()
}

// AltitudeFR returns the altitude that a face-right reading gives: V − 270° on a
// zenith circle, 180° − V on a horizon circle, in (−180°, 180°]. [TRADE] [F6]
func AltitudeFR(v reduce.Angle, c Circle) reduce.Angle {
	if c == Horizon {
		return (reduce.HalfTurn - v).Wrap()
	}
	return (v - 3*reduce.QuarterTurn).Wrap()
}

// VerticalPair returns the altitude of a pair, the mean of both faces, and the
// index error e of the circle: every reading is e too large. Zenith circle:
// e = (FL + FR − 360°)/2, so that z = FL − e; horizon circle:
// e = wrap(FL + FR − 180°)/2. Both are rounded half away from zero to one
// micro-arcsecond. [TRADE] [F5] [F27]
func VerticalPair(fl, fr reduce.Angle, c Circle) (alt, index reduce.Angle) {
	alt = (AltitudeFL(fl, c) + AltitudeFR(fr, c)).Half()
	if c == Horizon {
		return alt, (fl + fr - reduce.HalfTurn).Wrap().Half()
	}
	return alt, (fl + fr).Wrap().Half()
}

// RecognizeCircle tells from a pair which graduation its readings belong to: the
// two faces add up to a full circle on a zenith circle and to half a circle on a
// horizon circle. ok is false where the sum is further than tolerance from both.
func RecognizeCircle(fl, fr, tolerance reduce.Angle) (c Circle, ok bool) {
	sum := (fl + fr).Wrap().Abs()
	switch {
	case sum <= tolerance:
		return Zenith, true
	case reduce.HalfTurn-sum <= tolerance:
		return Horizon, true
	}
	return 0, false
}

// OfVertical tells the face that a vertical circle reading belongs to, taking
// it that no line is steeper than 90°. A zenith circle reads 0° to 180° on face
// left, a horizon circle 270° to 90°. On the boundary it is NoFace. [TRADE]
func OfVertical(v reduce.Angle, c Circle) Face {
	v = v.Normalize()
	if c == Horizon {
		v = (v + reduce.QuarterTurn).Normalize()
	}
	switch {
	case v == 0 || v == reduce.HalfTurn:
		return NoFace
	case v > reduce.HalfTurn:
		return FR
	}
	return FL
}
