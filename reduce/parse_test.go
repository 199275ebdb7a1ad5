package reduce

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParseKeyed_Good(t *testing.T) {
	const tenth, mgon = Arcsecond / 10, Milligon
	for _, c := range []struct {
		in   string
		unit Unit
		lc   Angle
		want Angle
	}{
		{"1234512", DMS, Arcsecond, dms(123, 45, 12)},
		{"123 45 12", DMS, Arcsecond, dms(123, 45, 12)},
		{"123.45.12", DMS, Arcsecond, dms(123, 45, 12)},
		{"123 45.12", DMS, Arcsecond, dms(123, 45, 12)},
		{"  123  45 12 ", DMS, Arcsecond, dms(123, 45, 12)},
		{"00000", DMS, Arcsecond, 0},
		{"10203", DMS, Arcsecond, dms(1, 2, 3)},
		{"1 2 3", DMS, Arcsecond, dms(1, 2, 3)},
		{"007 05 09", DMS, Arcsecond, dms(7, 5, 9)},
		{"3595959", DMS, Arcsecond, Turn - Arcsecond},
		{"1234512.5", DMS, Arcsecond / 2, dms(123, 45, 12.5)},
		{"123 45 12.5", DMS, tenth, dms(123, 45, 12.5)},
		{"123.45.12.5", DMS, tenth, dms(123, 45, 12.5)},
		{"1234512.50", DMS, tenth, dms(123, 45, 12.5)},
		{"1234512.123456", DMS, 0, dms(123, 45, 12) + 123456},
		{"1234512", DMS, tenth, dms(123, 45, 12)},
		{"1234512,5", DMS, Arcsecond / 2, dms(123, 45, 12.5)},
		{"123 45 12,5", DMS, tenth, dms(123, 45, 12.5)},
		{"123.45.12,5", DMS, tenth, dms(123, 45, 12.5)},
		{"12,3456", GonUnit, mgon / 10, 12*Gon + 3456*mgon/10},
		{"0", GonUnit, mgon, 0},
		{"123.4567", GonUnit, mgon / 10, 123*Gon + 4567*mgon/10},
		{" 399.999 ", GonUnit, mgon, 400*Gon - mgon},
		{"12.3400", GonUnit, mgon, 12*Gon + 340*mgon},
		{"0.0000001", GonUnit, 0, 324},
		{"123.4567", DegreeUnit, Degree / 10000, 123*Degree + 4567*Degree/10000},
		{"359.99999999", DegreeUnit, 0, Turn - 36},
		{"6399.9", MilUnit, Mil / 10, Turn - Mil/10},
		{"1600", MilUnit, Mil / 10, QuarterTurn},
		{"0,5", MilUnit, Mil / 10, 101_250_000},
	} {
		got, err := ParseKeyed(c.in, c.unit, c.lc)
		if err != nil || got != c.want {
			t.Errorf("%q: %v, %v, want %v", c.in, got, err, c.want)
		}
	}
}

