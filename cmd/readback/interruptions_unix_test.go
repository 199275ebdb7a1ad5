//go:build unix

package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// What interrupts the booker costs a key each way and loses nothing: a target
// that is hidden for now, a remark, another screen in the middle of an entry, a
// pointing out of turn, a knocked tripod, a look at an earlier setup.
func TestInterruptions(t *testing.T) {
	b := halfBooked(t, 100, 36, "00510")

	// Alder is hidden: it is called again at the end of the half.
	b.presses("h").sees("Alder, face left, round 1 cannot be read now").presses("1")
	b.sees("Turn clockwise → and sight Quarry.").books("1203000")

	// Another screen in the middle of an entry, and back: it stands struck out until
	// one key takes it.
	b.key("2500").sees("keying")
	for _, screen := range []struct{ key, title string }{{"p", "B booking"}, {"c", "B booking"}, {"g", "Pointings"}, {"o", "Options"}, {"l", "The tripod stays."}, {"s", "Strike a reading"}, {"?", "Every key of this screen"}} {
		b.presses(screen.key).sees(screen.title).presses("b").sees("FL ●○●◆", "was left half keyed.").presses("t").sees("More digits come.")
	}
	b.key("045\r").booked("2500045")
	b.sees("It was hidden before.", "Sight Alder, if it is seen now.")

	// A remark beside it, then the hidden one.
	b.presses("r").sees("Write a remark").key("lorry at the weir").sees("lorry at the weir").presses(enter)
	b.sees("The remark is written.").books("451020")

	// A pointing out of turn: Alder before Mast, and back to the one that is called.
	b.sees("round 1 of 2 FL ●●●● FR ◆○○○").presses("g").sees("Pointings").presses(down, down).presses(enter)
	b.sees("Chosen by you").books("2251025").sees("FR ◆○●○", "sight Mast.")
	b.books("700050", "3003010", "1800515", "900510", "1351025")

	// The tripod is knocked: the round is void, its readings stay legible.
	b.presses("v").sees("is void from here").presses("1")
	b.sees("round 3 FL ◆○○○", "Set the circle between 90° and 91°.", "void: tripod knocked", "~90°05′10″~", "lorry at the weir")
	b.presses("w").sees("Work list").presses("n").sees("Next station").key(escape).sees("Sight Spire")
	b.leavesFrom("Sight Spire")
}

// leavesFrom leaves from a booking screen.
func (b *booker) leavesFrom(text string) *booker {
	b.t.Helper()
	b.sees(text).presses("q").sees("Leave Readback?").presses("n").misses("Leave Readback?")
	b.presses("q").sees("Leave Readback?").presses("y")
	if code := b.exit(); code != exitFine {
		b.t.Errorf("exit code %d", code)
	}
	return b
}

// A gon instrument with a closing RO: readings are plain decimals.
func TestStation_InGon(t *testing.T) {
	file := filepath.Join(t.TempDir(), "weir.book")
	b := bookerAt(open(t, 100, 36, "book", file)).sees("▸ Station")
	b.writes("Weir", "Spire", "Alder, Quarry", "1.475", "Ines Holm", "Tam Okoro", "T-5", "4471")
	b.goesTo("Circle unit").presses(right).sees("‹ gon ›")
	b.goesTo("RO again closes each half").presses(right).sees("‹ yes ›")
	b.presses(pageDown, "o").sees("Weir setup 1", "Set the circle between 0 gon and 1 gon.", "Plain decimal in gon: 123.456")
	b.key("0.103").sees("cannot").key(strings.Repeat(erase, 5)) // finer than the least count
	for _, r := range []string{"0.105", "50.205", "120.350", "0.110", "200.115", "320.360", "250.215", "200.110"} {
		b.calls(r).until(r+" booked and saved", func(screen string) bool { return noted(screen, r) && strings.Contains(screen, "✓ saved") })
	}
	b.sees("The half closes with", "limit 20 mgon.", "Set the circle between 100 gon and 101 gon.")
}
