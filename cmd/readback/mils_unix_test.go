//go:build unix

package main

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/testdata"
)

// A station keyed by hand in mils, 6400 to the circle: the form's choice of unit, both
// faces half a circle (3200) apart, the settings of the circle a quarter (1600) apart, a
// wrong hundred told by the other face, the vertical circle level at 1600; lift. What goes
// out is the angle in degrees, 800.4 · 360/6400 (the definition of the unit).
func TestStation_KeyedInMils(t *testing.T) {
	if !*testdata.Long {
		t.Skip("on the built program: -long; package tui keys it without one")
	}
	file := filepath.Join(t.TempDir(), "mils.book")
	b := bookerAt(open(t, 100, 36, "book", file))
	b.sees("New setup").writes("Weir", "Spire", "Alder", "1.475", "Ines Holm", "Tam Okoro", "T-9", "77")
	b.goesTo("Circle unit").presses(right, right, right).sees("‹ mils")
	b.presses(pageDown).sees("O open the setup").presses("o").sees("Weir setup 1", "Set the circle between 0 mil and 20 mil.")
	for _, r := range []string{"0.1", "800.5"} {
		b.calls(r).sees("Booked:", " "+r+".", "✓ saved")
	}
	b.calls("4100.5").sees("Has the observer read it again?").presses("n").sees("○ empty")
	for _, r := range []string{"4000.5", "3200.1", "1600.2", "2400.6", "5600.6", "4800.2", "1580.0", "1590.0", "4810.0", "4820.0"} {
		b.calls(r).sees("Booked:", " "+r+".", "✓ saved")
	}
	b.lifts("Weir", "1.476").leaves()

	o := runs(t, "export", file, "--as", "directions")
	found := false
	for row := range strings.SplitSeq(o.out, "\n") {
		f := strings.Split(row, ",")
		if len(f) < 7 || f[3] != "Alder" {
			continue
		}
		found = true
		if f[4] != "800.40" && f[4] != "800.4" || math.Abs(number(t, f[6])-45.0225) > 1e-9 {
			t.Errorf("the direction is %s, %s°", f[4], f[6])
		}
	}
	if !found || o.code != exitFine {
		t.Errorf("exit code %d\n%s%s", o.code, o.out, o.errs)
	}
	if csv := runs(t, "export", file).out; strings.Count(csv, ",mil,") != 12 {
		t.Errorf("readings in mils:\n%s", csv)
	}
}
