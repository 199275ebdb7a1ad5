package slip_test

import (
	"strings"
	"testing"

	"example.org/readback/booking/check/completion"
	"example.org/readback/booking/check/slip"
	"example.org/readback/reduce"
	"example.org/readback/testdata"
)

func dms(d, m, s int64) reduce.Angle {
	return reduce.Angle(d)*reduce.Degree + reduce.Angle(m)*reduce.Arcminute + reduce.Angle(s)*reduce.Arcsecond
}

func near(a reduce.Angle) slip.Expectation {
	return slip.Expectation{Band: completion.Band{Centre: a, Half: 9 * reduce.Arcsecond}, Sigma: 2500 * reduce.Arcsecond / 1000}
}

// Each way of TRADE's list, and the examples of J. Verhoeff, "Error Detecting
// Decimal Codes" (1969) as tabulated by N. R. Wagner (2002): 47 30 10 for
// 47 80 10 is no reading, so the digit is 2 for 3; 127 for 172; 104 for 14; 30
// for 13.
func TestSearch_NamesTheKind(t *testing.T) {
	other := func(k slip.Kind, a reduce.Angle) []slip.Alternative {
		return []slip.Alternative{{Kind: k, Expectation: near(a)}}
	}
	cases := []struct {
		name            string
		true_, keyed    reduce.Angle
		alternatives    []slip.Alternative
		kind            slip.Kind
		part            slip.Part
		gradient        float64
		alsoOpenAllowed bool
	}{
		{"digit of the degrees", dms(147, 30, 12), dms(197, 30, 14), nil, slip.DigitMisread, slip.Degrees, 0, false},
		{"digit of the minutes", dms(47, 30, 10), dms(47, 50, 9), nil, slip.DigitMisread, slip.Minutes, 0, false},
		{"key beside it", dms(147, 30, 12), dms(147, 33, 10), nil, slip.DigitMisread, slip.Minutes, 0, false},
		{"key above it", dms(147, 31, 12), dms(147, 34, 10), nil, slip.NeighbouringKey, slip.Minutes, 0, false},
		{"exchanged in the degrees", dms(127, 30, 10), dms(172, 30, 12), nil, slip.DigitsExchanged, slip.Degrees, 0, false},
		{"exchanged in the minutes", dms(127, 24, 10), dms(127, 42, 9), nil, slip.DigitsExchanged, slip.Minutes, 0, false},
		{"exchanged over the border", dms(127, 10, 25), dms(127, 12, 5), nil, slip.DigitsExchanged, slip.MinutesSeconds, 0, false},
		{"exchanged over the border", dms(124, 52, 10), dms(125, 42, 8), nil, slip.DigitsExchanged, slip.DegreesMinutes, 0, false},
		{"left out", dms(104, 22, 35), dms(14, 22, 34), nil, slip.DigitDropped, slip.Degrees, 0, false},
		{"keyed twice", dms(45, 30, 10), dms(453, 30, 10) % reduce.Turn, nil, slip.Unknown, slip.NoPart, 0, true},
		{"keyed twice", dms(31, 44, 12), dms(314, 44, 12), nil, slip.DigitDoubled, slip.Minutes, 0, false},
		{"misheard", dms(127, 50, 10), dms(127, 15, 10), nil, slip.Misheard, slip.Minutes, 0, false},
		{"misheard", dms(30, 44, 10), dms(13, 44, 10), nil, slip.Misheard, slip.Degrees, 0, false},
		{"whole degree", dms(127, 50, 10), dms(128, 50, 8), nil, slip.WholeDegree, slip.Degrees, 0, false},
		{"whole degree with carry", dms(129, 50, 10), dms(130, 50, 8), nil, slip.WholeDegree, slip.Degrees, 0, false},
		{"ten minutes", dms(127, 50, 10), dms(127, 40, 8), nil, slip.TenMinutes, slip.Minutes, 0, false},
		{"one minute", dms(127, 59, 10), dms(128, 0, 12), nil, slip.OneMinute, slip.Minutes, 0, false},
		{"parts exchanged", dms(127, 23, 48), dms(127, 48, 23), nil, slip.PartsExchanged, slip.NoPart, 0, false},
		{"another target", dms(127, 23, 48), dms(211, 3, 17), other(slip.WrongTarget, dms(211, 3, 15)), slip.WrongTarget, slip.NoPart, 0, false},
		{"other face", dms(307, 23, 48), dms(127, 23, 44), other(slip.FaceNotChanged, dms(127, 23, 48)), slip.FaceNotChanged, slip.NoPart, 0, false},
		{"percent", dms(86, 49, 38), dms(0, 55, 43), nil, slip.PercentDisplay, slip.NoPart, 5.543, false},
		{"nothing known", dms(127, 23, 48), dms(288, 17, 2), nil, slip.Unknown, slip.NoPart, 0, false},
		{"a wide pointing", dms(127, 23, 48), dms(127, 24, 1), nil, slip.Unknown, slip.NoPart, 0, true},
	}
	for _, c := range cases {
		r := slip.Search(slip.Case{
			Value: c.keyed, Unit: reduce.DMS, LeastCount: reduce.Arcsecond,
			Expected: []slip.Expectation{near(c.true_)}, Alternatives: c.alternatives, Gradient: c.gradient,
		})
		if !c.alsoOpenAllowed && (r.Kind != c.kind || r.Part != c.part) {
			t.Errorf("%s (%v keyed for %v): %q in %q, want %q in %q; %.3v", c.name, c.keyed, c.true_, r.Kind, r.Part, c.kind, c.part, r.Ways)
		}
		if strings.ContainsAny(r.Text, "0123456789") || r.Text == "" {
			t.Errorf("%s: %q", c.name, r.Text)
		}
	}
}

