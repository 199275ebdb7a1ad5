package completion_test

import (
	"testing"

	"example.org/readback/booking/check/completion"
	"example.org/readback/reduce"
	"pgregory.net/rapid"
)

func dms(d, m, s int64) reduce.Angle {
	return reduce.Angle(d)*reduce.Degree + reduce.Angle(m)*reduce.Arcminute + reduce.Angle(s)*reduce.Arcsecond
}

func TestFirstMark_SaysAtTheDigit(t *testing.T) {
	band := []completion.Band{{Centre: dms(123, 45, 12), Half: 10 * reduce.Arcsecond}}
	zero := []completion.Band{{Centre: dms(359, 59, 58), Half: 10 * reduce.Arcsecond}}
	cases := []struct {
		text  string
		bands []completion.Band
		want  int
	}{
		{"1234512", band, 0},
		{"1234517", band, 0},
		{"1234557", band, 6},
		{"1245312", band, 3},
		{"9", band, 1},
		{"2234512", band, 1},
		{"0", band, 1},
		{"123 45 12", band, 0},
		{"123.45.12", band, 0},
		{"12 45 12", band, 3},
		{"123 4 12", band, 6}, // the minutes are closed at 4
		{"12345", band, 0},    // the seconds may still come
		{"0000003", zero, 0},
		{"000003", zero, 0},
		{"3595957", zero, 0},
		{"3600000", zero, 2}, // 36 can only become 36° or a full circle and more
		{"77", nil, 0},
		{"12x", band, 3},
	}
	for _, c := range cases {
		if got := completion.FirstMark(c.text, reduce.DMS, reduce.Arcsecond, c.bands); got != c.want {
			t.Errorf("%q: marked at %d, want %d", c.text, got, c.want)
		}
	}
}

func TestCompletions_LeastCount(t *testing.T) {
	band := completion.Band{Centre: dms(12, 0, 37), Half: reduce.Arcsecond}
	s := completion.Completions("12 0 3", reduce.DMS, 5*reduce.Arcsecond)
	if s.Meets(band) {
		t.Error("30″ and 35″ are the only readings at 5″; neither lies in 36″ to 38″")
	}
}

// draw makes an entry that reduce.ParseKeyed accepts, in any of its notations.
func draw(t *rapid.T) (text string, u reduce.Unit, lc reduce.Angle) {
	u = rapid.SampledFrom(reduce.Units()).Draw(t, "unit")
	if u.Decimal() {
		step := u.Whole() / reduce.Angle(rapid.SampledFrom([]int{10, 100, 1000, 10_000}).Draw(t, "step"))
		lc = rapid.SampledFrom([]reduce.Angle{step, 2 * step, 5 * step}).Draw(t, "least count")
		return rapid.StringMatching(`[0-6]?[0-9]?[0-9]?[0-9](\.[0-9]{0,4})?`).Draw(t, "text"), u, lc
	}
	lc = rapid.SampledFrom([]reduce.Angle{reduce.Arcsecond, 5 * reduce.Arcsecond, 20 * reduce.Arcsecond, reduce.Arcsecond / 10, reduce.Arcsecond / 2}).Draw(t, "least count")
	form := rapid.SampledFrom([]string{
		`[0-3]?[0-9]?[0-9][0-5][0-9][0-5][0-9]`, `[0-3]?[0-9]?[0-9] [0-5]?[0-9] [0-5]?[0-9]`,
		`[0-3]?[0-9]?[0-9]\.[0-5]?[0-9]\.[0-5]?[0-9]`, `[0-3]?[0-9]?[0-9][0-5][0-9][0-5][0-9]\.[0-9]`,
		`[0-3]?[0-9]?[0-9] [0-5]?[0-9] [0-5]?[0-9]\.[0-9]`, `[0-9.  ]{1,10}`,
	}).Draw(t, "form")
	return rapid.StringMatching(form).Draw(t, "text"), u, lc
}

// What an entry became lies, at every digit, in what it could still become.
func TestCompletions_HoldWhatComes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, u, lc := draw(t)
		a, err := reduce.ParseKeyed(text, u, lc)
		if err != nil {
			t.Skip()
		}
		bands := []completion.Band{{Centre: a}}
		for i, c := range []byte(text) { // degrees of more than three figures are outside the notation
			if i >= 3 && (c == ' ' || c == '.') {
				break
			}
			if i > 7 {
				t.Skip()
			}
		}
		if at := completion.FirstMark(text, u, lc, bands); at != 0 && !longDegrees(text) {
			t.Fatalf("%q (%v): marked at %d", text, a, at)
		}
	})
}

// longDegrees tells of degrees keyed with more than three figures and a space.
func longDegrees(text string) bool {
	n := 0
	for i := 0; i < len(text); i++ {
		if text[i] < '0' || text[i] > '9' {
			if n == 0 {
				continue
			}
			return n > 3 && n < 5 || n > 3 && text[i] == ' '
		}
		n++
	}
	return false
}

// What is keyed completely stands for itself: every reading met by the last set
// of a full run of seven digits is that reading.
func TestCompletions_FullRunIsOneReading(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[0-2][0-9]{2}[0-5][0-9][0-5][0-9]`).Draw(t, "text")
		s := completion.Completions(text, reduce.DMS, reduce.Arcsecond)
		a, err := reduce.ParseKeyed(text, reduce.DMS, reduce.Arcsecond)
		if err != nil {
			t.Fatal(err)
		}
		for i := 0; i < s.Intervals(); i++ {
			if iv := s.At(i); iv.Lo != a || iv.Hi != a {
				t.Fatalf("%q may become %v to %v", text, iv.Lo, iv.Hi)
			}
		}
	})
}

func BenchmarkKeystroke(b *testing.B) {
	bands := []completion.Band{{Centre: dms(123, 45, 12), Half: 10 * reduce.Arcsecond}}
	b.ReportAllocs()
	for i := 0; i < b.N; i++ {
		s := completion.Completions("12345", reduce.DMS, reduce.Arcsecond)
		if !s.MeetsAny(bands) {
			b.Fatal("marked")
		}
	}
}
