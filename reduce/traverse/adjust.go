package traverse

import "errors"

// errUndetermined is returned by Adjust where the observations do not fix every
// point.
var errUndetermined = errors.New("the observations do not fix every point: an angle or a length is missing")

// undetermined is the part of its diagonal that the pivot of an unknown must keep.
const undetermined = 1e-12

// Adjusted is a traverse adjusted by least squares.
type Adjusted struct {
	Points         []Point      // one per station
	Covariances    []Covariance // of the points, from the standard deviations booked (σ₀ = 1)
	Ellipses       []Ellipse    // of the points, likewise; zero for a fixed point
	AngleResiduals []float64    // adjusted − observed, seconds; 0 for a missing angle
	LegResiduals   []float64    // adjusted − measured
	Dof            int          // observations − unknowns
	S0             float64      // √([pvv]/dof); near 1 where the standard deviations are right; 0 where Dof is 0
	Iterations     int
}

// maxIterations is more than any traverse needs that converges at all: three
// to five are usual.
const maxIterations = 25

// adjust adjusts the angles and the lengths of the traverse together, each
// with its standard deviation. The known points and bearings stay as they are
// [LSQ]. Errors: *inputError, and errUndetermined where a length is missing or
// the iteration does not settle.
func adjust(t Traverse, s Settings) (*Adjusted, error) {
	if err := t.check(); err != nil {
		return nil, err
	}
	if !t.measured() {
		return nil, errUndetermined
	}
	t = s.fill(t)
	s.AngleStep, s.LengthStep = 0, 0
	start, err := carry(t, s)
	if err != nil {
		return nil, err
	}
	n := newNet(t, start)
	for it := 1; it <= maxIterations; it++ {
		step, err := n.improve()
		if err != nil {
			return nil, err
		}
		if step <= 1e-9*n.size {
			return n.result(it)
		}
	}
	return nil, errUndetermined
}
