package main

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/alecthomas/kong"
)

// An option means the same in every command that has it: its letter, whether it
// takes a value, its sentence; what prints JSON writes to a file as well.
func TestFlags_MeanTheSameEverywhere(t *testing.T) {
	same := map[string]*kong.Flag{}
	found := map[string]int{}
	for _, leaf := range model(t).Leaves(true) {
		has := map[string]bool{}
		for _, f := range flagsOf(leaf) {
			has[f.Name] = true
			found[f.Name]++
			first := same[f.Name]
			if first == nil {
				same[f.Name] = f
				first = f
			}
			if f.Short != first.Short || f.IsBool() != first.IsBool() || f.PlaceHolder != first.PlaceHolder {
				t.Errorf("%s --%s is another option than elsewhere", leaf.Name, f.Name)
			}
			switch f.Name {
			case "out", "replace", "utc", "by", "job", "client", "place", "theme", "ascii":
				if f.Help != first.Help {
					t.Errorf("%s --%s: %q, elsewhere %q", leaf.Name, f.Name, f.Help, first.Help)
				}
			case "json":
				if !f.IsBool() || !strings.HasSuffix(f.Help, "as JSON.") {
					t.Errorf("%s --json: %q", leaf.Name, f.Help)
				}
			}
		}
		if has["out"] != has["replace"] || has["json"] && !has["out"] {
			t.Errorf("%s has not all of --out, --replace, --json", leaf.Name)
		}
	}
	if same["out"].Short != 'o' || found["out"] < 8 || found["json"] < 6 || found["by"] < 3 || found["utc"] < 2 {
		t.Errorf("the options found: %v", found)
	}
}

func flagsOf(leaf *kong.Node) (list []*kong.Flag) {
	for _, group := range leaf.AllFlags(true) {
		list = append(list, group...)
	}
	return list
}

// A dash is standard input wherever a file is read, and standard output wherever one
// is written.
func TestFlags_DashIsAPipe(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	dam := at("dam.readback")
	day := read(t, example("brackenfold-day.csv"))
	call(t, "", "import", dam, example("brackenfold-day.csv"), "--booker", "Tam Okoro").must(t, exitFine)
	csv := call(t, "", "export", dam).must(t, exitFine).out
	for _, tt := range []struct {
		stdin string
		args  []string
		want  string
	}{
		{day, []string{"reduce", "-"}, "Weir"},
		{day, []string{"import", at("again"), "-", "--by", "Tam Okoro"}, "Setup 1: Weir"},
		{"name,E,N,H\nWeir,0,0,\nAlder,100,0,\n", []string{"known", dam, "-"}, "known stations 2"},
		{"station,ro,targets,rounds,verticals,distances,day\nWeir,Spire,Alder,2,no,no,\n", []string{"plan", dam, "-"}, "a plan of 1 setups"},
		{"name,E,N,H\nWeir,0,0,\nAlder,100,0,\n", []string{"figure", dam, "--known", "-"}, "Alder"},
		{csv, []string{"audit", dam, "--file", "-"}, "is the whole export of this book"},
		{strings.Repeat("0", 64), []string{"export", dam, "--as", "sql", "--since", "-"}, "create table"},
		{read(t, dam+".jsonl"), []string{"restore", "-", at("restored")}, "53 events restored"},
	} {
		if got := call(t, tt.stdin, tt.args...); got.code != exitFine || !strings.Contains(got.out, tt.want) {
			t.Errorf("%q: exit %d, %.300s%s", tt.args, got.code, got.out, got.err)
		}
	}
	for _, leaf := range model(t).Leaves(true) {
		args := map[string][]string{"reduce": {example("two-rounds.csv")}, "fieldtest": {dam, "1"}}[leaf.Name]
		if args == nil {
			args = []string{dam}
		}
		for _, f := range flagsOf(leaf) {
			if f.Name != "out" {
				continue
			}
			plain, dash := call(t, "", append([]string{leaf.Name}, args...)...), call(t, "", append([]string{leaf.Name, "-o", "-"}, args...)...)
			if plain.code != dash.code || len(plain.out) != len(dash.out) {
				t.Errorf("%s -o -: exit %d and %d bytes, without it %d and %d", leaf.Name, dash.code, len(dash.out), plain.code, len(plain.out))
			}
		}
	}
}