// The caret ∑ marks where the error must point.
func TestParseKeyed_Bad(t *testing.T) {
	for _, c := range []struct {
		in   string
		unit Unit
		lc   Angle
		kind error
	}{
		{"∑", DMS, Arcsecond, ErrIncomplete},
		{"123∑,45,12", DMS, 0, errSyntax},
		{"123 45∑,12", DMS, 0, errSyntax},
		{"123∑,45.12", DMS, 0, errSyntax},
		{"12∑,345.6", GonUnit, 0, errSyntax},
		{"12∑,3,4", GonUnit, 0, errSyntax},
		{"∑   ", DMS, Arcsecond, ErrIncomplete},
		{"123∑", DMS, Arcsecond, ErrIncomplete},
		{"1234∑", DMS, Arcsecond, ErrIncomplete},
		{"123 45∑", DMS, Arcsecond, ErrIncomplete},
		{"123.45∑", DMS, Arcsecond, ErrIncomplete},
		{"123 45 12.∑", DMS, Arcsecond, ErrIncomplete},
		{"123.∑", DMS, Arcsecond, ErrIncomplete},
		{"123 45 12.∑", DMS, Arcsecond / 10, ErrIncomplete},
		{"1234512.∑5", DMS, Arcsecond, ErrPrecision},
		{"1234512.∑0", DMS, Arcsecond, ErrPrecision},
		{"123 45 12.∑5", DMS, Arcsecond, ErrPrecision},
		{"123451∑2", DMS, 5 * Arcsecond, ErrPrecision},
		{"123 45 12.∑1234567", DMS, Arcsecond / 10, ErrPrecision},
		{"123 45 12.1∑2 ", DMS, Arcsecond / 10, ErrPrecision},
		{"∑3600000", DMS, Arcsecond, errRange},
		{" ∑360 00 00", DMS, Arcsecond, errRange},
		{"∑1234 05 06", DMS, Arcsecond, errRange},
		{"123∑6012", DMS, Arcsecond, errRange},
		{"12345∑60", DMS, Arcsecond, errRange},
		{"123 ∑60 12", DMS, Arcsecond, errRange},
		{"123 ∑045 12", DMS, Arcsecond, errRange},
		{"12 12 ∑60", DMS, Arcsecond, errRange},
		{"1234512∑34", DMS, Arcsecond, errRange},
		{"  1234512∑34", DMS, Arcsecond, errRange},
		{"123 45 12 ∑6", DMS, Arcsecond, errSyntax},
		{"1 2 3 ∑4 5", DMS, Arcsecond, errSyntax},
		{"∑.1234512", DMS, Arcsecond, errSyntax},
		{"123.∑.45.12", DMS, Arcsecond, errSyntax},
		{"123 ∑.45", DMS, Arcsecond, errSyntax},
		{"123∑,45", DMS, Arcsecond, errSyntax},
		{"123 ∑-45 12", DMS, Arcsecond, errSyntax},
		{"12∑°03′04″", DMS, Arcsecond, errSyntax},
		{"∑١٢٣٤٥", DMS, Arcsecond, errSyntax},
		{"1∑\x00", DMS, Arcsecond, errSyntax},
		{"∑", GonUnit, Milligon, ErrIncomplete},
		{"12.∑", GonUnit, Milligon, ErrIncomplete},
		{"∑.5", GonUnit, Milligon, errSyntax},
		{"3.1.∑", GonUnit, Milligon, errSyntax},
		{"12∑ 5", GonUnit, Milligon, errSyntax},
		{"12∑ ", GonUnit, Milligon, nil},
		{"∑400", GonUnit, Milligon, errRange},
		{"∑360", DegreeUnit, 0, errRange},
		{"∑0012", DegreeUnit, 0, errRange},
		{"0.12345678∑9", DegreeUnit, 0, ErrPrecision},
		{"∑6400", MilUnit, Mil / 10, errRange},
		{"∑01234", MilUnit, Mil / 10, errRange},
		{"12.3∑5", MilUnit, Mil / 10, ErrPrecision},
		{"12.12345∑6", MilUnit, 0, ErrPrecision},
		{"∑0012", GonUnit, Milligon, errRange},
		{"12.345∑6", GonUnit, Milligon, ErrPrecision},
		{"12.1234567∑8", GonUnit, 0, ErrPrecision},
		{"1∑e2", GonUnit, Milligon, errSyntax},
		{"∑-1", GonUnit, Milligon, errSyntax},
	} {
		before, after, _ := strings.Cut(c.in, "∑")
		checkParseError(t, before+after, len(before), c.kind, second(ParseKeyed(before+after, c.unit, c.lc)))
	}
}

// checkParseError wants an error of a kind at a place; a kind of nil wants none. A
// text that ends incomplete may be marked there or at a second full stop.
func checkParseError(t *testing.T, in string, offset int, kind, err error) {
	t.Helper()
	var p *ParseError
	switch {
	case kind == nil:
		if err != nil {
			t.Errorf("%q: %v", in, err)
		}
	case !errors.Is(err, kind) || !errors.As(err, &p):
		t.Errorf("%q: got %v, want %v", in, err, kind)
	case p.Input != in || p.What == "" || strings.Contains(p.What, "%!"):
		t.Errorf("%q: error about %q: %q", in, p.Input, p.What)
	case p.Offset != offset && in != "3.1.":
		t.Errorf("%q: points at %d, want %d: %v", in, p.Offset, offset, err)
	}
}

