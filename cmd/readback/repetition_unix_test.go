//go:build unix

package main

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"example.org/readback/testdata"
)

// One angle by repetition, by keys only: the order is chosen in the form, which refuses
// two targets in it; the sum is called behind the single sight, marked where it fits five
// repetitions and where a degree is misread; lift. The means are those of (final −
// initial + 360°)/6 worked by hand: face left 75°18′25.833″, face right 75°18′21.667″,
// 75°18′23.75″ of both; in round 2 75°18′25″ of both; 75°18′24.375″ in all (common
// practice, no source). Sheet, audit and files have it, and the readings file reads back
// to the same.
func TestOrder_ByRepetition(t *testing.T) {
	if !*testdata.Long {
		t.Skip("a station and its outputs on the built program: -long")
	}
	dir := t.TempDir()
	file := filepath.Join(dir, "weir.book")
	b := bookerAt(open(t, 100, 36, "book", file))
	b.sees("New setup").writes("Weir", "Spire", "Alder, Mast", "1.475", "Ines Holm", "Tam Okoro", "T-5", "4471")
	b.goesTo("Vertical circle").presses(left).sees("‹ no ›")
	b.goesTo("Order of observing").presses(right).sees("‹ target by target ›").presses(right).sees("‹ repetition, 6 times ›", "whose circle can be carried")
	b.presses(pageDown).sees("one angle is measured in a setup: name one target").goesTo("Targets").presses(erase, erase, erase, erase, erase, erase).sees("▌Alder")
	b.presses(pageDown).sees("repetition, 6 times, circle settings").presses("o").sees("Weir setup 1", "Set the circle between 0° and 1°.")

	b.books("01210").sees("Turn clockwise → and sight Alder: the single angle.").books("753035").sees("Alder, after 6 repetitions", "Carry the circle back to Spire")
	b.marked("164405").sees("It fits 5 repetitions").presses("n").sees("○ empty").marked("930245").sees("one out").presses("n").sees("○ empty")
	b.books("920245").sees("Still on face left, set the circle to 0°12′10″ on Spire.", "transit, and sight Spire.", "after 6").books("1801205", "2553025", "2720215").sees("Set the circle between 90° and 91°.")
	b.books("900510", "1652335", "1815540").presses("s").sees("Strike a reading").goesToRow("165°23′35″").presses(enter).presses("1").sees("The circle was carried on since Alder was", "V, void the round.")
	b.presses("v").sees("is void from here").presses("3").sees("Set the circle between 90° and 91°.")
	b.books("900510", "1652335", "1815540", "2700505", "3452330", "15535").sees("The verdict is Lift.")
	b.presses("p").sees("75°18′23.8″", "75°18′25.0″").presses("b").presses("l").sees("Every check is met").presses("t").sees("Lift the tripod from").presses("y").sees("the tripod is lifted").leaves()

	for command, want := range map[string]string{
		"sheet": "The means of 6 repetitions agree with the single angles", "sheet --annex": "One angle by repetition, 6 times on each face", "export": ",1,FL,Alder,accumulated,92 02 45,dms,",
		"export --as landxml": "The circle after 6 repetitions of the angle from Spire.", "export --as sql": "accumulated,920245,dms", "export --as jsonl": `"repetitions":6`, "audit": "Every event matches its hash",
	} {
		words := strings.Fields(command)
		if o := runs(t, append([]string{words[0], file}, words[1:]...)...); o.code != exitFine || !strings.Contains(squeezed(o.out), want) && !strings.Contains(o.out, want) {
			t.Errorf("%s: exit code %d, no %q in\n%.6000s%s", command, o.code, want, squeezed(o.out), o.errs)
		}
	}
	want, got := reduced(t, "export", file, "--as", "json"), reducedAgain(t, file)
	if want.Order != "repetition" || want.Verdict != "lift" || len(want.Directions) != 1 || want.Directions[0]["direction"] != "75°18′24.4″" || !reflect.DeepEqual(got, want) {
		t.Errorf("the exported readings give\n%+v\nthe book has\n%+v", got, want)
	}
	again := filepath.Join(dir, "again.book")
	if o := runs(t, "import", again, file+".csv", "--booker", "Tam Okoro"); o.code != exitFine {
		t.Fatal(o.out, o.errs)
	}
	if back := reduced(t, "export", again, "--as", "json"); back.Order != want.Order || !reflect.DeepEqual(back.Directions, want.Directions) {
		t.Errorf("imported: %+v", back)
	}
	day := filepath.Join(dir, "day.csv")
	if err := os.WriteFile(day, []byte("station,ro,targets,order\nKiln,Spire,Mast,repetition 4\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if o := runs(t, "plan", again, day); o.code != exitFine {
		t.Fatal(o.out, o.errs)
	}
	bookerAt(open(t, 100, 36, "book", again)).sees("Kiln planned next").presses("n").sees("Proposed from the plan", "repetition, 4 times, circle").presses(escape).sees("Work list").quits()
}

// A drill by repetition calls the single sight, the sum behind it, and face right.
func TestDrill_ByRepetition(t *testing.T) {
	b := bookerAt(open(t, 100, 36, "drill", "--seed", "4", "--order", "repetition", "--slips", "0")).sees("DRILL", "the observer calls")
	for _, next := range []string{"the single angle.", "after 6 repetitions", "Still on face left, set the circle to", "the single angle.", "after 6 repetitions", "round 2 of 2"} {
		call := callNow(b.screen())
		b.calls(call).until("another call", func(screen string) bool {
			now := callNow(screen)
			return now != "" && now != call && strings.Contains(squeezed(screen), next)
		})
	}
}
