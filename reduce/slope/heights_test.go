package slope

import (
	"math"
	"os"
	"testing"

	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
	"example.org/readback/testdata"
)

// zenithAlt is the altitude of a printed zenith angle.
func zenithAlt(t *testing.T, s string) reduce.Angle { return reduce.QuarterTurn - at(t, s) }

// heightDifference is the second result of SlopeReduce.
func heightDifference(slope float64, alt reduce.Angle, hi, ht, k float64) float64 {
	_, dh := Reduce(slope, alt, hi, ht, k)
	return dh
}

// F27 works in feet without curvature and refraction: k = 1.
func TestSlopeReduce_F27(t *testing.T) {
	f := testdata.Published(t, "F27")
	for _, l := range f.All("line") {
		hd, dh := Reduce(testdata.Num(t, l[2]), zenithAlt(t, l[1]), 0, 0, 1)
		f.Meets(t, "horizontal distance", hd, l[3])
		f.Meets(t, "rise", dh, l[4])
	}
	for _, l := range f.All("elevation") {
		dh := heightDifference(testdata.Num(t, l[3]), zenithAlt(t, l[2]), testdata.Num(t, l[4]), testdata.Num(t, l[5]), 1)
		f.Meets(t, "height", testdata.Num(t, l[1])+dh, l[6])
	}
	for _, l := range f.All("backsight") {
		dh := heightDifference(testdata.Num(t, l[3]), zenithAlt(t, l[2]), testdata.Num(t, l[4]), testdata.Num(t, l[5]), 1)
		f.Meets(t, "height", testdata.Num(t, l[1])-dh, l[6])
	}
}

func TestSlopeReduce_F15Misprint(t *testing.T) {
	f := testdata.Published(t, "F15")
	alt, h := at(t, f.One(t, "altitude")[0]), f.One(t, "heights")
	s := testdata.Num(t, f.One(t, "slope")[0])
	rise := heightDifference(s, alt, 0, 0, 1)
	dh := heightDifference(s, alt, testdata.Num(t, h[0]), testdata.Num(t, h[1]), 1)
	f.Meets(t, "rise", rise, f.One(t, "rise")[0])
	f.Meets(t, "height difference", dh, f.One(t, "dh")[0])
	for i, x := range []float64{rise, dh} {
		if m := f.One(t, "misprint")[i]; math.Abs(x-testdata.Num(t, m)) <= testdata.HalfUnit(m) {
			t.Errorf("the misprint %s agrees", m)
		}
	}
	f.Meets(t, "curvature and refraction", curvatureRefraction(1000, 0.14, 20906000), f.One(t, "perkft")[0])
	f.Meets(t, "curvature and refraction", curvatureRefraction(1000, 0.14, EarthRadius), f.One(t, "perkm")[0])
}

func TestCurvatureRefraction_F14(t *testing.T) {
	f := testdata.Published(t, "F14")
	radius, k := testdata.Num(t, f.One(t, "radius")[0]), testdata.Num(t, f.One(t, "k")[0])
	for _, l := range f.All("row") {
		d := testdata.Num(t, l[0])
		c, both := curvatureRefraction(d, 0, radius), curvatureRefraction(d, k, radius)
		f.Meets(t, "curvature", c, l[1])
		// The page carries nine decimals and is right to the seventh.
		testdata.Near(t, "refraction "+l[0], c-both, testdata.Num(t, l[2]), 1e-7)
		f.Meets(t, "curvature and refraction", both, l[3])
	}
}

func TestCurvatureRefraction_M9(t *testing.T) {
	f := testdata.Published(t, "M9")
	for _, l := range f.All("metric") {
		f.Meets(t, "curvature and refraction", curvatureRefraction(1000, testdata.Num(t, l[1]), EarthRadius), l[2])
	}
	for _, l := range f.All("feet") {
		f.Meets(t, "curvature and refraction", curvatureRefraction(1000, testdata.Num(t, l[1]), EarthRadius/lengths.InternationalFoot), l[2])
	}
}

func TestHorizontal_F30(t *testing.T) {
	f := testdata.Published(t, "F30")
	l := f.One(t, "angle")
	hd, _ := Reduce(testdata.Num(t, l[0]), at(t, l[1]), 0, 0, Refraction)
	f.Meets(t, "horizontal distance", hd, l[2])
}

