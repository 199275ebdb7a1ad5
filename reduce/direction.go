package reduce

import (
	"errors"
	"fmt"
)

// A Direction is a point on the circle: a reading of the horizontal circle, a
// direction reduced from readings, a bearing. It is counted clockwise from the
// circle's zero and always lies in [0°, 360°). The zero value is 0°. Two
// directions cannot be added; their difference is an Angle.
type Direction struct{ a Angle }

// errNoMean is returned by Mean for directions that have none: an empty list, or
// directions that lie half a turn or more apart.
var errNoMean = errors.New("directions have no mean: none given, or half a turn apart")

// DirectionAt returns the direction that lies the angle a clockwise of zero, whole
// circles left out.
func DirectionAt(a Angle) Direction { return Direction{a.Normalize()} }

// Angle returns how far d lies clockwise of zero, in [0°, 360°).
func (d Direction) Angle() Angle { return d.a }

// Sub returns the angle from e to d by the shorter way, in (−180°, 180°]: exactly
// opposite directions are +180° apart.
func (d Direction) Sub(e Direction) Angle { return (d.a - e.a).Wrap() }

// From returns the angle from e clockwise to d, in [0°, 360°).
func (d Direction) From(e Direction) Angle { return (d.a - e.a).Normalize() }

// Add returns d turned clockwise by a.
func (d Direction) Add(a Angle) Direction { return DirectionAt(d.a + a) }

// Opposite returns d turned by half a circle.
func (d Direction) Opposite() Direction { return d.Add(HalfTurn) }

// Radians returns d in radians, in [0, 2π).
func (d Direction) Radians() float64 { return d.a.Radians() }

// String prints d in degrees, exactly.
func (d Direction) String() string { return d.a.String() }

// Format prints d with the given decimals in [0, full circle): what rounds up to a
// full circle prints 0. 359°59′59.96″ with one decimal is 0°00′00.0″.
func (d Direction) Format(u Unit, places int) string {
	return d.a.Round(quantum(u, places)).Normalize().Format(u, places)
}

// MarshalJSON writes d as a whole number of micro-arcseconds, as an Angle is.
func (d Direction) MarshalJSON() ([]byte, error) { return fmt.Appendf(nil, "%d", int64(d.a)), nil }

// UnmarshalJSON reads what MarshalJSON writes; whole circles are left out.
func (d *Direction) UnmarshalJSON(b []byte) error {
	var a Angle
	if _, err := fmt.Sscanf(string(b), "%d", (*int64)(&a)); err != nil {
		return fmt.Errorf("direction %q is not a whole number of micro-arcseconds: %w", b, err)
	}
	*d = DirectionAt(a)
	return nil
}

// Mean returns the arithmetic mean of directions on the circle. It works on the
// differences from the first direction, so 359°59′58″ and 0°00′02″ mean
// 0°00′00″. The mean is rounded half away from zero to one micro-arcsecond,
// whatever the order. It returns errNoMean for an empty list and for directions
// of which one lies half a turn or more from another.
func Mean(ds []Direction) (Direction, error) {
	if len(ds) == 0 {
		return Direction{}, errNoMean
	}
	var sum, lo, hi Angle
	for _, d := range ds {
		off := d.Sub(ds[0])
		sum += off
		lo, hi = min(lo, off), max(hi, off)
	}
	if hi-lo >= HalfTurn {
		return Direction{}, errNoMean
	}
	return ds[0].MeanAbout(sum, int64(len(ds))), nil
}

// MeanAbout returns d + sum/n rounded half away from zero. The result does not
// depend on which direction d the sum was taken about.
func (d Direction) MeanAbout(sum Angle, n int64) Direction {
	total := (Angle(n)*d.a + sum) % (Angle(n) * Turn)
	if total < 0 {
		total += Angle(n) * Turn
	}
	return DirectionAt(total.Div(n))
}
