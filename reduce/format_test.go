package reduce

import (
	"testing"

	"example.org/readback/testdata"
)

func TestFormat_RoundsThenSplits(t *testing.T) {
	for _, c := range []struct {
		a      Angle
		unit   Unit
		places int
		want   string
		dir    string
	}{
		{dms(0, 0, 59.96), DMS, 1, "0°01′00.0″", "0°01′00.0″"},
		{dms(0, 59, 59.5), DMS, 0, "1°00′00″", "1°00′00″"},
		{dms(359, 59, 59.96), DMS, 1, "360°00′00.0″", "0°00′00.0″"},
		{dms(359, 59, 59.94), DMS, 1, "359°59′59.9″", "359°59′59.9″"},
		{dms(5, 4, 9), DMS, 0, "5°04′09″", "5°04′09″"},
		{-12 * Arcsecond, DMS, 0, "−0°00′12″", "359°59′48″"},
		{-400_000, DMS, 0, "0°00′00″", "0°00′00″"},
		{-500_000, DMS, 0, "−0°00′01″", "0°00′00″"},
		{dms(12, 0, 2.5), DMS, 0, "12°00′03″", "12°00′03″"},
		{-dms(12, 0, 2.5), DMS, 0, "−12°00′03″", "347°59′58″"},
		{1, DMS, 6, "0°00′00.000001″", "0°00′00.000001″"},
		{1, DMS, 9, "0°00′00.000001″", "0°00′00.000001″"},
		{400*Gon - 1, GonUnit, 4, "400.0000", "0.0000"},
		{123*Gon + 4567*Milligon/10, GonUnit, 4, "123.4567", "123.4567"},
		{123*Gon + 45675*Milligon/100, GonUnit, 4, "123.4568", "123.4568"},
		{-5 * Milligon, GonUnit, 3, "−0.005", "399.995"},
		{Gon / 2, GonUnit, 0, "1", "1"},
		{324, GonUnit, 7, "0.0000001", "0.0000001"},
		{324, GonUnit, 12, "0.0000001", "0.0000001"},
		{324, GonUnit, -3, "0", "0"},
		{Degree/8 + 123*Degree, DegreeUnit, 4, "123.1250", "123.1250"},
		{-Degree / 10000, DegreeUnit, 4, "−0.0001", "359.9999"},
		{36, DegreeUnit, 12, "0.00000001", "0.00000001"},
		{6400*Mil - Mil/100, MilUnit, 1, "6400.0", "0.0"},
		{1234*Mil + 3*Mil/10, MilUnit, 1, "1234.3", "1234.3"},
		{2025, MilUnit, 9, "0.00001", "0.00001"},
		{7116799 * Turn, DMS, 0, "2562047640°00′00″", "0°00′00″"},
	} {
		if got := c.a.Format(c.unit, c.places); got != c.want {
			t.Errorf("%d at %d places: %s, want %s", c.a, c.places, got, c.want)
		}
		if got := DirectionAt(c.a).Format(c.unit, c.places); got != c.dir {
			t.Errorf("direction %d at %d places: %s, want %s", c.a, c.places, got, c.dir)
		}
	}
}

func TestFormatSeconds(t *testing.T) {
	for _, c := range []struct {
		a      Angle
		places int
		want   string
	}{
		{12*Arcsecond + 500_000, 1, "+12.5″"}, {-6 * Arcsecond, 0, "−6″"}, {0, 0, "+0″"}, {-400_000, 0, "+0″"}, {dms(0, 2, 0), 0, "+120″"},
		{-59_960_000, 1, "−60.0″"}, {1, 12, "+0.000001″"},
	} {
		if got := c.a.FormatSeconds(c.places); got != c.want {
			t.Errorf("%d: %s, want %s", c.a, got, c.want)
		}
	}
}

