package reduce

import (
	"math"
	"testing"
)

// zenithAlt is the altitude of a printed zenith angle.
func zenithAlt(t *testing.T, s string) Angle { return QuarterTurn - at(t, s) }

// heightDifference is the second result of SlopeReduce.
func heightDifference(slope float64, alt Angle, hi, ht, k float64) float64 {
	_, dh := SlopeReduce(slope, alt, hi, ht, k)
	return dh
}

// F27 works in feet without curvature and refraction: k = 1.
func TestSlopeReduce_F27(t *testing.T) {
	f := published(t, "F27")
	for _, l := range f.all("line") {
		hd, dh := SlopeReduce(num(t, l[2]), zenithAlt(t, l[1]), 0, 0, 1)
		f.meets(t, "horizontal distance", hd, l[3])
		f.meets(t, "rise", dh, l[4])
	}
	for _, l := range f.all("elevation") {
		dh := heightDifference(num(t, l[3]), zenithAlt(t, l[2]), num(t, l[4]), num(t, l[5]), 1)
		f.meets(t, "height", num(t, l[1])+dh, l[6])
	}
	for _, l := range f.all("backsight") {
		dh := heightDifference(num(t, l[3]), zenithAlt(t, l[2]), num(t, l[4]), num(t, l[5]), 1)
		f.meets(t, "height", num(t, l[1])-dh, l[6])
	}
}

func TestSlopeReduce_F15Misprint(t *testing.T) {
	f := published(t, "F15")
	alt, h := at(t, f.one(t, "altitude")[0]), f.one(t, "heights")
	s := num(t, f.one(t, "slope")[0])
	rise := heightDifference(s, alt, 0, 0, 1)
	dh := heightDifference(s, alt, num(t, h[0]), num(t, h[1]), 1)
	f.meets(t, "rise", rise, f.one(t, "rise")[0])
	f.meets(t, "height difference", dh, f.one(t, "dh")[0])
	for i, x := range []float64{rise, dh} {
		if m := f.one(t, "misprint")[i]; math.Abs(x-num(t, m)) <= tolerance(m) {
			t.Errorf("the misprint %s agrees", m)
		}
	}
	f.meets(t, "curvature and refraction", curvatureRefraction(1000, 0.14, 20906000), f.one(t, "perkft")[0])
	f.meets(t, "curvature and refraction", curvatureRefraction(1000, 0.14, EarthRadius), f.one(t, "perkm")[0])
}

func TestCurvatureRefraction_F14(t *testing.T) {
	f := published(t, "F14")
	radius, k := num(t, f.one(t, "radius")[0]), num(t, f.one(t, "k")[0])
	for _, l := range f.all("row") {
		d := num(t, l[0])
		c, both := curvatureRefraction(d, 0, radius), curvatureRefraction(d, k, radius)
		f.meets(t, "curvature", c, l[1])
		// The page carries nine decimals and is right to the seventh.
		near(t, "refraction "+l[0], c-both, num(t, l[2]), 1e-7)
		f.meets(t, "curvature and refraction", both, l[3])
	}
}

func TestCurvatureRefraction_M9(t *testing.T) {
	f := published(t, "M9")
	for _, l := range f.all("metric") {
		f.meets(t, "curvature and refraction", curvatureRefraction(1000, num(t, l[1]), EarthRadius), l[2])
	}
	for _, l := range f.all("feet") {
		f.meets(t, "curvature and refraction", curvatureRefraction(1000, num(t, l[1]), EarthRadius/InternationalFoot), l[2])
	}
}

func TestHorizontal_F30(t *testing.T) {
	f := published(t, "F30")
	l := f.one(t, "angle")
	hd, _ := SlopeReduce(num(t, l[0]), at(t, l[1]), 0, 0, Refraction)
	f.meets(t, "horizontal distance", hd, l[2])
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
			hd, _ := SlopeReduce(c.slope, FromDegrees(c.degrees), 0, 0, k)
			near(t, "HD", hd, arc, 2e-4)
		}
	}
	hd, _ := SlopeReduce(1500, FromDegrees(20), 0, 0, Refraction)
	near(t, "S·cos α less HD", 1500*math.Cos(20*math.Pi/180)-hd, 0.106, 0.0005)
}

func TestSlopeLoss_S12(t *testing.T) {
	f := published(t, "S12")
	for _, l := range f.all("loss") {
		hd, _ := SlopeReduce(100, at(t, l[0]), 0, 0, 1)
		f.meets(t, "slope less horizontal", 100-hd, l[1])
	}
}

func TestSlopeSD_F29(t *testing.T) {
	f := published(t, "F29")
	s, z := f.one(t, "slope"), f.one(t, "zenith")
	alt := zenithAlt(t, z[0])
	hd, _ := SlopeReduce(num(t, s[0]), alt, 0, 0, 1)
	sd, _ := SlopeSD(num(t, s[0]), alt, SlopeSDs{Slope: num(t, s[1]), Altitude: num(t, z[1])})
	f.meets(t, "horizontal distance", hd, f.one(t, "horizontal")[0])
	f.meets(t, "standard deviation of HD", sd, f.one(t, "sd")[0])
	wrong, _ := SlopeSD(num(t, s[0]), alt, SlopeSDs{Slope: num(t, s[1]), Altitude: num(t, f.one(t, "misprint")[0])})
	if math.Abs(wrong-sd) < 0.001 {
		t.Error("65″ for 6.5″ makes no difference")
	}
}

