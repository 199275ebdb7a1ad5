package slope

import (
	"math"
	"testing"

	"example.org/readback/reduce"
	"example.org/readback/testdata"
)

// P27: IAG resolution 3, 1999. One value read in an instrument maker's handbook that
// says it uses it: 658 nm, 1013.25 hPa, 12 °C, 60 % → n = 1.0002863. The others are
// computed independently of this program.
func TestAir_Refractivity(t *testing.T) {
	testdata.Near(t, "handbook", Air{12, 1013.25, 60}.Refractivity(0.658), 286.3, 0.05)
	testdata.Near(t, "658 nm", Air{12, 1013.25, 60}.Refractivity(0.658), 286.339, 0.0005)
	for _, c := range []struct {
		air  Air
		want float64
	}{{Air{15, 1013.25, 0}, 279.178}, {Air{20, 1013.25, 60}, 273.878}, {Air{-10, 850, 50}, 256.386}} {
		testdata.Near(t, "850 nm", c.air.Refractivity(0.850), c.want, 0.0005)
	}
	at := Air{20, 1013.25, 60}
	warm, dense := at, at
	warm.Celsius++
	dense.Pressure++
	warm.Humidity = at.Humidity * at.Vapour() / Air{21, 0, 60}.Vapour() // the same vapour
	testdata.Near(t, "a degree warmer, ppm", warm.Refractivity(0.850)-at.Refractivity(0.850), -0.965, 0.04)
	testdata.Near(t, "1 hPa more, ppm", dense.Refractivity(0.850)-at.Refractivity(0.850), 0.271, 0.0005)
	testdata.Near(t, "correction", at.AtmospherePPM(0.850, 279.178, 0), 5.3, 0.0005)
	if n := (Air{15, 1013.25, 0}).Refractivity(0.850); math.Abs(n-(Air{15, 1013.25, 0}).Refractivity(0.6328)) < 1 {
		t.Error("the wave makes no difference")
	}
}

// P28: the two simple formulas of instrument handbooks, against the closed one: they
// agree to their own step where the reference is theirs.
func TestAir_SimpleFormulas(t *testing.T) {
	simple := func(c, p float64) float64 { return 278.960 - 0.2902*p/(1+0.0036*c) }
	testdata.Near(t, "20 °C, 1013 hPa", simple(20, 1013), 4.73, 0.005)
	ours := Air{20, 1013, 0}.AtmospherePPM(0.850, 279.178, 0)
	testdata.Near(t, "closed formula", ours, simple(20, 1013), 0.5)
}

// P29: J. Mahun, reduction example ch. L: weighted 1.000209086.
func TestLineScale_Mahun(t *testing.T) {
	testdata.Near(t, "along the line", LineScale(1.000206404, 1.000209086, 1.00021177), 1.000209086, 0.51e-9)
	ellipsoid := 1305.3993 / LineScale(1.000206404, 1.000209086, 1.00021177)
	testdata.Near(t, "grid length with the scale of one end, m", ellipsoid*1.00021177, 1305.4028, 0.00005)
}

// P30: A.K. Arora, Surveying vol. 3, ex. 3.1 (open transcription, which takes degrees
// for radians and prints 25108.53). Recomputed: chord at station level 25104.327, sea
// level 25103.062.
func TestCorrect_SeaLevelArora(t *testing.T) {
	alt := reduce.FromDegrees(3 + 9.0/60 + 40.0/3600)
	// The mean of both ends: half the angle at the centre, which the rule takes off
	// through the slope, stands between the chord and the horizon of one end.
	level := 25145.32 * math.Cos(alt.Radians()+25104.327/6370000/2) / math.Cos(25104.327/6370000/2)
	testdata.Near(t, "chord at station level", level, 25104.327, 0.0005)
	w := Rule{SeaLevel: true, Height: 325.14, Radius: 6370000, Refraction: 2}.Correct(level, 0)
	arc := w.Grid + w.Grid*w.Grid*w.Grid/(24*6370000*6370000)
	testdata.Near(t, "sea level, along the arc", arc, 25103.062, 0.0005)
	if math.Abs(w.Grid-25108.53) < 1 {
		t.Error("the radians of the page agree")
	}
}

// P32: J. Mahun, EDM ch. C-2 (feet): the printed 0.096 is twice what the formula
// gives; ours is the half, 0.048.
func TestCorrect_CurvatureMahun(t *testing.T) {
	z := 81*reduce.Degree + 10*reduce.Arcminute + 25*reduce.Arcsecond
	rule := Rule{Refraction: 0.14, Radius: 20.906e6}
	flat := 2677.36 * math.Sin(z.Radians())
	w := rule.Correct(2677.36, reduce.QuarterTurn-z)
	testdata.Near(t, "flat less curved, ft", flat-w.Horizontal, 0.0483, 0.0005)
}

func TestCorrect_EveryLineAddsUp(t *testing.T) {
	r := Rule{PPM: 12, Prism: -0.0345, Refraction: 0.13, SeaLevel: true, Height: 800, Scale: 0.9996}
	w := r.Correct(1234.567, 5*reduce.Degree)
	testdata.Near(t, "slope", w.Displayed+w.Atmosphere+w.Prism, w.Slope, 1e-12)
	testdata.Near(t, "grid", w.Slope+w.Bow+w.SeaLevel+w.Scale, w.Grid, 1e-9)
	plain := Rule{Refraction: 2}.Correct(100, 0) // k = 2: the line bends with the Earth
	testdata.Near(t, "nothing to correct", plain.Grid, 100, 1e-12)
}
