package store

import (
	"os"
	"strings"
	"testing"
)

// How often the tests of this package attack with -long. README.md tells these
// numbers, and TestReadme_TellsTheAttacks holds it to them.
const (
	longKills       = 1000 // TestKill
	longBlockKills  = 300  // TestAppendAll_Kill
	longGatherKills = 300  // TestGather_Kill
	longPictures    = 600  // TestCrash_Pictures: bookings, each with every lawful picture of a power cut
	longDamages     = 4000 // TestDamage
	longJournals    = 3000 // TestDamage_Journal
	longPlaces      = 40   // TestInject: places a system call
	longGathers     = 100  // TestGather_EightAtOnce
)

// attacks are the lines of the table in README.md that this package answers for.
var attacks = []string{
	"| a booking is killed | `TestKill` | 1,000 kills |",
	"| a booking of several events at once is killed | `TestAppendAll_Kill` | 300 kills |",
	"| a gathering is killed | `TestGather_Kill` | 300 kills |",
	"| the power goes while an event is booked | `TestCrash_Pictures` | every lawful picture of 600 bookings |",
	"| one bit of the structure of a book is turned, and it is read | `TestRead_EveryStructuralBit` | every bit of every page head and element head, of a field book and an office book |",
	"| a book file is damaged | `TestDamage` | 4,000 damages |",
	"| a journal is damaged | `TestDamage_Journal` | 3,000 damages |",
	"| a write or a sync of a booking fails | `TestInject` | 40 places of 3 system calls |",
	"| eight gather into one book at once | `TestGather_EightAtOnce` | 100 times |",
}

// Ensure that README.md tells the attacks as the tests make them.
func TestReadme_TellsTheAttacks(t *testing.T) {
	text, err := os.ReadFile("README.md")
	must(t, err)
	for _, line := range attacks {
		if !strings.Contains(string(text), line) {
			t.Errorf("README.md does not have the line\n%s", line)
		}
	}
	want := []int{longKills, longBlockKills, longGatherKills, longPictures, longDamages, longJournals, longPlaces, longGathers}
	told := []string{"1,000 kills", "300 kills", "300 kills", "600 bookings", "4,000 damages", "3,000 damages", "40 places", "100 times"}
	for i, n := range []int{1000, 300, 300, 600, 4000, 3000, 40, 100} {
		if want[i] != n {
			t.Errorf("%s are told, the tests make %d: change the table with them", told[i], want[i])
		}
	}
}
