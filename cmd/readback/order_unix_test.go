//go:build unix

package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"syscall"
	"testing"

	"example.org/readback/testdata"
)

// byTarget puts the readings of a round by halves in the order target by target:
// face left of a target, and at once its face right.
func byTarget(round []string) []string {
	var out []string
	for i := range len(round) / 2 {
		out = append(out, round[i], round[len(round)-1-i])
	}
	return out
}

// A station target by target, by keys only: the order is chosen in the form; the
// program is killed between the two faces of a target; a wrong degree is told by the
// face before it; one round is left out; a target hidden on face left is not called
// on face right, and both come at the end; lift. The sheet, the audit and the
// readings file say the order, and the file reduces and imports to the same.
func TestOrder_TargetByTarget(t *testing.T) {
	if !*testdata.Long {
		t.Skip("a station and its outputs on the built program: -long")
	}
	file := filepath.Join(t.TempDir(), "weir.book")
	b := bookerAt(open(t, 100, 36, "book", file))
	b.sees("New setup").writes("Weir", "Spire", "Alder, Quarry, Mast", "1.475", "Ines Holm", "Tam Okoro", "T-5", "4471")
	b.goesTo("Order of observing").presses(right).sees("‹ target by target ›", "both faces at once")
	b.presses(pageDown).sees("target by target, circle settings").presses("o").sees("Weir setup 1", "Set the circle between 0° and 1°.")

	first := byTarget(round1)
	b.books(first[0]).sees("Transit the telescope.", "Sight Spire.", "FL ●○○○ FR ◆○○○")
	b.books(first[1]).sees("Transit the telescope.", "Turn clockwise → and sight Alder.", "FL ●◆○○ FR ●○○○")
	b.books(first[2]).sees("Sight Alder.", "FL ●●○○ FR ●◆○○")
	if code := b.signal(syscall.SIGKILL).exit(); code != 128+int(syscall.SIGKILL) {
		t.Fatalf("exit code %d", code)
	}
	b = bookerAt(open(t, 100, 36, "book", file))
	b.sees("Transit the telescope.", "Sight Alder.", "FL ●●○○ FR ●◆○○").marked("2241025").presses("n").sees("○ empty").books(first[3:]...)

	second := byTarget(round2)
	second[6], second[7] = turned(t, second[6], 0, -65), turned(t, second[7], 0, -65) // Mast, a minute off on both faces
	b.sees("Set the circle between 90° and 91°.").books(second[:6]...).confirms(second[6]).confirms(second[7])
	b.sees("Set the circle between 180° and 181°.")
	third := make([]string, len(first))
	for i, r := range first {
		third[i] = turned(t, r, 180, []int{0, 5, -5, 0, 5, 5, 0, -5}[i])
	}
	b.books(third[:2]...).presses("h").sees("Alder, face left, round 3 cannot be read now", "called again at the end of the round").presses("1").presses(enter).sees("and sight Quarry.")
	b.books(third[4:]...).sees("Sight Alder, if it is seen now.", "FL ●◆●● FR ●○●●").books(third[2:4]...)
	b.sees("Set the circle between 270° and 271°.").presses("c").sees("leave round 3 out").presses(left).sees("leave round 2 out").presses("x")
	b.sees("Leave round 2 out of the means").presses("1").sees("The rounds agree within").presses("b").sees("Read the vertical circle on Spire.")
	b.books(verticals...).lifts("Weir", "1.476").presses("w").sees("✓ 1 Weir lifted").quits()

	for command, want := range map[string]string{"sheet": "Target by target, ", "audit": "Every event matches its hash"} {
		if o := runs(t, command, file); o.code != exitFine || !strings.Contains(squeezed(o.out), want) {
			t.Errorf("%s: exit code %d, no %q in\n%s%s", command, o.code, want, o.out, o.errs)
		}
	}
	csv := runs(t, "export", file).out
	if rows := strings.Split(strings.TrimSpace(csv), "\r\n"); !strings.Contains(rows[0], ",order,") || strings.Count(csv, ",target by target,") != len(rows)-1 {
		t.Errorf("the order is not in every row:\n%s", csv)
	}
	want, got := reduced(t, "export", file, "--as", "json"), reducedAgain(t, file)
	if want.Verdict != "lift" || len(want.Directions) != 3 || want.Order != "target by target" || !reflect.DeepEqual(got, want) {
		t.Errorf("the exported readings give\n%+v\nthe book has\n%+v", got, want)
	}
	again := filepath.Join(t.TempDir(), "again.book")
	if o := runs(t, "import", again, file+".csv", "--booker", "Tam Okoro"); o.code != exitFine {
		t.Fatal(o.out, o.errs)
	}
	if back := reduced(t, "export", again, "--as", "json"); back.Order != want.Order || !reflect.DeepEqual(back.Directions, want.Directions) {
		t.Errorf("imported: %+v", back)
	}
}

