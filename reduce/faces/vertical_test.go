package faces

import (
	"testing"

	"example.org/readback/reduce"
	"example.org/readback/reduce/precision"
	"example.org/readback/testdata"
)

// Published pairs on a zenith circle: F5 prints the correction, F6 the altitudes,
// F27 the inputs only.
func TestVerticalPair_Published(t *testing.T) {
	for _, name := range []string{"F5", "F6", "F27"} {
		f := testdata.Published(t, name)
		for _, l := range f.All("pair") {
			fl, fr := at(t, l[0]), at(t, l[1])
			alt, e := VerticalPair(fl, fr, Zenith)
			meetsAngle(t, f, "zenith angle of a pair", reduce.QuarterTurn-alt, l[2])
			f.Meets(t, "index correction", -e.Seconds(), l[3])
			if got, ok := RecognizeCircle(fl, fr, 10*reduce.Degree); !ok || got != Zenith {
				t.Errorf("%s: circle of %s taken for %v, %v", name, l[0], got, ok)
			}
		}
	}
	f := testdata.Published(t, "F6")
	l := f.One(t, "altitude")
	fl, fr := at(t, l[0]), at(t, l[1])
	mean, _ := VerticalPair(fl, fr, Zenith)
	for i, a := range []reduce.Angle{AltitudeFL(fl, Zenith), AltitudeFR(fr, Zenith), mean} {
		meetsAngle(t, f, "altitude", a, l[2+i])
	}
}

// F25: three direct and three reversed zenith readings on one target.
func TestVerticalPair_F25Set(t *testing.T) {
	f := testdata.Published(t, "F25").Cases()[2]
	var alts, index []float64
	right := f.One(t, "zenithreversed")
	for i, l := range f.One(t, "zenithdirect") {
		alt, e := VerticalPair(at(t, l), at(t, right[i]), Zenith)
		alts, index = append(alts, alt.Seconds()), append(index, e.Seconds())
	}
	alt, _ := precision.SampleSpread(alts)
	e, _ := precision.SampleSpread(index)
	meetsAngle(t, f, "zenith angle of a set", reduce.QuarterTurn-reduce.FromSeconds(alt), f.One(t, "zenith")[0])
	f.Meets(t, "index error of a set", e, f.One(t, "index")[0])
}

// A horizon circle is a zenith circle turned by a quarter, counting the other
// way on face left: the same line gives the same altitude and an index error of
// the opposite sign (definition; common practice, no source).
func TestVerticalPair_HorizonCircle(t *testing.T) {
	for _, c := range []struct{ fl, fr, alt, index reduce.Angle }{
		{dms(20, 1, 30), dms(159, 58, 0), dms(20, 1, 45), -15 * reduce.Arcsecond},
		{dms(359, 0, 10), dms(181, 0, 10), -dms(1, 0, 0), 10 * reduce.Arcsecond},
		{0, reduce.HalfTurn, 0, 0},
		{dms(359, 59, 58), dms(180, 0, 2), -2 * reduce.Arcsecond, 0},
	} {
		alt, e := VerticalPair(c.fl, c.fr, Horizon)
		if alt != c.alt || e != c.index {
			t.Errorf("%v, %v: altitude %v index %v, want %v and %v", c.fl, c.fr, alt, e, c.alt, c.index)
		}
		if got, ok := RecognizeCircle(c.fl, c.fr, reduce.Degree); !ok || got != Horizon {
			t.Errorf("%v, %v: circle taken for %v, %v", c.fl, c.fr, got, ok)
		}
	}
	if _, ok := RecognizeCircle(dms(70, 0, 0), dms(20, 0, 0), reduce.Degree); ok {
		t.Error("a pair on one face passed for a circle")
	}
}

func TestOfVertical(t *testing.T) {
	for _, c := range []struct {
		v      reduce.Angle
		circle Circle
		face   Face
	}{
		{dms(88, 0, 0), Zenith, FL}, {dms(272, 0, 0), Zenith, FR},
		{0, Zenith, NoFace}, {reduce.HalfTurn, Zenith, NoFace},
		{dms(2, 0, 0), Horizon, FL}, {dms(358, 0, 0), Horizon, FL},
		{dms(182, 0, 0), Horizon, FR}, {dms(90, 0, 0), Horizon, NoFace},
	} {
		if face := OfVertical(c.v, c.circle); face != c.face {
			t.Errorf("%v on a %v circle: %q", c.v, c.circle, face)
		}
	}
}
