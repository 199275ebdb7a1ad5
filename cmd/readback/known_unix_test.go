//go:build unix

package main

import (
	"path/filepath"
	"testing"

	"example.org/readback/testdata"
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

// A distance that does not agree is told at its entry with figure and limit, by keys
// on the built program: on Weir that to Alder against known coordinates, 300 m by the
// file, and set up there again that to Spire against the one measured before. The limits
// are 3.6 × √2 × 20 mm, or 50 mm, and 0.4 mm a metre (assumed; worked by hand).
func TestKnown_DistancesThatDisagree(t *testing.T) {
	if !*testdata.Long {
		t.Skip("on the built program: -long; package tui keys it without one")
	}
	dir := t.TempDir()
	file, places := filepath.Join(dir, "dam.book"), filepath.Join(dir, "known.csv")
	put(t, places, "name,E,N,H\nWeir,1000,2000,\nAlder,1300,2000,\n")
	if o := runs(t, "known", file, places); o.code != exitFine {
		t.Fatal(o.errs)
	}
	b := bookerAt(open(t, 100, 36, "book", file)).sees("New setup")
	b.writes("Weir", "Spire", "Alder, Mast", "1.475", "Ines Holm", "Tam Okoro", "T-5", "4471").presses(pageDown, "o").sees("Weir setup 1")
	turnsTo := func(row, asked string) {
		b.presses("g").sees("Pointings").goesToRow(row).presses(enter).sees("Chosen by you", asked)
	}
	for _, v := range [][2]string{
		{"Spire, face left, vertical", "890000"}, {"Spire, face right, vertical", "2710000"},
		{"Alder, face left, vertical", "900000"}, {"Alder, face right, vertical", "2700000"},
	} {
		turnsTo(v[0], "vertical circle")
		b.books(v[1])
	}
	turnsTo("Spire, slope distance", "distance to Spire")
	b.calls("512.340").sees("512.340", "✓ saved").misses("Chosen by you")
	turnsTo("Alder, slope distance", "distance to Alder")
	b.marked("300.500").sees("The horizontal distance differs by 0.500 m", "coordinates, limit 0.222 m.").presses("n").sees("○ empty")
	b.calls("300.004").misses("Chosen by you").sees("300.004", "✓ saved")
	b.presses("w").sees("Work list").presses("n")
	b.opensCorner(2, "Weir", "Spire", "Alder")
	turnsTo("Spire, slope distance", "distance to Spire")
	b.marked("511.000").sees("is 1.261 m shorter", "0.255 m. Have it read again")
	b.presses("n").sees("○ empty").calls("512.343").misses("Chosen by you").sees("512.343", "✓ saved")
	b.leaves()
}
