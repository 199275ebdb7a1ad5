package traverse

import (
	"math"

	"example.org/readback/reduce"
)

// Ellipse95 is the factor from the axes of a standard error ellipse to those of
// the ellipse that holds the point with a chance of 95 %: √χ²(2; 0.95) =
// √(−2·ln 0.05).
const Ellipse95 = 2.4477468306808161

// EllipseFactor returns the same factor where the standard deviations come from
// the adjustment itself, with dof degrees of freedom: √(2·F(0.95; 2, dof)), which is
// √(dof·(0.05^(−2/dof) − 1)), the distribution having a closed form for 2; dof ≤ 0
// stands for standard deviations that are known. 4.371 at 3.
func EllipseFactor(dof int) float64 {
	if dof <= 0 {
		return Ellipse95
	}
	n := float64(dof)
	return math.Sqrt(n * (math.Pow(0.05, -2/n) - 1))
}

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
