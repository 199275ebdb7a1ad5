//go:build unix

package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// No name of a book reaches the terminal of the screens as a command.
func TestNames_OnTheScreens(t *testing.T) {
	b := bookerAt(open(t, 100, 30, "book", hostileBook(t)))
	b.sees("setup 1", "✓ saved")
	b.presses("p").sees("B booking").presses("b").sees("1234515 is")
	b.presses("w").sees("Work list").presses("b").sees("1234515 is")
	b.presses("s").sees("Strike a reading").presses("b").sees("1234515 is").leaves()
	for _, raw := range []string{"\x1b]0;owned", "\x1b[2J\u009b", "\u009b2J"} {
		if strings.Contains(b.written(), raw) {
			t.Errorf("%q reached the terminal", raw)
		}
	}
}

// A pasted name with control characters is not taken.
func TestNames_Pasted(t *testing.T) {
	b := bookerAt(open(t, 100, 30, "book", filepath.Join(t.TempDir(), "weir.book"))).sees("▸ Station")
	b.key("\x1b[200~Weir\x1b]0;owned\x07\x1b[201~").sees("The paste was not taken")
	b.key("\x1b[200~Weir\x1b[201~").sees("Pasted: “Weir”").key("y").misses("Pasted:").sees("Station ▌Weir")
	if strings.Contains(b.written(), "\x1b]0;owned") {
		t.Error("the paste reached the terminal")
	}
}
