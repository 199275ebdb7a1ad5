package reduce

import (
	"math"
	"testing"
)

// Published pairs on a zenith circle. F5 J. Mahun, Open Access Surveying Library
// 44-x D (printed correction); F6 structural.community topic 233 (printed
// altitudes); F25 Wolf & Ghilani problem set (inputs); F27 SUR 222 homework 5
// (inputs, answers recomputed).
func TestVerticalPair_Published(t *testing.T) {
	for _, c := range []struct {
		name, fl, fr, zenith string
		index                float64 // seconds; the correction is its negative
	}{
		{"F5 Mahun", "66 00 00", "286 00 00", "70 00 00", -4 * 3600},
		{"F5 Mahun, adjusted", "70 00 00", "290 00 00", "70 00 00", 0},
		{"F6", "69 58 30", "290 02 00", "69 58 15", 15},
		{"F27 1a", "88 51 10", "271 09 10", "88 51 00", 10},
		{"F27 1b", "89 44 14", "270 15 24", "89 44 25", -11},
		{"F27 1c", "83 06 12", "276 52 28", "83 06 52", -40},
		{"F27 3", "88 49 27", "271 10 49", "88 49 19", 8},
		{"F27 4", "90 02 13", "269 58 22", "90 01 55.5", 17.5},
	} {
		alt, e := VerticalPair(at(t, c.fl), at(t, c.fr), Zenith)
		if z := QuarterTurn - alt; z != at(t, c.zenith) {
			t.Errorf("%s: zenith angle %v, want %s", c.name, z, c.zenith)
		}
		if e != FromSeconds(c.index) {
			t.Errorf("%s: index error %v, want %v″", c.name, e, c.index)
		}
		if got, ok := RecognizeCircle(at(t, c.fl), at(t, c.fr), 10*Degree); !ok || got != Zenith {
			t.Errorf("%s: circle taken for %v, %v", c.name, got, ok)
		}
	}
}

// F6 also prints the altitude of each face.
func TestAltitude_F6(t *testing.T) {
	fl, fr := at(t, "69 58 30"), at(t, "290 02 00")
	if a := AltitudeFL(fl, Zenith); a != at(t, "20 01 30") {
		t.Errorf("face left %v", a)
	}
	if a := AltitudeFR(fr, Zenith); a != at(t, "20 02 00") {
		t.Errorf("face right %v", a)
	}
	if a, _ := VerticalPair(fl, fr, Zenith); a != at(t, "20 01 45") {
		t.Errorf("mean %v", a)
	}
}

// A horizon circle is a zenith circle turned by a quarter, counting the other
// way on face left: the same line gives the same altitude and an index error of
// the opposite sign (definition; common practice, no source).
func TestVerticalPair_HorizonCircle(t *testing.T) {
	for _, c := range []struct{ fl, fr, alt, index Angle }{
		{dms(20, 1, 30), dms(159, 58, 0), dms(20, 1, 45), -15 * Arcsecond},
		{dms(359, 0, 10), dms(181, 0, 10), -dms(1, 0, 0), 10 * Arcsecond},
		{0, HalfTurn, 0, 0},
		{dms(359, 59, 58), dms(180, 0, 2), -2 * Arcsecond, 0},
	} {
		alt, e := VerticalPair(c.fl, c.fr, Horizon)
		if alt != c.alt || e != c.index {
			t.Errorf("%v, %v: altitude %v index %v, want %v and %v", c.fl, c.fr, alt, e, c.alt, c.index)
		}
		if got, ok := RecognizeCircle(c.fl, c.fr, Degree); !ok || got != Horizon {
			t.Errorf("%v, %v: circle taken for %v, %v", c.fl, c.fr, got, ok)
		}
	}
	if _, ok := RecognizeCircle(dms(70, 0, 0), dms(20, 0, 0), Degree); ok {
		t.Error("a pair on one face passed for a circle")
	}
}

func TestFaceOfVertical(t *testing.T) {
	for _, c := range []struct {
		v         Angle
		circle    Circle
		right, ok bool
	}{
		{dms(88, 0, 0), Zenith, false, true}, {dms(272, 0, 0), Zenith, true, true},
		{0, Zenith, false, false}, {HalfTurn, Zenith, false, false},
		{dms(2, 0, 0), Horizon, false, true}, {dms(358, 0, 0), Horizon, false, true},
		{dms(182, 0, 0), Horizon, true, true}, {dms(90, 0, 0), Horizon, false, false},
	} {
		if right, ok := FaceOfVertical(c.v, c.circle); right != c.right || ok != c.ok {
			t.Errorf("%v on a %v circle: right %v, known %v", c.v, c.circle, right, ok)
		}
	}
}

// S12 gradient table, 100 tan a, printed to 0.001 %.
func TestGradient_S12(t *testing.T) {
	for _, c := range []struct {
		d, m, s int64
		want    float64
	}{
		{0, 30, 0, .873}, {1, 0, 0, 1.746}, {2, 0, 0, 3.492}, {3, 0, 0, 5.241}, {5, 0, 0, 8.749}, {5, 42, 38, 10},
		{10, 0, 0, 17.633}, {15, 0, 0, 26.795}, {20, 0, 0, 36.397}, {30, 0, 0, 57.735}, {45, 0, 0, 100},
	} {
		a := dms(c.d, c.m, float64(c.s))
		near(t, a.String(), Gradient(a), c.want, 0.0005)
		near(t, (-a).String(), Gradient(-a), -c.want, 0.0005)
	}
	if !math.IsInf(Gradient(QuarterTurn), 1) || !math.IsInf(Gradient(-QuarterTurn), -1) {
		t.Error("a plumb line has no finite gradient")
	}
}
