package reduce

import "testing"

// The words of the stored numbers, and the numbers themselves: both stand in
// files and never change meaning.
func TestWords(t *testing.T) {
	for _, c := range []struct {
		got, want string
		n, number uint8
	}{
		{DMS.String(), "dms", uint8(DMS), 1}, {GonUnit.String(), "gon", uint8(GonUnit), 2}, {Unit(9).String(), "unit 9", 9, 9},
		{Zenith.String(), "zenith", uint8(Zenith), 1}, {Horizon.String(), "horizon", uint8(Horizon), 2}, {Circle(7).String(), "circle 7", 7, 7},
		{ClosingMean.String(), "mean", uint8(ClosingMean), 1}, {ClosingSpread.String(), "spread", uint8(ClosingSpread), 2},
		{Metres.String(), "m", uint8(Metres), 1}, {Feet.String(), "ft", uint8(Feet), 2}, {USFeet.String(), "usft", uint8(USFeet), 3},
	} {
		if c.got != c.want || c.n != c.number {
			t.Errorf("%d is %q, want %d %q", c.n, c.got, c.number, c.want)
		}
	}
	for _, x := range []Circle{Zenith, Horizon} {
		if got, err := ParseCircle(x.String()); err != nil || got != x {
			t.Errorf("%v: %v, %v", x, got, err)
		}
	}
	if _, err := ParseCircle("nadir"); err == nil {
		t.Error("nadir is no word of ours")
	}
	if Metre.Metres() != 1 || (304_800*micrometre).In(Feet) != 1 {
		t.Error("a metre, a foot")
	}
}
