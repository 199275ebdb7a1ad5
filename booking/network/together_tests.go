package network

import (
	"math"

	"example.org/readback/reduce/places"
	"example.org/readback/reduce/precision"
	"example.org/readback/reduce/traverse"
)

// takenDoubt is by how much a σ that is taken, not known, may be too small before s₀
// alone speaks against a network (common practice, no source).
const takenDoubt = 3.0

// pope tells whether residuals are held against the σ of the adjustment itself: that of
// the directions is not known, there is enough to estimate it from, and it is larger
// than what was taken: a scatter smaller than that names nobody.
func (t *Together) pope() bool { return !t.Stated && t.Adjusted.Dof > 1 && t.Adjusted.S0 > 1 }

// test is what is held against testLimit: the normalised residual where σ is known,
// τ = w/s₀ where it is not. [M12 of reduce/places]
func (t *Together) test(r places.Residual) float64 {
	if t.pope() {
		return r.W / t.Adjusted.S0
	}
	return r.W
}

// testName is what test is called.
func (t *Together) testName() string {
	if t.pope() {
		return "τ"
	}
	return "w"
}

// testLimit is what one observation's test may reach: of τ at the risk of the whole for
// the largest of all, of w at the risk of one.
func (t *Together) testLimit() float64 {
	if !t.pope() {
		return precision.NormalLimit(t.limits.LocalRisk)
	}
	n := 0
	for _, r := range t.Adjusted.Residuals {
		if r.Checked() {
			n++
		}
	}
	return precision.TauLimit(t.limits.GlobalRisk, n, t.Adjusted.Dof) * (1 + 1e-9) // all τ are alike where one is redundant
}

// mostS0Squared is what s₀² may reach: its χ² limit, and where σ is taken and not known
// as much more as it may be off.
func (t *Together) mostS0Squared() float64 {
	high := t.Adjusted.Global.High
	if !t.Stated {
		high *= takenDoubt * takenDoubt
	}
	return high
}

// Ellipse95 is the ellipse that holds a place with a chance of 95 %: with the stated
// standard deviations, or, where they are not known, with those of the adjustment
// itself and their own uncertainty, but never a smaller one.
func (t *Together) Ellipse95(p places.Place) traverse.Ellipse {
	e := p.Ellipse95()
	if !t.pope() {
		return e
	}
	by := math.Max(1, t.Adjusted.S0*traverse.EllipseFactor(t.Adjusted.Dof)/traverse.Ellipse95)
	e.A, e.B = e.A*by, e.B*by
	return e
}
