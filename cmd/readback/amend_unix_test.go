//go:build unix

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/testdata"
)

// A newcomer's first book: the RO misspelt and the least count left at 5″. Both
// are mended before and after the first reading, and a target is added after the
// first round; the station lifts, and the sheet and the audit say what was mended.
func TestAmend_FirstBookOfANewcomer(t *testing.T) {
	file := filepath.Join(t.TempDir(), "first.book")
	b := bookerAt(open(t, 100, 36, "book", file))
	b.sees("▸ Station").writes("Weir", "Spier").key("Alder, Mast").sees("Alder, Mast").key(enter).sees("▸ Instrument height").presses(down).sees("▸ Observer")
	b.writes("Ines Holm", "Tam Okoro", "T-1", "17").presses(pageDown).sees("Read this setup back", "Spier", "least count 5″").presses("o")
	b.sees("Sight Spier").key("00518").key(enter).sees("No multiple of the least count", "M amends the setup")
	b.presses("m").sees("Amend the setup on Weir").goesTo("Least count").key(erase).key("1").presses(pageDown)
	b.sees("Least count 1″, was 5″.").presses("o").sees("The setup is amended.", "0°05′18″~ was left half keyed.").presses("t").sees("ready").key(enter).booked("00518")
	b.books("451022")
	b.presses("m").sees("Amend the setup on Weir").goesTo("Reference object").key(erase).key(erase).key("re").presses(pageDown)
	b.sees("Spier is now Spire.").presses("o").sees("the reason is written beside the change").presses("1").sees("The setup is amended.", "Mast")
	b.books("2500041", "700045", "2251026", "1800522").sees("Set the circle between 90° and 91°", "Sight Spire")
	b.presses("m").goesTo("Targets").key(", Chapel").presses(pageDown).sees("Chapel is sighted too.").presses("o").sees("written beside the change").presses("3").sees("Sight Spire")
	for _, round := range [][]string{{"900518", "1351022", "3400041", "3200010", "1400014", "1600045", "3151026", "2700522"},
		{"1800518", "2251022", "700041", "500010", "2300014", "2500045", "451026", "00522"}} {
		b.books(round...)
	}
	b.sees("vertical circle").presses("m").goesTo("Vertical circle").presses(left).sees("‹ no ›").presses(pageDown).sees("Vertical circle no, was yes.")
	b.presses("o").sees("written beside the change").presses("3").sees("The verdict is Lift.").presses(enter).sees("Every check is met").presses("t").sees("Lift the tripod from").presses("y").sees("the tripod is lifted")
	b.leaves()
	for command, wants := range map[string][]string{
		"audit": {"amended: least count 1″, was 5″", "amended: Spier is now Spire: misspelt", "Chapel is sighted too"},
		"sheet": {"Spier is now Spire", "Reason: misspelt", "Chapel is sighted too"},
	} {
		o := runs(t, command, file)
		for _, w := range wants {
			if !strings.Contains(squeezed(o.out), w) {
				t.Errorf("%s does not say %q:\n%s", command, w, o.errs)
			}
		}
	}
	jsonl := runs(t, "export", file, "--as", "jsonl").out
	if err := os.WriteFile(file+".copy.jsonl", []byte(jsonl), 0o644); err != nil {
		t.Fatal(err)
	}
	if o := runs(t, "restore", file+".copy.jsonl", file+".copy"); o.code != exitFine {
		t.Fatalf("the journal does not restore: %s%s", o.out, o.errs)
	}
	if a, r := runs(t, "export", file).out, strings.ReplaceAll(runs(t, "export", file+".copy").out, "first.book.copy", "first.book"); a != r || strings.Contains(a, ",Spier,") || !strings.Contains(a, ",Spire,") || !strings.Contains(a, "The setup was amended: Spier is now Spire. Reason: misspelt") {
		t.Errorf("the restored book exports\n%s\nwas\n%s", r, a)
	}
}

