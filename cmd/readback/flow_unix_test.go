//go:build unix

package main

import (
	"path/filepath"
	"testing"
)

// The keys that two stations take, beyond the names, beside the least possible:
// every digit of every reading once and one key behind it. From the lift to the
// first reading of the next station with the same crew there are at most six.
func TestFlow_KeysPerStation(t *testing.T) {
	b := bookerAt(open(t, 100, 30, "book", filepath.Join(t.TempDir(), "weir.book"))).firstSetup()
	first := b.others
	clean := append(append(append([]string{}, round1...), round2...), verticals...)
	b.books(clean...).lifts("Weir", "1.476")
	t.Logf("first station of a book: %d keys of readings, %d of names, %d others (%d of them in the form)", b.digits, b.names, b.others, first)

	b.names, b.digits, b.others = 0, 0, 0
	b.presses("n").sees("Next station")
	b.writes("Alder", "Weir").key("Quarry, Mast, Chapel").sees("Quarry, Mast, Chapel")
	b.names += len("Quarry, Mast, Chapel")
	b.presses(enter, "o").sees("Alder setup 2", "Set the circle between 0° and 1°.")
	if b.others > 6 {
		t.Errorf("%d keys beyond the names from the lift to the first reading, want at most 6", b.others)
	}
	begin := b.others
	b.books(clean...).lifts("Alder", "1.530")
	least := 0
	for _, r := range append(clean, "1.530") {
		least += len(r) + 1
	}
	t.Logf("next station: %d keys of readings (least possible %d), %d of names, %d others (%d to the first reading, %d from the last)",
		b.digits, least, b.names, b.others, begin, b.others-begin)
	if b.digits != least || b.others > 10 {
		t.Errorf("%d keys beyond names and readings", b.others)
	}
	b.leaves()
}

// lifts goes from the last reading through the checks to the lifted tripod.
func (b *booker) lifts(station, height string) *booker {
	b.t.Helper()
	b.sees("The verdict is Lift.").presses(enter)
	b.sees("Every check is met").presses("i")
	b.sees("Measure the height of the instrument").calls(height).sees("The instrument height is measured again: " + height + " m.")
	b.presses("t").sees("Lift the tripod from " + station + "?").presses("y")
	return b.sees("Every check was met.", "the tripod is lifted", "✓ saved")
}
