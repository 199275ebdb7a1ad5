package places

import (
	"math"
	"testing"

	"example.org/readback/reduce/precision"
)

// P33: level net of nine differences, three new heights, equal weights (Polish
// course work, zanotowane.pl 14/4329), every printed figure.
func TestAdjustHeights_PolishNet(t *testing.T) {
	points := []Level{{}, {}, {}, {Known: true, Height: 230.387}, {Known: true, Height: 231.656}, {Known: true, Height: 235.061}}
	rises := []Rise{{3, 0, .934, 1e-3}, {0, 4, .337, 1e-3}, {3, 1, 2.170, 1e-3}, {1, 5, 2.505, 1e-3}, {4, 2, .935, 1e-3}, {2, 5, 2.488, 1e-3}, {0, 1, 1.243, 1e-3}, {0, 2, 1.257, 1e-3}, {2, 1, -.017, 1e-3}}
	l, err := AdjustHeights(points, rises, DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{231.3197, 232.5595, 232.5793} {
		within(t, "height", l.Heights[i], want, 0.00005)
		within(t, "inverse of the diagonal, root", l.SD[i]*1000, math.Sqrt(0.3), 0.0005)
	}
	for i, want := range []float64{-1.30, -0.70, 2.50, -3.50, -11.70, -6.30, -3.20, 2.60, -2.80} {
		within(t, "v mm", l.Residuals[i].V*1000, want, 0.005)
		within(t, "redundancy", l.Residuals[i].Redundancy, map[bool]float64{true: 0.7, false: 0.6}[i < 6], 0.0005)
	}
	within(t, "s₀ mm", l.S0, 6.08, 0.005)
	tau := l.Residuals[4].W / l.S0
	within(t, "tau of L5", tau, 2.30, 0.005)
	if tau < precision.TauLimit(0.05, 9, 6) || tau > precision.TauLimit(0.01, 9, 6) {
		t.Error("L5 is flagged at 5 % and not at 1 %")
	}
}

// P34: C. Ghilani, Adjustment Computations, ex. 12.1 (inputs read at slidetodoc.com,
// heights from memory).
func TestAdjustHeights_Ghilani(t *testing.T) {
	points := []Level{{Known: true, Height: 437.596}, {}, {}, {}}
	mm := func(x float64) float64 { return x / 1000 }
	l, err := AdjustHeights(points, []Rise{{0, 1, 10.509, mm(6)}, {1, 2, 5.360, mm(4)}, {2, 3, -8.523, mm(5)}, {3, 0, -7.348, mm(3)}, {1, 3, -3.167, mm(4)}, {0, 2, 15.881, mm(12)}}, DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{448.1087, 453.4685, 444.9436} {
		within(t, "height", l.Heights[i+1], want, 0.00006)
	}
	for i, want := range []float64{3.71, -0.24, -1.86, 0.39, 1.89, -8.53} {
		within(t, "v mm", l.Residuals[i].V*1000, want, 0.005)
	}
	within(t, "s₀", l.S0, 0.651, 0.0005)
	for i, want := range []float64{2.30, 2.64, 1.76} {
		within(t, "sd mm × s₀", l.SD[i+1]*1000*l.S0, want, 0.005)
	}
}

// P36: nine lines weighted by their length (Polish course work, zanotowane.pl
// 1050/2186; inputs read, results computed).
func TestAdjustHeights_NineLines(t *testing.T) {
	points := []Level{{Known: true, Height: 24.052}, {Known: true, Height: 32.548}, {}, {}, {}, {}} // 13 22 14 15 20 21
	line := func(from, to int, v, length float64) Rise { return Rise{from, to, v, 1e-3 * math.Sqrt(length)} }
	l, err := AdjustHeights(points, []Rise{line(0, 5, 1.380, 1), line(0, 2, .039, 3), line(5, 2, -1.341, 2), line(5, 4, 4.068, 1), line(2, 4, 5.412, 1), line(4, 1, 3.046, 1.5), line(2, 1, 8.459, 1), line(2, 3, 2.813, 2), line(3, 1, 5.645, 1)}, DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{24.0898, 26.9029, 29.5013, 25.4322} {
		within(t, "height", l.Heights[i+2], want, 0.00005)
	}
	for i, want := range []float64{.25, -1.25, -1.50, 1.00, -.50, .75, -.75, .17, .08} {
		within(t, "v mm", l.Residuals[i].V*1000, want, 0.0051)
	}
	within(t, "s₀ mm", l.S0, 0.885, 0.0005)
	for i, want := range []float64{.568, .747, .660, .651} {
		within(t, "sd mm × s₀", l.SD[i+2]*1000*l.S0, want, 0.0005)
	}
}
