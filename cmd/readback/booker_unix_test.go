//go:build unix

package main

import (
	"fmt"
	"strings"
	"testing"

	"example.org/readback/reduce"
)

// A booker works the screens of a terminal with a keyboard as a person does:
// keys what is called, looks, goes on. It counts its keys.
type booker struct {
	*terminal
	names  int // keys of names and of the Enter behind each
	digits int // keys of readings and of the Enter behind each
	others int // every other key
}

func bookerAt(p *terminal) *booker { return &booker{terminal: p} }

const (
	enter    = "\r"
	erase    = "\x7f"
	escape   = "\x1b"
	pageDown = "\x1b[6~"
	down     = "\x1b[B"
	left     = "\x1b[D"
	right    = "\x1b[C"
)

// sees waits until every text stands on the screen.
func (b *booker) sees(texts ...string) *booker {
	b.t.Helper()
	b.terminal.sees(texts...)
	return b
}

// misses waits until the text is off the screen.
func (b *booker) misses(text string) *booker {
	b.t.Helper()
	b.terminal.misses(text)
	return b
}

// key sends keys as one write, uncounted.
func (b *booker) key(s string) *booker {
	b.t.Helper()
	b.terminal.key(s)
	return b
}

// presses sends single keys one by one.
func (b *booker) presses(keys ...string) *booker {
	b.t.Helper()
	for _, k := range keys {
		b.others++
		b.key(k)
	}
	return b
}

// names the next fields of a form, each with Enter.
func (b *booker) writes(names ...string) *booker {
	b.t.Helper()
	for _, n := range names {
		b.names += len([]rune(n)) + 1
		b.key(n).sees(n).key(enter)
	}
	return b
}

// calls keys readings with Enter behind each, without looking.
func (b *booker) calls(readings ...string) *booker {
	b.t.Helper()
	for _, r := range readings {
		b.digits += len(r) + 1
		b.key(r).key(enter)
	}
	return b
}

// books keys readings and waits for each until it is shown as booked and saved.
func (b *booker) books(readings ...string) *booker {
	b.t.Helper()
	for _, r := range readings {
		b.calls(r).booked(r)
	}
	return b
}

// noted tells whether the screen says that a reading was just booked.
func noted(screen, figure string) bool {
	for line := range strings.SplitSeq(screen, "\n") {
		if _, said, ok := strings.Cut(line, "Booked: "); ok && strings.Contains(said, " "+figure+".") {
			return true
		}
	}
	return false
}

// figureOf is how a keyed reading stands on the screen.
func figureOf(t testing.TB, keyed string) string {
	t.Helper()
	a, err := reduce.ParseKeyed(keyed, reduce.DMS, reduce.Arcsecond)
	if err != nil {
		t.Fatal(err)
	}
	return a.Format(reduce.DMS, 0)
}

// marked keys a reading that the checks stop.
func (b *booker) marked(reading string) *booker {
	b.t.Helper()
	b.calls(reading).sees("Has the observer read it again?")
	return b
}

// confirms keys a reading that the checks stop, has the observer read it again
// and books it as it is.
func (b *booker) confirms(reading string) *booker {
	b.t.Helper()
	b.marked(reading).presses("y")
	return b.booked(reading)
}

// booked waits until a reading is shown as booked and saved.
func (b *booker) booked(reading string) *booker {
	b.t.Helper()
	figure := figureOf(b.t, reading)
	b.until("the reading "+figure+" booked and saved", func(screen string) bool {
		return noted(screen, figure) && strings.Contains(screen, "✓ saved")
	})
	return b
}

// leaves goes to the work list, leaves there and demands an orderly end.
func (b *booker) leaves() *booker {
	b.t.Helper()
	return b.presses("w").sees("Work list").quits()
}

// quits leaves from where it can be left.
func (b *booker) quits() *booker {
	b.t.Helper()
	b.presses("q").sees("Leave Readback?").presses("y")
	if code := b.exit(); code != exitFine {
		b.t.Fatalf("exit code %d:\n%s", code, b.screen())
	}
	return b
}

// Setups, readings and figures of the tests: an invented station Weir.

// firstSetup fills the form of a new book: RO and three targets, a 5″
// instrument, two rounds, verticals; the rest stays as it stands in the form.
func (b *booker) firstSetup() *booker {
	b.t.Helper()
	b.sees("New setup")
	b.writes("Weir", "Spire", "Alder, Quarry, Mast", "1.475", "Ines Holm", "Tam Okoro", "T-5", "4471")
	b.presses(pageDown, "o")
	b.sees("Weir setup 1", "Set the circle between 0° and 1°.", "✓ saved")
	return b
}

// The directions from the RO that the observer of the tests sees, with the
// collimation and the noise of a 5″ instrument.
var (
	round1    = []string{"00510", "451020", "1203000", "2500045", "700050", "3003010", "2251025", "1800515"}
	round2    = []string{"900510", "1351025", "2103000", "3400040", "1600050", "303005", "3151030", "2700515"}
	verticals = []string{"923435", "893000", "880010", "871500", "2724505", "2715955", "2703005", "2672530"}
)

// turned gives the figure of a reading after the circle was turned by whole
// degrees, with seconds added to it.
func turned(t testing.TB, reading string, degrees, seconds int) string {
	t.Helper()
	a, err := reduce.ParseKeyed(reading, reduce.DMS, reduce.Arcsecond)
	if err != nil {
		t.Fatal(err)
	}
	a = (a + reduce.Angle(degrees)*reduce.Degree + reduce.Angle(seconds)*reduce.Arcsecond).Normalize()
	return fmt.Sprintf("%d%02d%02d", a/reduce.Degree, a%reduce.Degree/reduce.Arcminute, a%reduce.Arcminute/reduce.Arcsecond)
}

// standsBooked demands that every reading stands on the page of the setup.
func (b *booker) standsBooked(readings ...string) *booker {
	b.t.Helper()
	b.presses("p").sees("least count")
	for _, r := range readings {
		b.sees(figureOf(b.t, r))
	}
	return b.presses("b").sees("Enter book")
}
