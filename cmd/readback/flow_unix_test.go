//go:build unix

package main

import (
	"path/filepath"
	"testing"
)

// The keys that two stations take, beyond the names, beside the least possible:
// every digit of every reading once and one key behind it. From the lift to the
// first reading of the next station with the same crew there are at most four
// beyond the new names.
func TestFlow_KeysPerStation(t *testing.T) {
	b := bookerAt(open(t, 100, 30, "book", filepath.Join(t.TempDir(), "weir.book"))).firstSetup()
	first := b.others
	clean := append(append(append([]string{}, round1...), round2...), verticals...)
	b.books(clean...).lifts("Weir", "1.476")
	t.Logf("first station of a book: %d keys of readings, %d of names, %d others (%d of them in the form)", b.digits, b.names, b.others, first)

	b.names, b.digits, b.others = 0, 0, 0
	b.presses("n").sees("Next station")
	for _, names := range []string{"Alder", "Weir, Quarry, Mast, Chapel"} {
		b.key(names).sees("▌" + names).presses(enter)
	}
	b.presses("o").sees("Alder setup 2", "Set the circle between 0° and 1°.")
	if b.others > 4 {
		t.Errorf("%d keys beyond the names from the lift to the first reading, want at most 4", b.others)
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

// The keys of names and words, each with its Enter, and of all, from an empty form
// to the first reading of a first book on a station with three targets. Each field
// keyed on its own with a height they were 66 and 72. They are at most half of it, on
// a tablet that knows crew and instrument and on one that knows nothing.
func TestFlow_KeysOfAFirstBook(t *testing.T) {
	const namesBefore, allBefore = 66, 72
	for _, known := range []bool{false, true} {
		dir := t.TempDir()
		var env []string
		if known {
			env = []string{"READBACK_OBSERVER=Ines Holm", "READBACK_BOOKER=Tam Okoro", "READBACK_INSTRUMENT=T-5", "READBACK_SERIAL=4471"}
		}
		b := bookerAt(openEnv(t, 100, 36, env, "book", filepath.Join(dir, "first.book"))).sees("▸ Station")
		for _, names := range []string{"Weir", "Spire, Alder, Quarry, Mast"} {
			b.writes(names)
		}
		crew := "Ines Holm observes, Tam Okoro books"
		if !known { // said later: see TestAmend_FirstReadingInHalfTheKeys
			b.sees("▸ Instrument height").presses(enter)
			crew = "Crew not yet said Instrument not yet said"
		}
		b.sees("Read this setup back", crew).presses("o").sees("Sight Spire").calls("00510").booked("00510")
		all := b.names + b.others
		t.Logf("crew in the defaults: %v: %d keys of names and words, %d in all to the first reading", known, b.names, all)
		if b.names > namesBefore/2 || all > allBefore/2 {
			t.Errorf("crew in the defaults: %v: %d keys of names and words, %d in all; want at most %d and %d", known, b.names, all, namesBefore/2, allBefore/2)
		}
	}
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
