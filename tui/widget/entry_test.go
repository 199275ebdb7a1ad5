package widget_test

import (
	"testing"

	"pgregory.net/rapid"

	"example.org/readback/reduce"
	"example.org/readback/tui/widget"
)

func TestEntry_Formatted(t *testing.T) {
	coarse := widget.Notation{Unit: reduce.DMS, LeastCount: 5 * reduce.Arcsecond}
	fine := widget.Notation{Unit: reduce.DMS, LeastCount: reduce.Arcsecond / 10}
	gon := widget.Notation{Unit: reduce.GonUnit, LeastCount: reduce.Milligon}
	metres := widget.Notation{Suffix: "m"}
	for _, tt := range []struct {
		n          widget.Notation
		keyed      string
		want, text string
	}{
		{coarse, "", "  _°__′__″", ""},
		{coarse, "1", "  _°__′_1″", "1"},
		{coarse, "123", "  _°_1′23″", "123"},
		{coarse, "12345", "  1°23′45″", "12345"},
		{coarse, "1234512", "123°45′12″", "1234512"},
		{coarse, "12345123", "1234°51′23″", "12345123"},
		{coarse, "123 4", "123°4_′__″", "123 4"},
		{coarse, "123.45.06", "123°45′06″", "123.45.06"},
		{coarse, "123 5 6", "123°05′6_″", "123 5 6"},
		{coarse, "5 04 09", "  5°04′09″", "5 04 09"},
		{coarse, " .1..2", "  1°2_′__″", "1.2"},
		{coarse, "1 2 3 4 5", "  1°02′03.45″", "1 2 3 45"},
		{coarse, "12a3-4", "  _°12′34″", "1234"},
		{fine, "12345067", "1234°50′67._″", "12345067"},
		{fine, "1234506", "123°45′06._″", "1234506"},
		{fine, "1234506.7", "123°45′06.7″", "1234506.7"},
		{fine, "1234506,7", "123°45′06.7″", "1234506.7"},
		{fine, "1234506.", "123°45′06._″", "1234506."},
		{fine, "123.45.06.7", "123°45′06.7″", "123.45.06.7"},
		{gon, "", "  _.___ gon", ""},
		{gon, "287", "287.___ gon", "287"},
		{gon, "287.04", "287.04_ gon", "287.04"},
		{gon, "287.0.4 5", "287.045 gon", "287.045"},
		{metres, "12.345", " 12.345 m", "12.345"},
		{metres, "-1", "  1.___ m", "1"},
	} {
		e := widget.Entry{Notation: tt.n}
		e.Set(tt.keyed)
		if got := e.Formatted(); got != tt.want || e.Text() != tt.text {
			t.Errorf("%q: %q from %q, expected %q from %q", tt.keyed, got, e.Text(), tt.want, tt.text)
		}
	}
}

// A complete entry is shown as the reading that will be booked: its digits in
// the same groups as reduce has them.
func TestEntry_ShowsWhatIsBooked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := reduce.Angle(rapid.Int64Range(0, 360*36000-1).Draw(t, "tenths")) * reduce.Arcsecond / 10
		lc := rapid.SampledFrom([]reduce.Angle{reduce.Arcsecond / 10, reduce.Arcsecond, 5 * reduce.Arcsecond}).Draw(t, "least count")
		a = (a / lc) * lc
		places := reduce.Places(reduce.DMS, lc)
		want := a.Format(reduce.DMS, places)
		sep := rapid.SampledFrom([]string{"", " ", "."}).Draw(t, "separator")
		var keyed []rune
		for i, r := range want {
			switch {
			case r >= '0' && r <= '9' || r == '.':
				keyed = append(keyed, r)
			case r != '″' && i > 0:
				keyed = append(keyed, []rune(sep)...)
			}
		}
		e := widget.Entry{Notation: widget.Notation{Unit: reduce.DMS, LeastCount: lc}}
		for _, r := range keyed {
			if !e.Insert(r) {
				t.Fatalf("%q of %q refused", r, string(keyed))
			}
		}
		got, err := reduce.ParseKeyed(e.Text(), reduce.DMS, lc)
		if err != nil || got != a {
			t.Fatalf("%q parsed to %v, %v; expected %v", e.Text(), got, err, a)
		}
		shown := e.Formatted()
		for len(shown) > 0 && shown[0] == ' ' {
			shown = shown[1:]
		}
		if shown != want {
			t.Fatalf("%q is shown as %q and booked as %q", e.Text(), shown, want)
		}
	})
}

func TestEntry_BackspaceUndoesInsert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := widget.Entry{Notation: widget.Notation{Unit: rapid.SampledFrom(append(reduce.Units(), 0)).Draw(t, "unit")}}
		e.Set(rapid.StringMatching(`[0-9 .]{0,12}`).Draw(t, "text"))
		before := e.Formatted()
		r := rapid.SampledFrom([]rune("0123456789. ,-x")).Draw(t, "rune")
		if e.Insert(r) {
			if !e.Takes(r) {
				t.Fatalf("%q was inserted, but Takes says no", r)
			}
			e.Backspace()
		}
		if got := e.Formatted(); got != before {
			t.Fatalf("%q became %q", before, got)
		}
	})
}
