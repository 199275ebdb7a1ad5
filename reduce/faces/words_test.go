package faces

import "testing"

// The words of the stored numbers, and the numbers themselves: both stand in
// files and never change meaning.
func TestWords(t *testing.T) {
	for _, c := range []struct {
		got, want string
		n, number uint8
	}{
		{FL.String(), "FL", uint8(FL), 1}, {FR.String(), "FR", uint8(FR), 2}, {NoFace.String(), "", uint8(NoFace), 0},
		{Zenith.String(), "zenith", uint8(Zenith), 1}, {Horizon.String(), "horizon", uint8(Horizon), 2}, {Circle(7).String(), "circle 7", 7, 7},
		{ClosingMean.String(), "mean", uint8(ClosingMean), 1}, {ClosingSpread.String(), "spread", uint8(ClosingSpread), 2},
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
}
