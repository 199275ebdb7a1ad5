//go:build unix

package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/readback/testdata"
)

// halfBooked opens a new book in a window and books the first readings.
func halfBooked(t testing.TB, w, h int, readings ...string) *booker {
	t.Helper()
	b := bookerAt(open(t, w, h, "book", filepath.Join(t.TempDir(), "weir.book")))
	return b.firstSetup().books(readings...)
}

// Keys that arrive in one read are single keys all the same.
func TestKeys_ManyInOneRead(t *testing.T) {
	b := halfBooked(t, 100, 30)
	b.key("00510\r451020\r1203000\r2500045\r700050\r3003010\r").booked("3003010")
	b.standsBooked("00510", "451020", "1203000", "2500045", "700050", "3003010")
	b.sees("Turn anticlockwise ← and sight Alder.")
	b.key("225" + erase + erase + "251025\r").booked("2251025")
}

// A mouse report, an arrow or the answer to a query that comes in pieces leaves
// no digit in the entry, books nothing and is no command.
func TestKeys_SplitSequencesLeakNothing(t *testing.T) {
	for n, seq := range []string{"\x1b[<0;70;12M", "\x1b[<0;30;12m", "\x1b[24;80R", "\x1b]11;rgb:1e1e/1e1e/1e1e\x1b\\", "\x1b[1;5C", "\x1b[3~"} {
		if !testdata.Sampled(n) {
			continue
		}
		t.Run(fmt.Sprintf("%q", seq), func(t *testing.T) {
			t.Parallel()
			b := halfBooked(t, 100, 30, "00510")
			for cut := 1; cut < len(seq); cut++ {
				// On a machine that stood still between the pieces, try again: what
				// leaks leaks every time.
				for try := 0; b.leaks(seq[:cut], seq[cut:]); try++ {
					if try == 3 {
						t.Fatalf("%q + %q:\n%s", seq[:cut], seq[cut:], b.screen())
					}
					b = halfBooked(t, 100, 30, "00510")
				}
			}
			time.Sleep(500 * time.Millisecond) // on a busy machine the last piece is looked at late, and Enter right behind it is dropped
			b.books("451020")
		})
	}
}

// leaks sends a sequence in two pieces and tells whether anything came of it.
func (b *booker) leaks(piece, rest string) bool {
	b.key(piece)
	time.Sleep(4 * time.Millisecond) // as a slow line delivers it
	b.key(rest)
	time.Sleep(90 * time.Millisecond) // longer than a broken sequence is waited for
	s := squeezed(b.screen())
	return !strings.Contains(s, "○ empty") || !strings.Contains(s, "FL ●◆○○")
}

// The keys of a numeric keypad in application mode are digits, and its Enter
// books.
func TestKeys_ApplicationKeypad(t *testing.T) {
	b := halfBooked(t, 100, 30, "00510")
	for _, digit := range "451020" {
		b.key(fmt.Sprintf("\x1bO%c", 'p'+digit-'0'))
	}
	b.sees("✓ ready").key("\x1bOM").booked("451020")
	if !strings.Contains(b.written(), "\x1b>") {
		t.Error("the keypad was not put into its plain mode")
	}
}

// A paste is offered; it never books, whatever it holds.
func TestKeys_PasteIsOffered(t *testing.T) {
	b := halfBooked(t, 100, 30, "00510")
	paste := func(text string) *booker { b.key("\x1b[200~" + text + "\x1b[201~"); return b }
	paste("451020").sees("Pasted: “451020", "Take it into the entry?").key("n")
	b.misses("Pasted: “451020").sees("○ empty")
	paste("451020\n").sees("Pasted: “451020").key("y")
	b.misses("Pasted:").sees("FL ●◆○○", "✓ ready")
	b.key(enter).booked("451020")
	paste("1203000\r2500045\r").sees("The paste was not taken")
	b.sees("○ empty", "FL ●●◆○")
	paste("12x").sees("The paste was not taken", "○ empty")
	b.books("1203000")
}

// A storm of new window sizes in the middle of an entry keeps the entry, also
// through windows that are too small to show anything else.
func TestKeys_ResizeStormKeepsTheEntry(t *testing.T) {
	b := halfBooked(t, 100, 30, "00510")
	b.key("45").sees("keying", "More digits come.")
	for i := range 60 {
		b.resize(20+(i*37)%130, 5+(i*11)%40)
	}
	b.resize(30, 6)
	b.sees("FL Alder")
	b.sees("_°__′45″").key("10").sees("_°45′10″")
	b.resize(100, 30)
	b.sees("Turn clockwise → and sight Alder.", "keying")
	b.key("20").sees("✓ ready").key(enter).booked("451020")
}

// A storm of touches, on nothing and on the bar that opens the work list, far
// longer than what is read at once, leaves no digit in the entry and books nothing:
// wherever a read ends, the reports are whole or dropped.
func TestKeys_StormOfTouches(t *testing.T) {
	for row, place := range map[int]string{8: "nothing", 1: "the bar"} {
		t.Run("on "+place, func(t *testing.T) {
			t.Parallel()
			b := halfBooked(t, 100, 30, "00510")
			report := fmt.Sprintf("\x1b[<0;13;%dM\x1b[<0;13;%dm", row, row)
			for length := range testdata.Times(4, 12) {
				b.key(strings.Repeat(" ", length) + strings.Repeat(erase, length) + strings.Repeat(report, 60))
				b.key(strings.Repeat("\x1b[<35;70;12M", 100)) // and of movements
			}
			// Keys are dropped for a moment behind a broken report, and a report that was
			// dropped leaves the bar's touches odd: ask for the keys until they come,
			// then leave whatever screen stands.
			b.insists("?", "Every key of this screen")
			b.insists("b", "○ empty")
			b.sees("FL ●◆○○").books("451020").standsBooked("00510", "451020")
		})
	}
}
