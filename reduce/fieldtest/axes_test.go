package fieldtest

import (
	"math"
	"testing"

	"example.org/readback/reduce"
	"example.org/readback/testdata"
)

func pairsAt(c0, tilt float64, altitudes ...float64) []Pair {
	var out []Pair
	for _, h := range altitudes {
		a := reduce.FromDegrees(h)
		c := c0/math.Cos(a.Radians()) + tilt*math.Tan(a.Radians())
		out = append(out, Pair{reduce.FromSeconds(c), a})
	}
	return out
}

// The formula (common practice, no source), forwards and back.
func TestFindAxes_Recovers(t *testing.T) {
	x := FindAxes(pairsAt(12, -7, -10, 0, 8, 25))
	testdata.Near(t, "c0", x.C0, 12, 1e-5)
	testdata.Near(t, "tilt", x.Tilt, -7, 1e-5)
	if !x.Separated || x.S.Dof != 2 || x.Used != 4 {
		t.Errorf("%+v", x)
	}
	testdata.Near(t, "at 25°", x.at(25*reduce.Degree), pairsAt(12, -7, 25)[0].C.Seconds(), 1e-5)
}

func TestFindAxes_NotSeparable(t *testing.T) {
	for name, h := range map[string][]float64{"level": {0, 1, 2, -1}, "narrow": {30, 35, 39}, "steep and close": {30, 40}, "one": {5}} {
		x := FindAxes(pairsAt(10, 0, h...))
		if x.Separated || x.Tilt != 0 || x.SDTilt != 0 {
			t.Errorf("%s: %+v", name, x)
		}
		testdata.Near(t, name, x.C0, 10, 1e-5)
	}
	if x := FindAxes(pairsAt(10, 5, 90, 89.5)); x.Used != 0 || x.C0 != 0 {
		t.Errorf("at the zenith: %+v", x)
	}
}

// Determinants that the comment on separable states.
func TestFindAxes_Determinant(t *testing.T) {
	for _, c := range []struct{ low, high, want, tol float64 }{{-5, 15, 0.78, .005}, {0, 10, 0.49, .005}, {30, 40, 0.015, .0005}} {
		var aa, ab, bb float64
		for _, h := range []float64{c.low, c.high} {
			a, b := 1/math.Cos(h*math.Pi/180), math.Tan(h*math.Pi/180)
			aa, ab, bb = aa+a*a, ab+a*b, bb+b*b
		}
		testdata.Near(t, "determinant", (aa*bb-ab*ab)/(aa*bb), c.want, c.tol)
	}
}

// Standard deviations against the residuals of a fit worked by hand: two pairs
// at 0° with c = 4″ and 8″ give c0 = 6″, s = √8″, s(c0) = 2″.
func TestFindAxes_ByHand(t *testing.T) {
	x := FindAxes([]Pair{{4 * reduce.Arcsecond, 0}, {8 * reduce.Arcsecond, 0}})
	testdata.Near(t, "c0", x.C0, 6, 1e-9)
	testdata.Near(t, "s", x.S.S, math.Sqrt(8), 1e-9)
	testdata.Near(t, "s of c0", x.SDC0, 2, 1e-9)
}