// A ring of four: the RO misspelt at the second station and a metre too much at
// the third are both found at the fourth; the name is put right in the lifted
// setup, the metre is left out with a reason, the ring closes and says Lift.
func TestAmend_TheRingCloses(t *testing.T) {
	if !*testdata.Long {
		t.Skip("on the built program: -long; package tui keys it without one")
	}
	file := filepath.Join(t.TempDir(), "ring.book")
	b := bookerAt(open(t, 100, 36, "book", file))
	for i, name := range corners {
		o, back, fore := corner(i), corners[(i+3)%4], corners[(i+1)%4]
		switch name {
		case "Alder":
			o.site = site{}
			for n, p := range marks {
				o.site[n] = p
			}
			back, o.ro = "Wier", "Wier"
			o.site[back] = marks["Weir"]
		case "Quarry":
			o.longer["Chapel"] = 1
			b.sees("▸ Station").key("Qarry").sees("Do you mean Quarry, known from").key(strings.Repeat(erase, 5))
		}
		b.opensCorner(i+1, name, back, fore).answersAll(o)
		switch {
		case i < 2:
			b.nextCorner()
		case i == 2: // the ray from Weir to Chapel says so already; the crew goes on
			b.presses(enter).sees("The tripod stays.", "The network does not agree").presses("t").sees("Lift the tripod on Hold")
			b.presses("3").sees("Lift the tripod from Quarry?").presses("y").sees("the tripod is lifted").presses("n")
		}
	}
	b.presses(enter).sees("The tripod stays.", "Quarry–Chapel: distance", "m from Quarry", "m from Chapel, there and back 1000 mm apart")
	b.presses("b").sees("Everything that was called is booked.").presses("w").sees("Work list", "✓ saved").presses(down).presses(down).presses(enter).sees("Alder to Wier")
	b.presses("m").sees("Amend the setup on Alder").goesTo("Reference object").key(strings.Repeat(erase, 3)).key("eir").sees("▌Weir").presses(pageDown)
	b.sees("Wier is now Weir.").presses("o").sees("written beside the change").presses("1").sees("Alder to Weir")
	b.presses("b").sees("Everything that was called is booked.").presses("l").sees("The tripod stays.", "With Chapel's own 133.735 the ring closes to", "with Quarry's 134.735 to 1")
	b.presses("b").sees("Everything that was called is booked.").presses("w").sees("Work list", "✓ saved").presses(down).presses(enter).sees("Quarry", "looking back")
	b.presses("s").sees("Strike a reading").presses("2").sees("› 2").presses("x").sees("out of the means").presses("2").sees("Quarry", "looking back")
	b.presses("b").sees("Everything that was called is booked.").presses("l").sees("Checks met").misses("The tripod stays.")
	b.presses("t").sees("Lift the tripod from Chapel?").presses("y").sees("the tripod is lifted")
	b.leaves()
	o := runs(t, "figure", file)
	if text := squeezed(o.out); !strings.Contains(text, "Ring Weir–Alder–Quarry–Chapel–Weir: closes") {
		t.Errorf("%s%s", o.out, o.errs)
	}
	audit := squeezed(runs(t, "audit", file).out)
	for _, w := range []string{"it does not agree with its other end (after the lift)", "Wier is now Weir: misspelt (after the lift)"} {
		if !strings.Contains(audit, w) {
			t.Errorf("the audit does not say %q:\n%s", w, audit)
		}
	}
}