// The exact triangle at the Earth's centre: the horizontal distance is the arc at
// the height of the instrument, the line of sight being bent by k (geometry, no
// table). 1500 m at 20° is 106 mm shorter than S·cos α.
func TestSlopeReduce_ExactTriangle(t *testing.T) {
	for _, c := range []struct{ slope, degrees float64 }{{1500, 20}, {800, 14.5}, {3000, -12}, {200, 35}} {
		for _, k := range []float64{0, 0.13, 0.25} {
			alt := c.degrees / 180 * math.Pi
			alt -= k / 2 * c.slope * math.Cos(alt) / EarthRadius // of the chord: the sight leaves above it
			arc := EarthRadius * math.Atan2(c.slope*math.Cos(alt), EarthRadius+c.slope*math.Sin(alt))
			hd, _ := Reduce(c.slope, reduce.FromDegrees(c.degrees), 0, 0, k)
			testdata.Near(t, "HD", hd, arc, 2e-4)
		}
	}
	hd, _ := Reduce(1500, reduce.FromDegrees(20), 0, 0, Refraction)
	testdata.Near(t, "S·cos α less HD", 1500*math.Cos(20*math.Pi/180)-hd, 0.106, 0.0005)
}

func TestSlopeLoss_S12(t *testing.T) {
	f := testdata.Published(t, "S12")
	for _, l := range f.All("loss") {
		hd, _ := Reduce(100, at(t, l[0]), 0, 0, 1)
		f.Meets(t, "slope less horizontal", 100-hd, l[1])
	}
}

func TestSlopeSD_F29(t *testing.T) {
	f := testdata.Published(t, "F29")
	s, z := f.One(t, "slope"), f.One(t, "zenith")
	alt := zenithAlt(t, z[0])
	hd, _ := Reduce(testdata.Num(t, s[0]), alt, 0, 0, 1)
	sd, _ := SD(testdata.Num(t, s[0]), alt, SDs{Slope: testdata.Num(t, s[1]), Altitude: testdata.Num(t, z[1])})
	f.Meets(t, "horizontal distance", hd, f.One(t, "horizontal")[0])
	f.Meets(t, "standard deviation of HD", sd, f.One(t, "sd")[0])
	wrong, _ := SD(testdata.Num(t, s[0]), alt, SDs{Slope: testdata.Num(t, s[1]), Altitude: testdata.Num(t, f.One(t, "misprint")[0])})
	if math.Abs(wrong-sd) < 0.001 {
		t.Error("65″ for 6.5″ makes no difference")
	}
}

// The standard deviations against differences of the formulas themselves.
func TestSlopeSD_Differences(t *testing.T) {
	const s, k = 850.0, 0.13
	alt := 7*reduce.Degree + 20*reduce.Arcminute
	sd := SDs{Slope: 0.004, Altitude: 3, HI: 0.001, HT: 0.002, K: 0.05}
	hd0, dh0 := Reduce(s, alt, 1.5, 2, k)
	var hh, dd float64
	add := func(hd, dh float64) { hh += (hd - hd0) * (hd - hd0); dd += (dh - dh0) * (dh - dh0) }
	add(Reduce(s+sd.Slope, alt, 1.5, 2, k))
	add(Reduce(s, alt+reduce.FromSeconds(sd.Altitude), 1.5, 2, k))
	add(Reduce(s, alt, 1.5+sd.HI, 2, k))
	add(Reduce(s, alt, 1.5, 2+sd.HT, k))
	add(Reduce(s, alt, 1.5, 2, k+sd.K))
	hd, dh := SD(s, alt, sd)
	testdata.Near(t, "HD", hd, math.Sqrt(hh), 5e-6) // the change of the curvature with α is left out
	testdata.Near(t, "Δh", dh, math.Sqrt(dd), 1e-5)
}

// An end is what is measured at one end of a line sighted both ways.
type end struct {
	altitude reduce.Angle
	hi, ht   float64
}

// bothWays is a line worked from both ends on a plane (k = 1): the height is half the
// difference of the rises, free of curvature and of a refraction alike at both ends, and
// their sum shows k.
func bothWays(slope float64, a, b end, radius float64) (dh, k float64) {
	hdThere, there := Reduce(slope, a.altitude, a.hi, a.ht, 1)
	hdBack, back := Reduce(slope, b.altitude, b.hi, b.ht, 1)
	return (there - back) / 2, Coefficient(1, there+back, (hdThere+hdBack)/2, radius)
}