func TestPlaces(t *testing.T) {
	for _, c := range []struct {
		u    Unit
		lc   Angle
		want int
	}{
		{DMS, Arcsecond, 0}, {DMS, 5 * Arcsecond, 0}, {DMS, 20 * Arcsecond, 0}, {DMS, Arcsecond / 2, 1}, {DMS, Arcsecond / 10, 1}, {DMS, 0, 0}, {DMS, 1, 6},
		{GonUnit, Milligon, 3}, {GonUnit, 5 * Milligon, 3}, {GonUnit, Milligon / 10, 4}, {GonUnit, Milligon / 5, 4}, {GonUnit, Gon, 0}, {GonUnit, 324, 7},
		{DegreeUnit, Degree / 10000, 4}, {DegreeUnit, 5 * Degree / 1000, 3}, {DegreeUnit, 36, 8}, {MilUnit, Mil / 10, 1}, {MilUnit, Mil / 2, 1}, {MilUnit, Mil, 0}, {MilUnit, 1, 5},
	} {
		if got := Places(c.u, c.lc); got != c.want {
			t.Errorf("%v at %d: %d places, want %d", c.u, c.lc, got, c.want)
		}
	}
}

// S12: definitions of the units.
func TestUnits_S12(t *testing.T) {
	f := testdata.Published(t, "S12")
	for _, l := range f.All("gon") {
		f.Meets(t, "gon", float64(at(t, l[0]))/float64(Gon), l[1])
	}
	// Mils: forward less rear. The page prints 1093.649.
	const mil = Turn / 6400
	l := f.One(t, "mil")
	got := testdata.Num(t, l[0]) - testdata.Num(t, l[1])
	f.Meets(t, "horizontal angle in mils", got, l[2])
	if m := f.One(t, "misprint")[0]; got-testdata.Num(t, m) > -testdata.HalfUnit(m) {
		t.Errorf("the misprint %s agrees", m)
	}
	if mil*6400 != Turn || Gon*400 != Turn || mil != 202_500_000 {
		t.Error("a unit is not exact")
	}
}

// A gross difference is printed about as large as it is, not as hundreds of thousands of
// seconds (plain arithmetic); one that is allowed as it stands.
func TestSizeAgainst_Gross(t *testing.T) {
	for _, c := range []struct {
		a, limit Angle
		u        Unit
		want     string
	}{
		{324000 * Arcsecond, 10 * Arcsecond, DMS, "about 90°"},
		{-(Degree + 29*Arcsecond), 10 * Arcsecond, DMS, "about 1°00′"},
		{Gon * 11 / 10, Milligon, GonUnit, "about 1.1 gon"},
		{599 * Arcsecond, 10 * Arcsecond, DMS, "599″"},
		{700 * Arcsecond, 800 * Arcsecond, DMS, "700″"},
	} {
		if got, _ := c.a.SizeAgainst(c.limit, c.u); got != c.want {
			t.Errorf("%v: %q, expected %q", c.a, got, c.want)
		}
	}
}

// A figure and its limit never print alike where they are not (plain arithmetic).
func TestFormatAgainst(t *testing.T) {
	const s = Arcsecond
	for _, c := range []struct {
		a, limit     Angle
		u            Unit
		value, bound string
	}{
		{45 * s / 10, 45 * s / 10, DMS, "+4.5″", "4.5″"},
		{452 * s / 100, 45 * s / 10, DMS, "+4.52″", "4.50″"},
		{-452 * s / 100, 45 * s / 10, DMS, "−4.52″", "4.50″"},
		{4500100 * s / 1000000, 45 * s / 10, DMS, "+4.5001″", "4.5000″"},
		{20 * s, 15 * s, DMS, "+20″", "15″"},
		{Milligon + Milligon/50, Milligon, GonUnit, "+1.02 mgon", "1.00 mgon"},
		{-2 * Milligon, Milligon, GonUnit, "−2 mgon", "1 mgon"},
	} {
		value, bound := c.a.FormatAgainst(c.limit, c.u)
		if value != c.value || bound != c.bound {
			t.Errorf("%v against %v: %s, %s, expected %s, %s", c.a, c.limit, value, bound, c.value, c.bound)
		}
	}
}