// A planned day of four stations: each is begun in two keys.
func TestPlan_FourStationsInTwoKeysEach(t *testing.T) {
	dir := t.TempDir()
	file, plan := filepath.Join(dir, "day.book"), filepath.Join(dir, "day.csv")
	if err := os.WriteFile(plan, []byte("station,RO,targets\nWeir,Spire,Gannet; Alder\nGannet,Weir,Alder\nAlder,Gannet,Weir\nMast,Alder,Weir\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if o := runs(t, "plan", file, plan); o.code != exitFine {
		t.Fatal(o.out, o.errs)
	}
	b := bookerAt(open(t, 100, 36, "book", file)).sees("Proposed from the plan", "Weir", "Crew not yet said") // said before the lift
	b.presses("o").sees("Weir setup 1")
	for i, name := range []string{"Gannet", "Alder", "Mast"} {
		b.presses("w").sees(name+" planned next", "0 of 4 planned done")
		b.others = 0
		b.presses("n").sees("Proposed from the plan").presses("o").sees(name + " setup " + string(rune('2'+i)))
		if b.others != 2 {
			t.Errorf("%d keys", b.others)
		}
	}
	b.leaves()
	if out := runs(t, "plan", file).out; !strings.Contains(out, "Mast, RO Alder, to Weir: begun, setup 4") {
		t.Error(out)
	}
}

// The first reading of a first book, on a tablet that knows nothing: station, RO and
// targets are asked for, and nothing else is in the way. It took 72 keys once; half of
// them is the aim. Crew and instrument are asked for before the tripod is lifted, and
// said without a reason.
func TestAmend_FirstReadingInHalfTheKeys(t *testing.T) {
	file := filepath.Join(t.TempDir(), "first.book")
	b := bookerAt(open(t, 100, 36, "book", file))
	b.sees("▸ Station").writes("Weir", "Spire", "Alder, Quarry, Mast").sees("▸ Instrument height").presses(enter)
	b.sees("Read this setup back", "Crew not yet said", "may be said later").presses("o").sees("Set the circle between 0° and 1°.")
	if keys := b.names + b.others; keys > 36 {
		t.Errorf("%d keys to the first reading, aim 36", keys)
	}
	b.books(round1...).books(round2...).books(verticals...)
	b.sees("The verdict is Hold.", "Not said yet: who observes, who books, which instrument it is.")
	if o := runs(t, "sheet", file, "--text"); !strings.Contains(squeezed(o.out), "Not said yet: who observes") || !strings.Contains(squeezed(o.out), "not stated, not stated") {
		t.Errorf("the sheet does not say what is not said:\n%s%s", o.out, o.errs)
	}
	b.presses("m").sees("Amend the setup on Weir").goesTo("Observer").key("Ines Holm").sees("Ines Holm").key(enter).key("Tam Okoro").sees("Tam Okoro").key(enter).key("T-5").sees("T-5")
	b.presses(pageDown).sees("Observer Ines Holm, was none.").presses("o").sees("The setup is amended.")
	b.presses("l").sees("Every check is met").presses("t").sees("Lift the tripod from").presses("y").sees("the tripod is lifted")
	b.leaves()
	if o := runs(t, "audit", file); !strings.Contains(squeezed(o.out), "observer Ines Holm, was none") {
		t.Errorf("%s%s", o.out, o.errs)
	}
}

// A misspelt target is pointed at while it is typed, one key takes the known name;
// one that was booked all the same is renamed in the form, and its readings follow.
func TestAmend_AMisspeltTarget(t *testing.T) {
	if !*testdata.Long {
		t.Skip("on the built program: -long; package tui keys it without one")
	}
	file := filepath.Join(t.TempDir(), "target.book")
	b := bookerAt(open(t, 100, 36, "book", file))
	b.firstSetup().books(round1...).books(round2...).books(verticals...)
	b.sees("The verdict is Lift.").presses(enter).sees("Every check is met").presses("t").sees("Lift the tripod from").presses("y").sees("the tripod is lifted")
	b.presses("n").sees("▸ ").presses("\x1b[5~").sees("▸ Station").writes("Kiln", "Weir").key("Quary").sees("Do you mean Quarry, known from setup 1?")
	b.presses(right).sees("Targets ▌Quarry").key(strings.Repeat(erase, 6)).key("Aldr").sees("Do you mean Alder").presses(pageDown).sees("Aldr").presses("o")
	b.sees("Kiln setup 2").books("00510", "451020")
	b.presses("m").sees("Amend the setup on Kiln").goesTo("Targets").key(erase).key("er").presses(pageDown)
	b.sees("Aldr is now Alder.").presses("o").sees("written beside the change").presses("1").sees("The setup is amended.")
	b.leaves()
	csv := runs(t, "export", file).out
	if !strings.Contains(csv, "2,Kiln,1,FL,Alder,horizontal,45 10 20,") || strings.Contains(csv, ",Aldr,") {
		t.Errorf("the reading does not follow its target:\n%s", csv)
	}
	if audit := squeezed(runs(t, "audit", file).out); !strings.Contains(audit, "amended: Aldr is now Alder: misspelt") {
		t.Errorf("%s", audit)
	}
}
