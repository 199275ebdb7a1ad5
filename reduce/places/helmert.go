package places

import (
	"errors"
	"math"

	"example.org/readback/reduce/traverse"
)

// ErrTooFewPoints is returned where two sets of places do not fix what turns one
// into the other.
var ErrTooFewPoints = errors.New("two common points at different places are needed")

// A Helmert turns places of one plane into those of another: E = A·e + B·n + Shift.E,
// N = −B·e + A·n + Shift.N. Its scale is √(A² + B²); it turns clockwise by
// atan2(B, A).
type Helmert struct {
	A, B      float64
	Shift     traverse.Point
	Residuals []traverse.Point // of the common points: transformed − given
	S0        float64          // standard deviation of one coordinate; 0 where Dof is 0
	Dof       int              // 2n − 4, or 2n − 3 with the scale held
}

// FitHelmert fits the similarity that turns the places from into the places to, by
// least squares with equal weights; rigid holds the scale at 1.
func FitHelmert(from, to []traverse.Point, rigid bool) (*Helmert, error) {
	n := min(len(from), len(to))
	if n < 2 {
		return nil, ErrTooFewPoints
	}
	var cf, ct traverse.Point
	for i := range n {
		cf, ct = cf.Add(from[i]), ct.Add(to[i])
	}
	k := float64(n)
	cf, ct = traverse.Point{E: cf.E / k, N: cf.N / k}, traverse.Point{E: ct.E / k, N: ct.N / k}
	var a, b, square float64
	for i := range n {
		p, q := from[i].Sub(cf), to[i].Sub(ct)
		a += float64(p.E*q.E) + float64(p.N*q.N)
		b += float64(p.N*q.E) - float64(p.E*q.N)
		square += float64(p.E*p.E) + float64(p.N*p.N)
	}
	if !(square > 0) {
		return nil, ErrTooFewPoints
	}
	h := &Helmert{A: a / square, B: b / square, Dof: 2*n - 4}
	if rigid {
		size := math.Hypot(a, b)
		if size == 0 {
			return nil, ErrTooFewPoints
		}
		h.A, h.B, h.Dof = a/size, b/size, 2*n-3
	}
	h.Shift = ct.Sub(h.Apply(cf))
	sum := 0.0
	for i := range n {
		v := h.Apply(from[i]).Sub(to[i])
		h.Residuals = append(h.Residuals, v)
		sum += float64(v.E*v.E) + float64(v.N*v.N)
	}
	if h.Dof > 0 {
		h.S0 = math.Sqrt(sum / float64(h.Dof))
	}
	return h, nil
}

// Apply transforms a place.
func (h *Helmert) Apply(p traverse.Point) traverse.Point {
	return traverse.Point{
		E: float64(h.A*p.E) + float64(h.B*p.N) + h.Shift.E,
		N: float64(h.A*p.N) - float64(h.B*p.E) + h.Shift.N,
	}
}
