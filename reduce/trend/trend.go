// Package trend fits a straight line to a series in time and tests whether it
// rises or falls.
//
// Source: the slope of a simple regression against its standard deviation, by
// Student's t with n − 2 degrees of freedom (from memory: NIST/SEMATECH
// e-Handbook of Statistical Methods, section 4.4; checked in the tests against
// NIST's certified values for the data set Norris, from memory).
package trend

import (
	"errors"
	"math"

	"example.org/readback/reduce/precision"
)

// errTooFew is returned for series that no line can be tested on: fewer than
// three points, or all at one time.
var errTooFew = errors.New("a trend needs three points at different times")

// A Line is y = Mean + Slope·(x − MeanX), fitted by least squares.
type Line struct {
	N         int
	MeanX     float64
	Mean      float64 // of y
	Slope     float64 // of y for one unit of x
	SDSlope   float64 // its standard deviation
	S         float64 // scatter of y about the line
	T         float64 // |Slope| / SDSlope; +Inf where nothing scatters and it slopes
	Limit     float64 // critical t, two-sided, at the risk given
	Drifts    bool    // T is beyond Limit
	Dof       int
	Intercept float64 // y at x = 0
}

// Fit fits the line and tests the slope at the risk alpha (0.05 is usual). x and
// y must have one length.
func Fit(x, y []float64, alpha float64) (Line, error) {
	n := min(len(x), len(y))
	if n < 3 {
		return Line{}, errTooFew
	}
	l := Line{N: n, Dof: n - 2}
	for i := range n {
		l.MeanX += x[i] / float64(n)
		l.Mean += y[i] / float64(n)
	}
	var xx, xy float64
	for i := range n {
		xx += float64((x[i] - l.MeanX) * (x[i] - l.MeanX))
		xy += float64((x[i] - l.MeanX) * (y[i] - l.Mean))
	}
	if xx == 0 {
		return Line{}, errTooFew
	}
	l.Slope = xy / xx
	l.Intercept = l.Mean - float64(l.Slope*l.MeanX)
	var vv float64
	for i := range n {
		v := l.at(x[i]) - y[i]
		vv += float64(v * v)
	}
	l.S = math.Sqrt(vv / float64(l.Dof))
	l.SDSlope = l.S / math.Sqrt(xx)
	l.test(alpha)
	return l, nil
}

func (l *Line) test(alpha float64) {
	l.Limit = precision.StudentLimit(alpha, l.Dof)
	switch {
	case l.SDSlope > 0:
		l.T = math.Abs(l.Slope) / l.SDSlope
	case l.Slope != 0:
		l.T = math.Inf(1)
	}
	l.Drifts = l.T > l.Limit
}

// at returns the line's y at x.
func (l Line) at(x float64) float64 { return l.Mean + float64(l.Slope*(x-l.MeanX)) }
