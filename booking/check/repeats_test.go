package check

import (
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// The range of n values of a normal distribution stays within f(n)·σ in 95 of 100
// cases: P(W < w) = n ∫ φ(x) [Φ(x+w) − Φ(x)]ⁿ⁻¹ dx, which any textbook of order
// statistics has. The table is rounded to one decimal.
func TestCriticalRange_IsOfTheRange(t *testing.T) {
	normal := distuv.UnitNormal
	within := func(n int, w float64) float64 {
		return float64(n) * quad.Fixed(func(x float64) float64 {
			p := 1.0
			for range n - 1 {
				p *= normal.CDF(x+w) - normal.CDF(x)
			}
			return normal.Prob(x) * p
		}, -9, 9, 200, nil, 0)
	}
	for n := 2; n < len(criticalRange); n++ {
		f := criticalRange[n]
		if low, high := within(n, f-0.05), within(n, f+0.05); low > 0.95 || high < 0.95 {
			t.Errorf("n = %d: f = %.1f keeps %.4f to %.4f", n, f, low, high)
		}
	}
}
