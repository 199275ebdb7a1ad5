package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/booking/exchange/reports"
)

// The office's inbox: a folder of books becomes one office book, again and again; what
// is new, who is behind, and what differs is said, and a season shows it at a glance.
func TestGather_Inbox(t *testing.T) {
	dir := t.TempDir()
	inbox, office := filepath.Join(dir, "inbox"), filepath.Join(dir, "office.readback")
	mkdir(t, inbox)
	north, south := filepath.Join(inbox, "north.readback"), filepath.Join(inbox, "south.readback")
	call(t, "", "import", north, example("brackenfold-day.csv"), "--booker", "Tam Okoro").must(t, exitFine)
	call(t, "", "import", south, example("two-rounds.csv"), "--booker", "Ines Holm").must(t, exitFine)
	put(t, filepath.Join(inbox, "north.2026-05-04.readback"), read(t, north)) // the copy of a day
	put(t, filepath.Join(inbox, "notes.txt"), "buy batteries")

	got := call(t, "", "gather", office, inbox).must(t, exitFine).out
	if strings.Count(got, " of them new, chain ") != 2 || !strings.Contains(got, "north.readback: 53 events, 53 of them new") {
		t.Errorf("%s", got)
	}
	if again := call(t, "", "gather", office, inbox).must(t, exitFine).out; strings.Count(again, " 0 of them new") != 2 {
		t.Errorf("gathered again: %s", again)
	}
	season := call(t, "", "season", office).must(t, exitFine).out
	for _, want := range []string{"north.readback: setups 2", "south.readback: setups 1", "Weir", "lifted"} {
		if !strings.Contains(season, want) {
			t.Errorf("the season does not say %q:\n%s", want, season)
		}
	}
	var s reports.Season
	text := call(t, "", "season", office, "--json").must(t, exitFine).out
	if err := json.Unmarshal([]byte(text), &s); err != nil || len(s.Books) != 2 || len(s.Books[0].LastHash) != 64 {
		t.Fatalf("%v %s", err, text)
	}
	if last := s.Books[1].Setups; last[len(last)-1].Setup != 3 {
		t.Errorf("the numbers do not run on as in the exports: %+v", last)
	}

	// Another history under the same identity is named, and the others are gathered.
	forged := filepath.Join(dir, "forged.readback")
	call(t, "", "restore", north+".jsonl", forged).must(t, exitFine)
	call(t, "", "known", forged, "--bearing", "Weir,Spire,45 10 20").must(t, exitFine)
	call(t, "", "known", north, "--bearing", "Weir,Spire,46 10 20").must(t, exitFine)
	call(t, "", "gather", office, inbox).must(t, exitFine)
	if err := os.Rename(forged, filepath.Join(inbox, "forged.readback")); err != nil {
		t.Fatal(err)
	}
	east := filepath.Join(inbox, "east.readback")
	call(t, "", "import", east, example("F16-as-observed.csv"), "--booker", "Ada Voss").must(t, exitFine)
	differs := call(t, "", "gather", office, inbox).must(t, exitNo)
	if !strings.Contains(differs.out, "forged.readback: NOT GATHERED") || !strings.Contains(differs.out, "east.readback: ") || !strings.Contains(differs.err, "1 of 4 books") {
		t.Errorf("%s%s", differs.out, differs.err)
	}
	call(t, "", "audit", office).must(t, exitFine)
	call(t, "", "gather", office, filepath.Join(dir, "none")).must(t, exitUsage)
	mkdir(t, filepath.Join(dir, "empty"))
	call(t, "", "gather", office, filepath.Join(dir, "empty")).must(t, exitUsage)
}
