//go:build unix

package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/booking/check"
	"example.org/readback/booking/event"
	"example.org/readback/reduce"
)

// tap touches the cell where the words stand: a press and a release of the first
// button, in the form that terminals report to programs.
func (b *booker) tap(words string) *booker {
	b.t.Helper()
	var at string
	b.until(fmt.Sprintf("%q to be touched", words), func(screen string) bool {
		for y, line := range strings.Split(screen, "\n") {
			if before, _, ok := strings.Cut(line+" ", words); ok {
				x := len([]rune(before)) + len([]rune(words))/2
				at = fmt.Sprintf("%d;%d", x+1, y+1)
				return true
			}
		}
		return false
	})
	return b.key("\x1b[<0;" + at + "M\x1b[<0;" + at + "m")
}

// touches keys readings on the keypad of the screen.
func (b *booker) touches(readings ...string) *booker {
	b.t.Helper()
	for _, r := range readings {
		b.touch(r).booked(r)
	}
	return b
}

// touch keys one reading or length and touches Enter.
func (b *booker) touch(keyed string) *booker {
	b.t.Helper()
	for _, digit := range keyed {
		switch digit {
		case '0':
			b.tap("│        0        │")
		default:
			b.tap(fmt.Sprintf("│   %c    │", digit))
		}
	}
	return b.tap("Enter ")
}

// A whole station by touch only, on the keypad of the screen: the next station of
// a job, so that its names are offered.
func TestStation_ByTouchOnly(t *testing.T) {
	file := filepath.Join(t.TempDir(), "weir.book")
	c := newBook(t, file, event.BookOpened{})
	spec := station("Alder", "Quarry", "Mast", "Chapel")
	spec.Verticals = true
	c.open(spec)
	c.observe(3 * reduce.Arcsecond)
	c.key("92 34 35", "89 30 00", "88 00 10", "87 15 00", "90 10 00", "269 50 00", "272 45 05", "271 59 55", "270 30 05", "267 25 30")
	c.do(check.Lift(c.s, ""))
	c.close()

	b := bookerAt(open(t, 100, 36, "book", file))
	b.sees("Work list").tap("next station").sees("Next station", "▸ Station")
	b.tap(" Mast ").sees("▸ Reference object")
	b.tap(" Weir ").sees("▸ Targets")
	b.tap(" Alder ").sees("Targets ▌Alder,").tap(" Quarry ").sees("Targets ▌Alder, Quarry,").tap(" Chapel ").sees("Targets ▌Alder, Quarry, Chapel,")
	b.tap("read back").tap("open the setup").sees("Mast setup 2", "Set the circle between 0° and 1°.")
	b.tap("all keys").tap("show or hide the keypad").sees("⌫")
	b.touches(round1...).touches(round2...).touches(verticals...)
	b.tap("the verdict").sees("Every check is met").tap("height again ")
	b.touch("1.476").sees("The instrument height is measured again: 1.476 m.")
	b.tap("lift the tripod").sees("Lift the tripod from Mast?").tap("lift it")
	b.sees("Every check was met.", "the tripod is lifted").tap("work list").sees("Work list").tap("more").tap("leave").sees("Leave Readback?")
	b.tap(" leave ")
	if code := b.exit(); code != exitFine {
		t.Errorf("exit code %d", code)
	}
}
