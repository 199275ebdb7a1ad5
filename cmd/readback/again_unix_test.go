//go:build unix

package main

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// A half is observed again without striking the first, and a single sight too: the
// means count, the spread is held against its limit; one that is too wide holds the
// station until it is left out with a reason. Sheet, audit, CSV and JSON say it.
func TestAgain_AHalf(t *testing.T) {
	file := filepath.Join(t.TempDir(), "half.book")
	b := bookerAt(open(t, 100, 36, "book", file))
	b.firstSetup().books(round1[:4]...)
	b.presses("g").sees("Pointings", "The whole half again: face left, round 1").goesToRow("The whole half again").presses(enter)
	b.sees("Face left of round 1 is called again.", "Sight Spire")
	b.books("00515", "451015", "1203005").marked("2500145").presses("y").booked("2500145")
	b.presses("p").sees("least count", "again", "250°01′45″").presses("b").sees("Enter book")
	b.books(round1[4:]...)
	b.presses("g").sees("Pointings").goesToRow("Spire, face right, round 1").presses("a").sees("Chosen by you", "sight Spire", "covered covered")
	b.books("1800505")
	b.books(round2...)
	b.books(verticals...)
	b.sees("The verdict is Hold.", "4 sights on face left of round 1 were read again: largest spread 60″ on Mast")
	b.presses("s").sees("Strike a reading").goesToRow("250°01′45″").presses("x")
	b.sees("All 4 of face left, round 1, as observed again, 1", "This reading alone").presses("1").sees("The reading is left out.")
	b.presses("l").sees("Every check is met").presses("t").sees("Lift the tripod from").presses("y").sees("the tripod is lifted")
	b.leaves()
	for command, wants := range map[string][]string{
		"audit":               {"face left of round 1 asked for again", "left out event", "it does not agree with the others"},
		"sheet":               {"Measured again as a check, repeat 1.", "250°01′45″", "Left out of the means"},
		"export":              {",1b,FL,Mast,horizontal,250 01 45,", "reading left out: it does not agree with the others", ",1b,FR,Spire,horizontal,180 05 05,"},
		"export --as json":    {`"repeated": [`, `"quantity": "horizontal"`},
		"export --as jsonl":   {`"repeat":1`},
		"export --as landxml": {"Repeated measurement 2."},
		"export --as sql":     {",2500145,"},
		"reduce":              nil,
		"sheet --text":        {"250°01′45″"},
	} {
		words := strings.Fields(command)
		if words[0] == "reduce" {
			if err := os.WriteFile(file+".csv", []byte(runs(t, "export", file).out), 0o644); err != nil {
				t.Fatal(err)
			}
			o := runs(t, "reduce", file+".csv", "--least-count", "5")
			if text := squeezed(o.out); !strings.Contains(text, "read again: FL Spire") || !strings.Contains(text, "left out: FL Mast") {
				t.Errorf("reduce: %s%s", o.out, o.errs)
			}
			continue
		}
		o := runs(t, append([]string{words[0], file}, words[1:]...)...)
		for _, w := range wants {
			if !strings.Contains(squeezed(o.out), w) {
				t.Errorf("%s does not say %q:\n%.4000s%s", command, w, squeezed(o.out), o.errs)
			}
		}
	}
}

// goesToRow finds the row with the label in a list and keys its number.
func (b *booker) goesToRow(label string) *booker {
	b.t.Helper()
	for range 6 {
		for line := range strings.SplitSeq(b.screen(), "\n") {
			words := strings.Fields(strings.TrimLeft(line, " ✓▸›–"))
			if len(words) == 0 || !strings.Contains(squeezed(line), label) || strings.Trim(words[0], "0123456789") != "" {
				continue
			}
			if strings.HasPrefix(strings.TrimSpace(line), "›") {
				return b // it is chosen
			}
			for _, digit := range words[0] {
				b.presses(string(digit))
			}
			b.until("row "+words[0]+" chosen", func(screen string) bool {
				for line := range strings.SplitSeq(screen, "\n") {
					if rest, ok := strings.CutPrefix(strings.TrimSpace(line), "›"); ok && strings.HasPrefix(strings.TrimLeft(rest, " ✓▸–"), words[0]+" ") {
						return true
					}
				}
				return false
			})
			return b
		}
		n := b.amount()
		b.presses(pageDown).until("the rows further down", func(string) bool { return b.amount() > n })
	}
	b.t.Fatalf("no row %q:\n%s", label, b.screen())
	return b
}

// Target by target a half is observed again as by halves, one face alone. After the
// lift a remark is made, a reading struck and read again, all by keys: sheet, audit and
// readings file say that it was after the lift, and the file reduces to the same.
func TestAgain_TargetByTargetAndAfterTheLift(t *testing.T) {
	file := filepath.Join(t.TempDir(), "weir.book")
	b := bookerAt(open(t, 100, 36, "book", file))
	b.sees("New setup").writes("Weir", "Spire", "Alder, Quarry, Mast", "1.475", "Ines Holm", "Tam Okoro", "T-5", "4471")
	b.goesTo("Order of observing").presses(right).sees("‹ target by target ›").presses(pageDown).sees("target by target, circle settings").presses("o").sees("Weir setup 1", "✓ saved")
	b.books(byTarget(round1)...).sees("Set the circle between 90° and 91°.")
	b.presses("g").sees("Pointings").goesToRow("The whole half again: face left, round 1").presses(enter).sees("Face left of round 1 is called again.", "Sight Spire")
	b.books("00515", "451015", "1203005", "2500050").sees("Set the circle between 90° and 91°.")
	b.books(byTarget(round2)...).books(verticals...).lifts("Weir", "1.476")
	b.presses("w").sees("✓ 1 Weir lifted").presses(enter).sees("Weir", "looking back")
	b.presses("r").sees("Write a remark").key("looked at in the evening").sees("looked at in the evening").key(enter).sees("looking back", "✓ saved")
	b.presses("s").sees("Strike a reading").goesToRow("87°15′00″").presses(enter).sees("This reading alone", "G reads the pointing again.").presses("1").sees("looking back", "✓ saved")
	b.presses("g").sees("Mast, face left, vertical circle").presses(enter).sees("Read again after the lift").calls("871505").sees("looking back", "✓ saved").presses(pageDown).sees("87°15′05″")
	b.presses("w").sees("Work list").quits()
	for command, wants := range map[string][]string{
		"sheet":  {"Measured again as a check, repeat 1.", "Struck after the lift", "Read again after the lift.", "looked at in the evening"},
		"audit":  {"remark: looked at in the evening (after the lift)", "(after the lift)", "read again after the lift: 871505 at FL Mast vertical"},
		"export": {",1b,FL,Mast,horizontal,250 00 50,", ",FL,Mast,vertical,87 15 05,"},
	} {
		text := squeezed(runs(t, command, file).out)
		for _, w := range wants {
			if !strings.Contains(strings.ToLower(text), strings.ToLower(w)) {
				t.Errorf("%s does not say %q:\n%.6000s", command, w, text)
			}
		}
	}
	want, got := reduced(t, "export", file, "--as", "json"), reducedAgain(t, file)
	if len(want.Directions) != 3 || !reflect.DeepEqual(got.Directions, want.Directions) {
		t.Errorf("the exported readings give\n%+v\nthe book has\n%+v", got.Directions, want.Directions)
	}
}
