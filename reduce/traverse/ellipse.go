package traverse

import (
	"math"

	"example.org/readback/reduce"
)

// Ellipse95 is the factor from the axes of a standard error ellipse to those of
// the ellipse that holds the point with a chance of 95 %: √χ²(2; 0.95) =
// √(−2·ln 0.05).
const Ellipse95 = 2.4477468306808161

// A Covariance is that of the coordinates of one point.
type Covariance struct{ EE, EN, NN float64 }

// An Ellipse is a standard error ellipse: the point lies inside with a chance
// of 39 %.
type Ellipse struct {
	A, B    float64      // half axes, A the longer
	Bearing reduce.Angle // bearing of the longer one, [0°, 180°)
}

// Ellipse returns the standard error ellipse of the covariance: the half axes
// are the roots of its eigenvalues.
func (c Covariance) Ellipse() Ellipse {
	mean, half := (c.EE+c.NN)/2, math.Hypot((c.NN-c.EE)/2, c.EN)
	e := Ellipse{A: math.Sqrt(max(mean+half, 0)), B: math.Sqrt(max(mean-half, 0))}
	if half > 0 {
		e.Bearing = reduce.FromRadians(math.Atan2(2*c.EN, c.NN-c.EE) / 2)
	}
	if e.Bearing = e.Bearing.Normalize(); e.Bearing >= reduce.HalfTurn {
		e.Bearing -= reduce.HalfTurn
	}
	return e
}
