package trend

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// NIST Statistical Reference Datasets, linear regression, Norris (from memory;
// the certified values agree to 1e-12, which a wrong figure would not allow).
func TestFit_Norris(t *testing.T) {
	y := []float64{0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8,
		557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2}
	x := []float64{0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6,
		556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5}
	l, err := Fit(x, y, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"slope", l.Slope, 1.00211681802045},
		{"intercept", l.Intercept, -0.262323073774029},
		{"standard deviation of the slope", l.SDSlope, 0.429796848199937e-3},
		{"residual standard deviation", l.S, 0.884796396144373},
	} {
		if math.Abs(c.got/c.want-1) > 1e-11 {
			t.Errorf("%s %v, certified %v", c.what, c.got, c.want)
		}
	}
	if !l.Drifts || l.Dof != 34 {
		t.Errorf("%+v", l)
	}
}

// Where nothing drifts, the test says so at the stated rate.
func TestFit_StatedRisk(t *testing.T) {
	const seed, runs = 7, 4000
	rng := rand.New(rand.NewPCG(seed, 1))
	said := 0
	for range runs {
		var x, y []float64
		for i := range 8 {
			x, y = append(x, float64(i)), append(y, rng.NormFloat64())
		}
		if l, err := Fit(x, y, 0.05); err != nil {
			t.Fatal(err)
		} else if l.Drifts {
			said++
		}
	}
	if rate := float64(said) / runs; math.Abs(rate-0.05) > 0.012 {
		t.Errorf("seed %d: a drift is said in %.4f of the series without one", seed, rate)
	}
}

// Another origin of time, another unit and a constant leave the verdict.
func TestFit_UnitsStay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 12).Draw(t, "points")
		var x, y, x2, y2 []float64
		for i := range n {
			x = append(x, float64(i)+rapid.Float64Range(0, 0.5).Draw(t, "x"))
			y = append(y, float64(rapid.IntRange(-200, 200).Draw(t, "tenths of y"))/10) // as seconds are read: not a hair from 0
			x2, y2 = append(x2, 24*x[i]+1000), append(y2, y[i]*2-7)
		}
		a, errA := Fit(x, y, 0.05)
		b, errB := Fit(x2, y2, 0.05)
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		// Of points on a line the scatter is rounding, and T means nothing.
		if a.S > 1e-6 && math.Abs(a.T-b.T) > 1e-6*(1+a.T) || math.Abs(b.Slope-a.Slope*2/24) > 1e-8 {
			t.Fatalf("%+v %+v", a, b)
		}
	})
}

func TestFit_TooFew(t *testing.T) {
	for _, x := range [][]float64{nil, {1, 2}, {3, 3, 3}} {
		if _, err := Fit(x, []float64{1, 2, 3}, 0.05); !errors.Is(err, errTooFew) {
			t.Errorf("%v: %v", x, err)
		}
	}
	l, err := Fit([]float64{0, 1, 2}, []float64{5, 5, 5}, 0.05)
	if err != nil || l.Drifts || l.T != 0 {
		t.Errorf("%+v %v", l, err)
	}
	if l, _ = Fit([]float64{0, 1, 2}, []float64{5, 6, 7}, 0.05); !l.Drifts {
		t.Errorf("%+v", l)
	}
}