// A plan says the order, and the setup proposed from it has it; a plan with another
// word is refused with its line and column.
func TestOrder_FromThePlan(t *testing.T) {
	dir := t.TempDir()
	file, plan := filepath.Join(dir, "day.book"), filepath.Join(dir, "day.csv")
	put := func(order string) {
		if err := os.WriteFile(plan, []byte("station,ro,targets,order\nWeir,Spire,Alder; Mast,"+order+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	put("by turns")
	if o := runs(t, "plan", file, plan); o.code == exitFine || !strings.Contains(o.errs, `line 2, column 4 (order): "by turns" is no order of observing`) {
		t.Errorf("exit code %d: %s%s", o.code, o.out, o.errs)
	}
	put("target by target")
	if o := runs(t, "plan", file, plan); o.code != exitFine {
		t.Fatal(o.out, o.errs)
	}
	b := bookerAt(open(t, 100, 36, "book", file)).sees("target by target, circle settings")
	b.presses("o").sees("Weir setup 1")
	b.books("00510").sees("Transit the telescope.", "Sight Spire.").leaves()
	var e struct {
		Body struct{ Spec struct{ Order int } }
	}
	opened := false
	for line := range strings.Lines(runs(t, "export", file, "--as", "jsonl").out) {
		opened = opened || json.Unmarshal([]byte(line), &e) == nil && e.Body.Spec.Order == 1
	}
	if !opened {
		t.Error("no event of the journal opens a setup in this order")
	}
}

// Several reference objects by keys: the further one is named in the form, each half
// closes on it too, and its misclosure is held against the limit of the RO; a closing
// sight that does not fit holds the station until it is struck and read again. The page,
// the sheet, the files and the plan say it.
func TestOrder_SeveralReferenceObjects(t *testing.T) {
	dir := t.TempDir()
	file, plan := filepath.Join(dir, "weir.book"), filepath.Join(dir, "day.csv")
	b := bookerAt(open(t, 100, 36, "book", file))
	b.sees("New setup").writes("Weir", "Spire", "Alder, Quarry, Mast", "1.475", "Ines Holm", "Tam Okoro", "T-5", "4471")
	b.goesTo("RO again closes each half").presses(right).sees("‹ yes ›").goesTo("Vertical circle").presses(left).sees("‹ no ›")
	b.goesTo("Further ROs").key("Quary").presses(pageDown).sees("is no target").goesTo("Further ROs").key(erase).key(erase).key("rry").sees("▌Quarry")
	b.presses(pageDown).sees("Quarry too, as a check").presses("o").sees("Weir setup 1", "Set the circle between 0° and 1°.")
	b.books("00510", "451020", "1203000", "2500045").sees("Sight Spire again: it closes the half.").books("00515").sees("The half closes with +5″", "Sight Quarry again: it checks the half.")
	b.books("1203005").sees("The half closes on Quarry with +5″").books("3003010", "1800520", "700050", "3003010").sees("The half closes on Quarry with 0″").books("2251025", "1800515")
	b.books("900510", "1351025", "2103000", "3400040", "900510").marked("2103040").sees("The half closes on Quarry with +40″").presses("y").booked("2103040")
	b.books("303010", "2700515", "1600050", "303005", "3151030", "2700515")
	b.sees("The verdict is Hold.").presses("l").sees("Round 2 face left closes on Quarry with +40″").presses("b")
	b.presses("p").sees("Quarry closing", "Quarry closes").presses("b").sees("Everything that was called is booked.")
	b.presses("s").sees("Strike a reading").goesToRow("210°30′40″").presses(enter).presses("1").sees("Quarry").books("2103005")
	b.presses("l").sees("Every check is met").presses("t").sees("Lift the tripod from").presses("y").sees("the tripod is lifted").leaves()

	for command, want := range map[string]string{
		"sheet": "The halves close on Spire, Quarry, most", "sheet --annex": "goes into no mean: Quarry", "export": ",1 closing,FL,Quarry,horizontal,120 30 05,", "export --as landxml": "A further reference object observed again",
		"export --as sql": "by halves,Quarry", "audit": "Every event matches its hash",
	} {
		words := strings.Fields(command)
		if o := runs(t, append([]string{words[0], file}, words[1:]...)...); o.code != exitFine || !strings.Contains(squeezed(o.out), want) && !strings.Contains(o.out, want) {
			t.Errorf("%s: exit code %d, no %q in\n%.6000s%s", command, o.code, want, squeezed(o.out), o.errs)
		}
	}
	want := reduced(t, "export", file, "--as", "json")
	if got := reducedAgain(t, file); !reflect.DeepEqual(got, want) || !reflect.DeepEqual(want.Further, []string{"Quarry"}) {
		t.Errorf("the exported readings give\n%+v\nthe book has\n%+v", got, want)
	}
	for text, says := range map[string]string{"Spire; Pole": "is no target", "Spire; Mast": ""} {
		if err := os.WriteFile(plan, []byte("station,ro,targets\nKiln,"+text+",Alder; Mast\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		if o := runs(t, "plan", file, plan); (o.code == exitFine) != (says == "") || !strings.Contains(o.errs, says) {
			t.Errorf("exit code %d: %s%s", o.code, o.out, o.errs)
		}
	}
	bookerAt(open(t, 100, 36, "book", file)).sees("Kiln planned next").presses("n").sees("Proposed from the plan", "Kiln", "Mast too, as a check").presses(escape).sees("Work list").quits()
}