func TestParseMillionths(t *testing.T) {
	for in, want := range map[string]int64{"12.345": 12_345_000, "12,345": 12_345_000, " 1 ": 1_000_000, "0.000001": 1, "999999.999999": 999_999_999_999} {
		if got, err := ParseMillionths(in); err != nil || got != want {
			t.Errorf("%q: %d, %v, want %d", in, got, err, want)
		}
	}
	for _, c := range []struct {
		in   string
		at   int
		kind error
	}{
		{"", 0, ErrIncomplete}, {"12.", 3, ErrIncomplete}, {".5", 0, errSyntax}, {"-1", 0, errSyntax}, {"1 2", 1, errSyntax}, {"1.2.3", 1, errSyntax},
		{"1e3", 1, errSyntax}, {"1000000", 0, errRange}, {"1.1234567", 8, ErrPrecision}, {"12,5,1", 2, errSyntax}, {"1,234.5", 1, errSyntax},
	} {
		checkParseError(t, c.in, c.at, c.kind, second(ParseMillionths(c.in)))
	}
}

func TestParseDMS(t *testing.T) {
	want := dms(123, 45, 6)
	for _, s := range []string{"123 45 06", "123 45 6", "123°45′06″", "123° 45′ 06″", "123d45m06s", "123d 45m 06", "123°45'06\"", " 123 45 06 ", "123°45′06"} {
		if got, err := ParseDMS(s); err != nil || got != want {
			t.Errorf("%q: %v, %v", s, got, err)
		}
	}
	if got, err := ParseDMS("0°00′00.000001″"); err != nil || got != 1 {
		t.Errorf("%v, %v", got, err)
	}
	for _, c := range []struct {
		in   string
		kind error
	}{
		{"∑", ErrIncomplete}, {"123∑", ErrIncomplete}, {"123 45 ∑", ErrIncomplete}, {"123°45′∑", ErrIncomplete}, {"123 45 06.∑", ErrIncomplete},
		{"123°∑°45′06″", errSyntax}, {"123 45 06,∑ 5", errSyntax}, {"123 45 06.∑ 5", errSyntax}, {"123 45 06 ∑.5", errSyntax}, {"123 45 06 ∑07", errSyntax},
		{"123 45 06.5 ∑7", errSyntax}, {"∑-1 02 03", errSyntax}, {"∑abc", errSyntax}, {"123°∑ 45′06″", nil}, {"123∑:45:06", errSyntax}, {"123∑.45.06", errSyntax},
		{"∑360 00 00", errRange}, {"1 ∑60 00", errRange}, {"1 00 ∑60", errRange}, {"∑1234512", ErrIncomplete}, {"1 2 3.∑1234567", ErrPrecision},
		{"123°45′06″∑″", errSyntax}, {"12′∑", errSyntax}, {"1 2 ∑\xff", errSyntax},
	} {
		before, after, _ := strings.Cut(c.in, "∑")
		switch c.in {
		case "∑1234512": // one run is no written form: what is missing is at its end
			before = "1234512"
			after = ""
		case "12′∑":
			before, after = "12", "′"
		}
		checkParseError(t, before+after, len(before), c.kind, second(ParseDMS(before+after)))
	}
}

func TestParseError_Says(t *testing.T) {
	_, err := ParseKeyed("123 60 12", DMS, Arcsecond)
	if want := `"123 60 12": 60 minutes: minutes go to 59 (character 5)`; err.Error() != want {
		t.Errorf("says %s", err)
	}
	_, err = ParseKeyed("1234512", DMS, 5*Arcsecond)
	if !strings.Contains(err.Error(), "no multiple of the least count of the instrument, 5″") {
		t.Errorf("says %s", err)
	}
	_, err = ParseKeyed("1.2345", GonUnit, Milligon)
	if !strings.Contains(err.Error(), "0.001 gon") {
		t.Errorf("says %s", err)
	}
}

