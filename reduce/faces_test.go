package reduce

import (
	"os"
	"strings"
	"testing"

	"example.org/readback/testdata"
)

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

func TestPairMean_S7(t *testing.T) {
	f := testdata.Published(t, "S7")
	var fl, fr, mean []Angle
	for _, l := range f.All("reading") {
		fl, fr = append(fl, at(t, l[1])), append(fr, at(t, l[2]))
		m := PairMean(DirectionAt(at(t, l[1])), DirectionAt(at(t, l[2]))).Angle()
		mean = append(mean, m)
		meetsAngle(t, f, "mean of the pair", m, l[3])
		f.Meets(t, "2c", TwoC(DirectionAt(at(t, l[1])), DirectionAt(at(t, l[2]))).Seconds(), l[4])
	}
	for i, x := range [][]Angle{fl, fr, mean} {
		meetsAngle(t, f, "angle between directions", x[1]-x[0], f.One(t, "angle")[i])
	}
}

// CIVE 316, University of Washington, "How to compute the average angle": printed
// means and angle. testdata/published/average-angle.csv
func TestPairMean_CIVE316(t *testing.T) {
	b, err := os.ReadFile("../testdata/published/average-angle.csv")
	if err != nil {
		t.Fatal(err)
	}
	var means []Angle
	for _, line := range strings.Split(string(b), "\n") {
		f := strings.Split(line, ",")
		if len(f) != 4 || f[0] == "target" || strings.HasPrefix(line, "#") {
			continue
		}
		m := PairMean(DirectionAt(at(t, f[1])), DirectionAt(at(t, f[2]))).Angle()
		if m != at(t, f[3]) {
			t.Errorf("%s: mean %v, printed %s", f[0], m, f[3])
		}
		means = append(means, m)
	}
	if len(means) != 2 || means[1]-means[0] != at(t, "20 10 13") {
		t.Errorf("means %v", means)
	}
}

func TestPairMean_AcrossNorth(t *testing.T) {
	for _, c := range []struct{ fl, fr, mean Angle }{
		{dms(359, 59, 58), dms(180, 0, 2), 0},
		{dms(0, 0, 2), dms(179, 59, 58), 0},
		{dms(359, 59, 50), dms(179, 59, 58), dms(359, 59, 54)},
		{dms(180, 0, 6), dms(0, 0, 0), dms(180, 0, 3)},
	} {
		fl, fr := DirectionAt(c.fl), DirectionAt(c.fr)
		if got := PairMean(fl, fr); got.Angle() != c.mean {
			t.Errorf("mean of %v and %v: %v, want %v", c.fl, c.fr, got, c.mean)
		}
		if a, b := PairMean(fl, fr), PairMean(fr, fl); a != b.Opposite() {
			t.Errorf("faces swapped: %v and %v are not opposite", a, b)
		}
		if TwoC(fl, fr) != -TwoC(fr, fl) {
			t.Errorf("faces swapped: 2c %v and %v", TwoC(fl, fr), TwoC(fr, fl))
		}
	}
}