func TestSearch_Gon(t *testing.T) {
	g := func(tenths int64) reduce.Angle { return reduce.Angle(tenths) * reduce.Milligon / 10 }
	e := slip.Expectation{Band: completion.Band{Centre: g(1234567), Half: 3 * reduce.Milligon}, Sigma: reduce.Milligon}
	for _, c := range []struct {
		keyed reduce.Angle
		kind  slip.Kind
		part  slip.Part
	}{
		{g(1234567) + reduce.Gon, slip.WholeDegree, slip.Degrees},
		{g(1324567), slip.DigitsExchanged, slip.Degrees},
		{g(1235467), slip.DigitsExchanged, slip.Minutes},
		{g(1734567), slip.DigitMisread, slip.Degrees},
	} {
		r := slip.Search(slip.Case{Value: c.keyed, Unit: reduce.GonUnit, LeastCount: reduce.Milligon / 10, Expected: []slip.Expectation{e}})
		if r.Kind != c.kind || r.Part != c.part {
			t.Errorf("%s: %q in %q, want %q in %q: %.3v", c.keyed.Format(reduce.GonUnit, 4), r.Kind, r.Part, c.kind, c.part, r.Ways)
		}
	}
}

func TestRates_MakeOne(t *testing.T) {
	sum := 0.0
	for _, r := range slip.Rates() {
		sum += r.Share
		if r.Source == "" {
			t.Errorf("%s has no source", r.Kind)
		}
	}
	if sum < 0.999 || sum > 1.001 {
		t.Errorf("the rates make %v", sum)
	}
}

// No sentence holds a figure, whatever the kind, the part and the unit.
func TestSentence_HoldsNoFigure(t *testing.T) {
	for _, u := range reduce.Units() {
		for _, word := range testdata.Constants(t, "kind.go", "Kind") {
			k := slip.Kind(word)
			for _, p := range []slip.Part{slip.NoPart, slip.Degrees, slip.Minutes, slip.Seconds} {
				if s := slip.Sentence(k, p, u); strings.ContainsAny(s, "0123456789°′″") || s == "" {
					t.Errorf("%q %q: %q", k, p, s)
				}
			}
		}
	}
}

func BenchmarkSearch(b *testing.B) {
	c := slip.Case{Value: dms(147, 30, 12), Unit: reduce.DMS, LeastCount: reduce.Arcsecond, Expected: []slip.Expectation{near(dms(197, 30, 14))}}
	b.ReportAllocs()
	for i := 0; i < b.N; i++ {
		slip.Search(c)
	}
}
