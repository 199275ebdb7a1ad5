package page

import (
	"testing"

	"github.com/charmbracelet/x/ansi"
)

// A character that is counted without a closer look takes one cell, alone and
// beside another.
func TestWidth_SinglesTakeOneCell(t *testing.T) {
	n := 0
	for r := rune(0); r < 0x3000; r++ {
		if !single(r) {
			continue
		}
		n++
		if w := ansi.StringWidth(string(r)); w != 1 {
			t.Errorf("%U takes %d cells", r, w)
		}
		if w := ansi.StringWidth("5" + string(r) + "m″"); w != 4 {
			t.Errorf("%U beside others takes %d cells", r, w-3)
		}
	}
	if n < 600 {
		t.Errorf("only %d characters", n)
	}
}
