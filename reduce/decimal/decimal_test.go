package decimal

import (
	"math"
	"testing"
)

// Rounding is half away from zero (a rule of the house), at the ends of the range too.
func TestDivAndRound(t *testing.T) {
	for _, c := range []struct{ n, d, want int64 }{
		{5, 2, 3}, {-5, 2, -3}, {5, -2, -3}, {4, 3, 1}, {0, 7, 0},
		{math.MaxInt64, 2, math.MaxInt64/2 + 1}, {math.MinInt64, 1, math.MinInt64},
	} {
		if got := Div(c.n, c.d); got != c.want {
			t.Errorf("%d/%d: %d, want %d", c.n, c.d, got, c.want)
		}
	}
	for _, c := range []struct {
		x    float64
		want int64
	}{{0.5, 1}, {-0.5, -1}, {1e30, math.MaxInt64}, {-1e30, math.MinInt64}, {math.NaN(), 0}} {
		if got := Round(c.x); got != c.want {
			t.Errorf("%g: %d, want %d", c.x, got, c.want)
		}
	}
}

func TestParse(t *testing.T) {
	for in, want := range map[string]float64{"12.5": 12.5, "12,5": 12.5, " −3,86 ": -3.86, "-4": -4, "1e-3": 0.001} {
		if got, err := Parse(in); err != nil || got != want {
			t.Errorf("%q: %g, %v, want %g", in, got, err, want)
		}
	}
	for _, in := range []string{"", "1,234.5", "1 2", "twelve"} {
		if got, err := Parse(in); err == nil {
			t.Errorf("%q was read as %g", in, got)
		}
	}
	if got := Sprintf("%+.1f", -2.25); got != "−2.2" {
		t.Errorf("minus: %s", got)
	}
}
