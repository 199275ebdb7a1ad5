package faces

import (
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/readback/reduce"
	"example.org/readback/testdata"
)

func TestPairMean_S7(t *testing.T) {
	f := testdata.Published(t, "S7")
	var fl, fr, mean []reduce.Angle
	for _, l := range f.All("reading") {
		fl, fr = append(fl, at(t, l[1])), append(fr, at(t, l[2]))
		m := PairMean(reduce.DirectionAt(at(t, l[1])), reduce.DirectionAt(at(t, l[2]))).Angle()
		mean = append(mean, m)
		meetsAngle(t, f, "mean of the pair", m, l[3])
		f.Meets(t, "2c", TwoC(reduce.DirectionAt(at(t, l[1])), reduce.DirectionAt(at(t, l[2]))).Seconds(), l[4])
	}
	for i, x := range [][]reduce.Angle{fl, fr, mean} {
		meetsAngle(t, f, "angle between directions", x[1]-x[0], f.One(t, "angle")[i])
	}
}

// CIVE 316, University of Washington, "How to compute the average angle": printed
// means and angle. testdata/published/average-angle.csv
func TestPairMean_CIVE316(t *testing.T) {
	b, err := os.ReadFile("../../testdata/published/average-angle.csv")
	if err != nil {
		t.Fatal(err)
	}
	var means []reduce.Angle
	for _, line := range strings.Split(string(b), "\n") {
		f := strings.Split(line, ",")
		if len(f) != 4 || f[0] == "target" || strings.HasPrefix(line, "#") {
			continue
		}
		m := PairMean(reduce.DirectionAt(at(t, f[1])), reduce.DirectionAt(at(t, f[2]))).Angle()
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
	for _, c := range []struct{ fl, fr, mean reduce.Angle }{
		{dms(359, 59, 58), dms(180, 0, 2), 0},
		{dms(0, 0, 2), dms(179, 59, 58), 0},
		{dms(359, 59, 50), dms(179, 59, 58), dms(359, 59, 54)},
		{dms(180, 0, 6), dms(0, 0, 0), dms(180, 0, 3)},
	} {
		fl, fr := reduce.DirectionAt(c.fl), reduce.DirectionAt(c.fr)
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

// One observation booked in degrees and in gon is one observation. 0.001 gon is
// 3.24″, so every whole milligon can be keyed in both.
func TestBooking_DMSAndGonAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var pair [2][2]reduce.Direction // notation, face
		for face := range 2 {
			a := reduce.Angle(rapid.Int64Range(0, 399_999).Draw(t, "milligon")) * reduce.Milligon
			g, err := reduce.ParseKeyed(a.Format(reduce.GonUnit, 3), reduce.GonUnit, reduce.Milligon)
			if err != nil {
				t.Fatal(err)
			}
			s := strings.NewReplacer("°", " ", "′", " ", "″", "").Replace(a.Format(reduce.DMS, 2))
			d, err := reduce.ParseKeyed(s, reduce.DMS, reduce.Arcsecond/100)
			if err != nil || d != g || g != a {
				t.Fatalf("%s and %s: %d and %d, %v", a.Format(reduce.GonUnit, 3), s, g, d, err)
			}
			pair[0][face], pair[1][face] = reduce.DirectionAt(g), reduce.DirectionAt(d)
		}
		if PairMean(pair[0][0], pair[0][1]) != PairMean(pair[1][0], pair[1][1]) || TwoC(pair[0][0], pair[0][1]) != TwoC(pair[1][0], pair[1][1]) {
			t.Fatal("the notations reduce differently")
		}
	})
}
