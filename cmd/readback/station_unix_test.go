//go:build unix

package main

import (
	"encoding/json"
	"path/filepath"
	"reflect"
	"strings"
	"syscall"
	"testing"
)

// A whole station by keys only: a wrong degree found by the other face, struck
// and read again; a wrong degree marked and corrected before it is booked; the
// program killed in the middle of an entry; rounds that do not agree, a third
// one, one left out with its reason; verticals; lift; and the exported readings
// give the book's own results again.
func TestStation_ByKeysOnly(t *testing.T) {
	file := filepath.Join(t.TempDir(), "weir.book")
	b := bookerAt(open(t, 100, 30, "book", file)).firstSetup()

	// Round 1, with 46° keyed for 45° where nothing speaks against it yet.
	b.books("00510", "461020", "1203000", "2500045", "700050", "3003010")
	b.marked("2251025").sees("Here or on face", "left: The degrees look one out")
	b.presses("s").sees("Strike a reading").presses("5").sees("› 5").presses(enter)
	b.sees("Strike 46°10′20″ of Alder, face left, round 1").presses("2")
	b.sees("Sight Alder and read it again.", "round 1 of 2", "~46°10′20″~ struck: keyed wrongly")
	b.books("451020")
	b.sees("round 1 of 2 FL ●●●● FR ●●◆○", "225°10′25″~ was left half keyed.").presses("t").sees("✓ ready").presses(enter)
	b.booked("2251025").books("1800515")

	// The battery is pulled in the middle of an entry.
	b.books("900510").sees("and sight Alder.").key("1351")
	b.sees("keying", "More digits come.")
	if code := b.signal(syscall.SIGKILL).exit(); code != 128+int(syscall.SIGKILL) {
		t.Fatalf("exit code %d", code)
	}
	again := bookerAt(open(t, 100, 30, "book", file))
	again.names, again.digits, again.others = b.names, b.digits, b.others
	b = again
	b.sees("round 2 of 2 FL ●◆○○", "Turn clockwise → and sight Alder.", "○ empty", "✓ saved")
	b.standsBooked(append(round1, "461020", "900510")...)

	// Round 2: a wrong degree is marked before it is booked, and Mast has moved.
	b.marked("1361025").presses("n").sees("○ empty").books("1351025", "2103000")
	b.confirms("3400105").confirms("1600115").books("303005", "3151030", "2700515")
	b.sees("round 3 FL ◆○○○", "Set the circle between 180° and 181°.")
	b.presses("c").sees("B booking", "The rounds do not agree on Mast: spread 22.5″, limit").presses("b").sees("○ empty")
	for i, r := range round1 {
		b.books(turned(t, r, 180, []int{0, 5, -5, 0, 5, 5, 0, -5}[i]))
	}
	b.sees("Read the vertical circle on Spire.")
	b.presses("l").sees("Hold", "Mast, round 2").presses("c").sees("leave round 2 out").presses("x")
	b.sees("Leave round 2 out of the means").presses("1")
	b.sees("Round 2 is left out.", "The rounds agree within").presses("b")

	b.sees("Read the vertical circle on Spire.").books(verticals...)
	b.lifts("Weir", "1.476")
	b.presses("w").sees("Work list", "✓ 1 Weir lifted").quits()

	// What is exported gives the book's own results again.
	want, got := reduced(t, "export", file, "--as", "json"), reducedAgain(t, file)
	if want.Verdict != "lift" || len(want.Directions) != 3 || len(want.Verticals) != 4 || want.Dof != 3 {
		t.Errorf("the book's own results: %+v", want)
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("the exported readings give\n%+v\nthe book has\n%+v", got, want)
	}
	o := runs(t, "audit", file)
	for _, words := range []string{"struck event 5 (round 1 FL Alder horizontal, 461020): keyed wrongly", "round 2 left out: it does not agree with the others", "booked 3400105 at round 2 FL Mast horizontal although it was marked", "Every event matches its hash"} {
		if o.code != exitFine || !strings.Contains(o.out, words) {
			t.Errorf("exit code %d, %q is not in\n%s%s", o.code, words, o.out, o.errs)
		}
	}
}

// What is read of the JSON of the reductions.
type (
	setupJSON struct {
		Station    string
		Reference  string
		Order      string
		Further    []string `json:"further_references"`
		Rounds     []roundJSON
		Directions []map[string]any
		S0         float64 `json:"sd_direction_sec"`
		Dof        int
		Verticals  []map[string]any
		Verdict    string
		Reasons    []string
	}
	roundJSON struct {
		Round     int
		Used      bool
		Pointings []map[string]any
	}
)

// reduced runs a command that prints reductions as JSON and reads its only
// setup.
func reduced(t *testing.T, args ...string) setupJSON {
	t.Helper()
	o := runs(t, args...)
	var list struct{ Setups []setupJSON }
	if err := json.Unmarshal([]byte(o.out), &list); err != nil || o.code != exitFine || len(list.Setups) != 1 {
		t.Fatalf("%q: exit code %d, %v: %s%s", args, o.code, err, o.out, o.errs)
	}
	return list.Setups[0]
}

// reducedAgain exports the readings of a book and reduces them.
func reducedAgain(t *testing.T, book string) setupJSON {
	t.Helper()
	csv := book + ".csv"
	if o := runs(t, "export", book, "-o", csv); o.code != exitFine || o.out != "" {
		t.Fatalf("exit code %d: %s%s", o.code, o.out, o.errs)
	}
	return reduced(t, "reduce", "--json", csv)
}
