//go:build unix

package main

import (
	"path/filepath"
	"testing"
)

// With known stations loaded the very first sight of a wrong target is marked
// while it is keyed, before anything else was observed on the station: Alder lies
// 90° from the RO, Quarry 225°.
func TestKnown_WrongTargetIsMarkedAtTheFirstSight(t *testing.T) {
	dir := t.TempDir()
	book, places := filepath.Join(dir, "dam.book"), filepath.Join(dir, "known.csv")
	put(t, places, "name,E,N,H\nWeir,1000,2000,\nSpire,1000,2500,\nAlder,1300,2000,\nQuarry,700,1700,\n")
	if o := runs(t, "known", book, places); o.code != exitFine {
		t.Fatal(o.errs)
	}
	b := bookerAt(open(t, 100, 30, "book", book)).sees("New setup")
	b.writes("Weir", "Spire", "Alder, Quarry", "1.475", "Ines Holm", "Tam Okoro", "T-5", "4471").presses(pageDown, "o")
	b.sees("Weir setup 1").books("00510")
	b.key("2250515").sees("marked", "This looks like").key(enter)
	b.sees("Has the observer read it again?", "from what is known").presses("n").sees("○ empty").books("900520", "2250515")
	b.leaves()
}
