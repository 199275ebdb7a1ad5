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
	} {
		if c.got != c.want || c.n != c.number {
			t.Errorf("%d is %q, want %d %q", c.n, c.got, c.number, c.want)
		}
	}
}
