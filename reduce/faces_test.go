package reduce

import "testing"

// dms is degrees, minutes and seconds as one Angle.
func dms(d, m int64, s float64) Angle {
	return Angle(d)*Degree + Angle(m)*Arcminute + FromSeconds(s)
}

// at reads a written angle or fails the test.
func at(t testing.TB, s string) Angle {
	t.Helper()
	a, err := ParseDMS(s)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if d := got - want; !(d <= tol && d >= -tol) {
		t.Errorf("%s: got %.6g, want %.6g ± %.2g", what, got, want, tol)
	}
}

// S7: physicsforums.com thread 388766 (readings); means and 2c recomputed.
func TestPairMean_S7(t *testing.T) {
	for _, c := range []struct {
		fl, fr, mean string
		twoC         Angle
	}{
		{"26 12 48", "206 12 59", "26 12 53.5", -11 * Arcsecond},
		{"172 23 08", "352 23 17", "172 23 12.5", -9 * Arcsecond},
	} {
		fl, fr := at(t, c.fl), at(t, c.fr)
		if got := PairMean(fl, fr); got != at(t, c.mean) {
			t.Errorf("mean of %s and %s: %v, want %s", c.fl, c.fr, got, c.mean)
		}
		if got := TwoC(fl, fr); got != c.twoC {
			t.Errorf("2c of %s and %s: %v, want %v", c.fl, c.fr, got, c.twoC)
		}
	}
}

// CIVE 316, University of Washington, "How to compute the average angle": printed
// means and angle.
func TestPairMean_CIVE316(t *testing.T) {
	a := PairMean(at(t, "10 05 20"), at(t, "190 05 24"))
	c := PairMean(at(t, "30 15 32"), at(t, "210 15 38"))
	if a != at(t, "10 05 22") || c != at(t, "30 15 35") || c-a != at(t, "20 10 13") {
		t.Errorf("means %v and %v, angle %v", a, c, c-a)
	}
}

func TestPairMean_AcrossNorth(t *testing.T) {
	for _, c := range []struct{ fl, fr, mean Angle }{
		{dms(359, 59, 58), dms(180, 0, 2), 0},
		{dms(0, 0, 2), dms(179, 59, 58), 0},
		{dms(359, 59, 50), dms(179, 59, 58), dms(359, 59, 54)},
		{dms(180, 0, 6), dms(0, 0, 0), dms(180, 0, 3)},
	} {
		if got := PairMean(c.fl, c.fr); got != c.mean {
			t.Errorf("mean of %v and %v: %v, want %v", c.fl, c.fr, got, c.mean)
		}
		if a, b := PairMean(c.fl, c.fr), PairMean(c.fr, c.fl); (a - b - HalfTurn).Normalize() != 0 {
			t.Errorf("faces swapped: %v and %v are not opposite", a, b)
		}
		if TwoC(c.fl, c.fr) != -TwoC(c.fr, c.fl) {
			t.Errorf("faces swapped: 2c %v and %v", TwoC(c.fl, c.fr), TwoC(c.fr, c.fl))
		}
	}
}
