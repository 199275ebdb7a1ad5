package lengths

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"example.org/readback/reduce"
	"example.org/readback/testdata"
)

// The two feet by their definitions, the second in metres.
const (
	foot         = 304_800 * micrometre
	usSurveyFoot = 1200.0 / 3937.0
)

func TestParse(t *testing.T) {
	for _, c := range []struct {
		in   string
		u    Unit
		want Length
	}{
		{"12.345", Metres, 12_345 * Millimetre}, {"12,345", Metres, 12_345 * Millimetre}, {" 1 ", Metres, Metre}, {"0.000001", Metres, micrometre}, {"999999.999999", Metres, 1_000_000*Metre - micrometre},
		{"1", Feet, foot}, {"0.000001", Feet, 305}, {"0.00001", Feet, 3048}, {"5.00000", Feet, 5 * foot}, {"3937", USFeet, 1200 * Metre}, {"1", USFeet, 304_800_610},
	} {
		if got, err := Parse(c.in, c.u); err != nil || got != c.want {
			t.Errorf("%q %v: %d, %v, want %d", c.in, c.u, got, err, c.want)
		}
	}
	for _, in := range []string{"", "-1", "1000000", "1.1234567"} {
		var p *reduce.ParseError
		if l, err := Parse(in, Metres); !errors.As(err, &p) || p.Input != in {
			t.Errorf("%q: %d, %v", in, l, err)
		}
	}
}

func TestLength_Format(t *testing.T) {
	for _, c := range []struct {
		l      Length
		u      Unit
		places int
		want   string
	}{
		{12_345 * Millimetre, Metres, 3, "12.345"}, {12_345_500 * micrometre, Metres, 3, "12.346"}, {-500 * micrometre, Metres, 3, "−0.001"},
		{-499 * micrometre, Metres, 3, "0.000"}, {999_999_600, Metres, 3, "1.000"}, {foot, Feet, 2, "1.00"}, {1200 * Metre, USFeet, 3, "3937.000"},
		{Metre, Metres, 0, "1"}, {Metre, Metres, -1, "1"}, {Metre, Metres, 9, "1.000000"},
	} {
		if got := c.l.Format(c.u, c.places); got != c.want {
			t.Errorf("%d in %v: %s, want %s", c.l, c.u, got, c.want)
		}
	}
}

// What is keyed is printed again, in every unit.
func TestLength_RoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`(0|[1-9][0-9]{0,5})\.[0-9]{6}`).Draw(t, "keyed")
		u := rapid.SampledFrom([]Unit{Metres, Feet, USFeet}).Draw(t, "unit")
		l, err := Parse(s, u)
		if err != nil || l.Format(u, 6) != s {
			t.Fatalf("%s %v: %d prints %s, %v", s, u, l, l.Format(u, 6), err)
		}
	})
	if FromMetres(1.5) != 1500*Millimetre || foot.In(Feet) != 1 {
		t.Error("floats")
	}
}

// Definitions of the two feet; a survey foot is 2 parts in a million longer.
func TestFeet(t *testing.T) {
	testdata.Near(t, "2 ppm", (usSurveyFoot/InternationalFoot-1)*1e6, 2, 0.0001)
	testdata.Near(t, "3937 survey feet", 3937*usSurveyFoot, 1200, 1e-9)
}

// The words of the stored numbers, and the numbers themselves: both stand in files and
// never change meaning.
func TestWords(t *testing.T) {
	for u, word := range map[Unit]string{1: "m", 2: "ft", 3: "usft"} {
		if u.String() != word {
			t.Errorf("%d is %q, want %q", u, u, word)
		}
	}
	if Metres != 1 || Feet != 2 || USFeet != 3 {
		t.Error("a stored number has changed")
	}
	if Metre.Metres() != 1 || (304_800*micrometre).In(Feet) != 1 {
		t.Error("a metre, a foot")
	}
}