// The standard deviations against differences of the formulas themselves.
func TestSlopeSD_Differences(t *testing.T) {
	const s, k = 850.0, 0.13
	alt := dms(7, 20, 0)
	sd := SlopeSDs{Slope: 0.004, Altitude: 3, HI: 0.001, HT: 0.002, K: 0.05}
	hd0, dh0 := SlopeReduce(s, alt, 1.5, 2, k)
	var hh, dd float64
	add := func(hd, dh float64) { hh += (hd - hd0) * (hd - hd0); dd += (dh - dh0) * (dh - dh0) }
	add(SlopeReduce(s+sd.Slope, alt, 1.5, 2, k))
	add(SlopeReduce(s, alt+FromSeconds(sd.Altitude), 1.5, 2, k))
	add(SlopeReduce(s, alt, 1.5+sd.HI, 2, k))
	add(SlopeReduce(s, alt, 1.5, 2+sd.HT, k))
	add(SlopeReduce(s, alt, 1.5, 2, k+sd.K))
	hd, dh := SlopeSD(s, alt, sd)
	near(t, "HD", hd, math.Sqrt(hh), 5e-6) // the change of the curvature with α is left out
	near(t, "Δh", dh, math.Sqrt(dd), 1e-5)
}

func TestReciprocal_F33(t *testing.T) {
	f := published(t, "F33")
	s, a := num(t, f.one(t, "slope")[0]), f.one(t, "altitude")
	up, down := at(t, a[0]), -at(t, a[1])
	dh, k := Reciprocal(s, End{Altitude: up}, End{Altitude: down}, EarthRadius)
	f.meets(t, "reciprocal height difference", dh, f.one(t, "rise")[0])
	f.meets(t, "height", num(t, f.one(t, "start")[0])+dh, f.one(t, "level")[0])
	if k < 0 || k > 0.3 {
		t.Errorf("k = %.3f", k)
	}
	single := f.one(t, "single") // 0.0675 K² is k = 0.14
	f.meets(t, "height difference", heightDifference(s, up, 0, 0, 0.14), single[0])
	f.meets(t, "height difference", -heightDifference(s, down, 0, 0, 0.14), single[1])
	// With the k of the pair both single sights say the same.
	near(t, "there", heightDifference(s, up, 0, 0, k), dh, 0.002)
	near(t, "back", -heightDifference(s, down, 0, 0, k), dh, 0.002)
}

func TestReciprocal_F13(t *testing.T) {
	f := published(t, "F13")
	a := f.one(t, "altitude")
	up, down := at(t, a[0]), -at(t, a[1])
	s := num(t, f.one(t, "horizontal")[0]) / math.Cos((up-down).Radians()/2)
	dh, k := Reciprocal(s, End{Altitude: up}, End{Altitude: down}, num(t, f.one(t, "radius")[0]))
	f.meets(t, "reciprocal height difference", dh, f.one(t, "rise")[0])
	f.meets(t, "k from a pair", k, f.one(t, "k")[0])
}

// Made with a known height and k, found again; heights of instruments included.
func TestReciprocal_Truth(t *testing.T) {
	const s, dh, k = 2400.0, 31.7, 0.21
	alt := func(rise, hi, ht float64) Angle {
		a := 0.0
		for range 50 { // the altitude that SlopeReduce turns into this rise
			_, got := SlopeReduce(s, FromRadians(a), hi, ht, k)
			a += (rise - got) / s
		}
		return FromRadians(a)
	}
	a := End{alt(dh, 1.55, 1.8), 1.55, 1.8}
	b := End{alt(-dh, 1.6, 2.1), 1.6, 2.1}
	got, gotK := Reciprocal(s, a, b, EarthRadius)
	near(t, "Δh", got, dh, 1e-4)
	near(t, "k", gotK, k, 1e-3)
	sd, sdK := ReciprocalSD(s, a, b, EarthRadius, 2, 0)
	near(t, "s of Δh", sd, 2400*2/206264.806*math.Sqrt2/2, 1e-4)
	near(t, "s of k", sdK, EarthRadius/2400*2/206264.806*math.Sqrt2, 1e-3)
}

// Definitions of the two feet; a survey foot is 2 parts in a million longer.
func TestFeet(t *testing.T) {
	near(t, "2 ppm", (USSurveyFoot/InternationalFoot-1)*1e6, 2, 0.0001)
	near(t, "3937 survey feet", 3937*USSurveyFoot, 1200, 1e-9)
}

// Worked by hand with HD = S·sin z − S²·sin z·cos z·(1 − k/2)/R: 1500 m at 20°, k 0.13:
// 1500 × 0.939693 = 1409.539; 1500² × 0.939693 × 0.342020 × 0.935 / 6 371 000 = 0.106.
func TestSlopeReduce_ByHand(t *testing.T) {
	hd, _ := SlopeReduce(1500, 20*Degree, 0, 0, 0.13)
	near(t, "HD", hd, 1409.539-0.106, 5e-4)
}
