package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Job, client and place are said once, of the book, and stand on the sheet and in
// every file made from it.
func TestDescribe_IsCarriedEverywhere(t *testing.T) {
	file := filepath.Join(t.TempDir(), "dam.readback")
	call(t, "", "import", file, example("brackenfold-day.csv"), "--booker", "Tam Okoro", "--client", "Brackenfold Water Board").must(t, exitFine)
	got := call(t, "", "describe", file, "--job", "Epoch seven", "--place", "East bank", "--by", "Ines Holm").must(t, exitFine).out
	if !strings.Contains(got, "job Epoch seven, client not said, place East bank") {
		t.Errorf("what is news: %s", got)
	}
	plan, levels := filepath.Join(t.TempDir(), "plan.csv"), filepath.Join(t.TempDir(), "levels.csv")
	for path, text := range map[string]string{plan: "station,ro,targets\nKiln,Spire,Alder\n", levels: "from,to,rise,sd\nWeir,Alder,1.234,0.001\n"} {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	call(t, "", "plan", file, plan).must(t, exitFine)
	call(t, "", "levels", file, levels).must(t, exitFine)
	audit := call(t, "", "audit", file).must(t, exitFine).out
	for _, want := range []string{"event 55, the book, ", "Ines Holm: said of the book: job Epoch seven, place East bank", ": loaded a plan of 1 setups from " + plan, "loaded levelled differences 1 from " + levels} {
		if !strings.Contains(audit, want) {
			t.Errorf("the audit does not say %q:\n%s", want, audit)
		}
	}
	if got := call(t, "", "describe", file, "--job", "Epoch seven").must(t, exitFine).out; !strings.Contains(got, "says so already") {
		t.Error(got)
	}
	if got := call(t, "", "describe", file).must(t, exitFine).out; !strings.Contains(got, "job Epoch seven, client Brackenfold Water Board, place East bank.") {
		t.Error(got)
	}
	for _, args := range [][]string{
		{"sheet", file}, {"sheet", file, "--text"}, {"sheet", file, "--cover"}, {"export", file, "--as", "landxml"}, {"export", file, "--as", "json"},
		{"export", file, "--as", "jsonl"}, {"export", file, "--as", "sql"}, {"health", file, "--json"}, {"season", file, "--json"}, {"figure", file, "--json"},
	} {
		out := call(t, "", args...).must(t, exitFine).out
		for _, want := range []string{"Epoch seven", "Brackenfold Water Board", "East bank"} {
			if !strings.Contains(out, want) {
				t.Errorf("%q does not say %s", args, want)
			}
		}
	}
	out := call(t, "", "sheet", file, "--text", "--client", "The county").must(t, exitFine).out
	if !strings.Contains(out, "The county") || strings.Contains(out, "Water Board") {
		t.Error("an option does not stand before what the book says")
	}
	call(t, "", "audit", file).must(t, exitFine)
}

// The defaults hold for a book that says nothing itself, and for no other.
func TestDescribe_DefaultsFillIn(t *testing.T) {
	dir := t.TempDir()
	mkdir(t, filepath.Join(dir, "readback"))
	put(t, filepath.Join(dir, "readback", "defaults"), "client = The county\nplace = Everywhere\n")
	file := filepath.Join(dir, "dam.readback")
	var out, errs bytes.Buffer
	args := []string{"import", file, example("brackenfold-day.csv"), "--booker", "Tam Okoro", "--place", "East bank"}
	if code := runAgain(args, &Context{Out: &out, Err: &errs, Getenv: func(k string) string { return map[string]string{"XDG_CONFIG_HOME": dir}[k] }}); code != exitFine {
		t.Fatal(errs.String())
	}
	if got := call(t, "", "describe", file).must(t, exitFine).out; !strings.Contains(got, "job not said, client The county, place East bank.") {
		t.Error(got)
	}
}