// What is printed parses back to what was printed, in both notations and at
// every number of places an angle holds.
func TestFormatParse_RoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Angle(rapid.Int64Range(0, int64(Turn)-1).Draw(t, "angle"))
		places := rapid.IntRange(0, 6).Draw(t, "places")
		d := a.Round(quantumOf(Arcsecond, places)).Normalize()
		if got, err := ParseDMS(DirectionAt(a).Format(DMS, places)); err != nil || got != d {
			t.Fatalf("%s: %v, %v, want %d", DirectionAt(a).Format(DMS, places), got, err, d)
		}
		keyed := strings.NewReplacer("°", " ", "′", " ", "″", "").Replace(DirectionAt(a).Format(DMS, places))
		if got, err := ParseKeyed(keyed, DMS, 0); err != nil || got != d {
			t.Fatalf("%s: %v, %v", keyed, got, err)
		}
		if got, err := ParseDMS(a.String()); err != nil || got != a {
			t.Fatalf("String %s: %v, %v", a, got, err)
		}
		g := a.Round(quantumOf(Gon, places+1)).Normalize()
		if got, err := ParseWritten(DirectionAt(a).Format(GonUnit, places+1), GonUnit); err != nil || got != g {
			t.Fatalf("%s gon: %v, %v, want %d", DirectionAt(a).Format(GonUnit, places+1), got, err, g)
		}
	})
}

// Every prefix of a complete entry is incomplete or complete itself, never wrong.
func TestParseKeyed_PrefixesAreNeverWrong(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`[1-2]?[0-9]?[0-9] [0-5]?[0-9] [0-5][0-9]\.[0-9]`).Draw(t, "text")
		for i := range s {
			_, err := ParseKeyed(s[:i], DMS, Arcsecond/10)
			if err != nil && !errors.Is(err, ErrIncomplete) {
				t.Fatalf("%q: %v", s[:i], err)
			}
		}
	})
}

func FuzzParseKeyed(f *testing.F) {
	for _, s := range []string{"1234512", "123 45 12.5", "123.4567", "", ".", "3.1.", "1 2 3 4", "99999999999999999999", "12\xff", "١٢٣"} {
		f.Add(s, true)
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, s string, gon bool) {
		u, lc := DMS, Arcsecond/10
		if gon {
			u, lc = GonUnit, Milligon/10
		}
		a, err := ParseKeyed(s, u, lc)
		if err != nil {
			checkWellFormedError(t, s, err)
			return
		}
		if a < 0 || a >= Turn || a%lc != 0 {
			t.Fatalf("%q: %d", s, a)
		}
		back := DirectionAt(a).Format(u, Places(u, lc))
		if !gon {
			back = strings.NewReplacer("°", " ", "′", " ", "″", "").Replace(back)
		}
		if again, err := ParseKeyed(back, u, lc); err != nil || again != a {
			t.Fatalf("%q is %q: %v, %v", s, back, again, err)
		}
	})
}

func FuzzParseDMS(f *testing.F) {
	for _, s := range []string{"123 45 06", "123°45′06.5″", "123d45m06s", "12°", "1 2 3.", "°′″", "1 2 3 4", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := ParseDMS(s)
		if err != nil {
			checkWellFormedError(t, s, err)
			return
		}
		if a < 0 || a >= Turn {
			t.Fatalf("%q: %d", s, a)
		}
		if again, err := ParseDMS(a.String()); err != nil || again != a {
			t.Fatalf("%q is %s: %v, %v", s, a, again, err)
		}
	})
}

func checkWellFormedError(t *testing.T, s string, err error) {
	t.Helper()
	var p *ParseError
	if !errors.As(err, &p) || p.Input != s || p.Offset < 0 || p.Offset > len(s) || p.Err == nil {
		t.Fatalf("%q: %#v", s, err)
	}
}

func second[T any](_ T, err error) error { return err }