func TestReciprocal_F33(t *testing.T) {
	f := testdata.Published(t, "F33")
	s, a := testdata.Num(t, f.One(t, "slope")[0]), f.One(t, "altitude")
	up, down := at(t, a[0]), -at(t, a[1])
	dh, k := bothWays(s, end{altitude: up}, end{altitude: down}, EarthRadius)
	f.Meets(t, "reciprocal height difference", dh, f.One(t, "rise")[0])
	f.Meets(t, "height", testdata.Num(t, f.One(t, "start")[0])+dh, f.One(t, "level")[0])
	if k < 0 || k > 0.3 {
		t.Errorf("k = %.3f", k)
	}
	single := f.One(t, "single") // 0.0675 K² is k = 0.14
	f.Meets(t, "height difference", heightDifference(s, up, 0, 0, 0.14), single[0])
	f.Meets(t, "height difference", -heightDifference(s, down, 0, 0, 0.14), single[1])
	// With the k of the pair both single sights say the same.
	testdata.Near(t, "there", heightDifference(s, up, 0, 0, k), dh, 0.002)
	testdata.Near(t, "back", -heightDifference(s, down, 0, 0, k), dh, 0.002)
}

func TestReciprocal_F13(t *testing.T) {
	f := testdata.Published(t, "F13")
	a := f.One(t, "altitude")
	up, down := at(t, a[0]), -at(t, a[1])
	s := testdata.Num(t, f.One(t, "horizontal")[0]) / math.Cos((up-down).Radians()/2)
	dh, k := bothWays(s, end{altitude: up}, end{altitude: down}, testdata.Num(t, f.One(t, "radius")[0]))
	f.Meets(t, "reciprocal height difference", dh, f.One(t, "rise")[0])
	f.Meets(t, "k from a pair", k, f.One(t, "k")[0])
}

// Made with a known height and k, found again; heights of instruments included.
func TestReciprocal_Truth(t *testing.T) {
	const s, dh, k = 2400.0, 31.7, 0.21
	alt := func(rise, hi, ht float64) reduce.Angle {
		a := 0.0
		for range 50 { // the altitude that SlopeReduce turns into this rise
			_, got := Reduce(s, reduce.FromRadians(a), hi, ht, k)
			a += (rise - got) / s
		}
		return reduce.FromRadians(a)
	}
	a := end{alt(dh, 1.55, 1.8), 1.55, 1.8}
	b := end{alt(-dh, 1.6, 2.1), 1.6, 2.1}
	got, gotK := bothWays(s, a, b, EarthRadius)
	testdata.Near(t, "Δh", got, dh, 1e-4)
	testdata.Near(t, "k", gotK, k, 1e-3)
	testdata.Near(t, "s of k", CoefficientSD(s, EarthRadius, 2, 0), EarthRadius/2400*2/206264.806*math.Sqrt2, 1e-3)
}

// Worked by hand with HD = S·sin z − S²·sin z·cos z·(1 − k/2)/R: 1500 m at 20°, k 0.13:
// 1500 × 0.939693 = 1409.539; 1500² × 0.939693 × 0.342020 × 0.935 / 6 371 000 = 0.106.
func TestSlopeReduce_ByHand(t *testing.T) {
	hd, _ := Reduce(1500, 20*reduce.Degree, 0, 0, 0.13)
	testdata.Near(t, "HD", hd, 1409.539-0.106, 5e-4)
}

func TestGradient_S12(t *testing.T) {
	f := testdata.Published(t, "S12")
	for _, l := range f.All("gradient") {
		f.Meets(t, "gradient", Gradient(at(t, l[0])), l[1])
		f.Meets(t, "gradient", -Gradient(-at(t, l[0])), l[1])
	}
	if !math.IsInf(Gradient(reduce.QuarterTurn), 1) || !math.IsInf(Gradient(-reduce.QuarterTurn), -1) {
		t.Error("a plumb line has no finite gradient")
	}
}

// at reads a written angle or ends the test.
func at(t testing.TB, s string) reduce.Angle {
	t.Helper()
	return testdata.Parsed(t, reduce.ParseDMS, s)
}

// TestMain holds the table of the largest differences to printed figures.
func TestMain(m *testing.M) {
	os.Exit(testdata.Differences(m, "differences-slope.md", func(quantity string) string {
		switch quantity {
		case "k from a pair":
			return ""
		case "gradient":
			return " %"
		}
		return " m or ft"
	}))
}
