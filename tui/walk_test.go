package tui

import "testing"

// firstSetup opens the first setup of a book as a crew would.
func firstSetup(d *driver) *driver { return d.unseen(func() { openFirst(d) }) }

// openFirst does the same, every key drawn.
func openFirst(d *driver) *driver {
	d.t.Helper()
	return d.keys("Weir<enter>Spire<enter>Alder, Quarry, Mast<enter><down>").
		keys("Ines Holm<enter>Tam Okoro<enter>T-5<enter>4471<enter>").
		keys("<enter><enter><enter>o") // unit, least count, stated σ: read back and opened
}

var (
	roundOne = []string{"00510", "451020", "1203000", "2500045", "700050", "3003010", "2251025", "1800515"}
	roundTwo = []string{"900510", "1351025", "2103000", "3400040", "1600050", "303005", "3151030", "2700515"}
)

func TestWholeStation_ByKeys(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{})
	openFirst(d).sees("Set the circle between 0° and 1°.", "Sight Spire, the RO.")
	d.book(roundOne...).sees("round 2 of 2", "Set the circle between 90° and 91°.")
	d.book(roundTwo...).sees("vertical circle", "Read the vertical circle on Spire.")
	d.book("923435", "893000", "880010", "871500").book("2724500", "2715955", "2703005", "2672530")
	d.sees("Enter shows the checks.")
	d.keys("l").sees("Every check is met", "Before the tripod is lifted")
	d.keys("i").sees("Measure the height of the instrument again.").book("1.542").sees("1.542 m")
	d.keys("ty").sees("Press N at the next station")
	d.keys("n").sees("Next station")
}
