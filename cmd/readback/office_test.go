package main

import (
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/reduce"
)

// A setup of an office book has one number, whatever is made from it: the third of
// the file, though it is the first of its own book.
func TestOffice_SetupsHaveOneName(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	call(t, "", "import", at("north"), example("brackenfold-day.csv"), "--booker", "Tam Okoro", "--observer", "Ada Voss").must(t, exitFine)
	c := newBook(t, at("south"), event.BookOpened{})
	c.open(station("Gannet", "Heron"))
	c.observe(2 * reduce.Arcsecond)
	last, _ := c.s.Last()
	e, err := c.s.Strike(last.Seq, "wrong edge")
	c.do(e, err)
	c.close()
	call(t, "", "gather", at("office"), at("north"), at("south")).must(t, exitFine)
	for _, tt := range []struct {
		args []string
		want string // a pattern in which the setup of Gannet and Heron has the number 3
	}{
		{[]string{"export"}, `(?m)^3,Weir,.*Gannet`},
		{[]string{"export", "--as", "directions"}, `(?m)^3,Weir,Spire,Gannet`},
		{[]string{"export", "--as", "json"}, `"setup": 3,[^}]*"book_name": "south"`},
		{[]string{"export", "--as", "landxml"}, `(?s)value="south".{0,200}label="setup" value="3"`},
		{[]string{"sheet", "--text"}, `Setup 3 Weir`},
		{[]string{"sheet"}, `(?s)Setup 3.*Gannet`},
		{[]string{"sheet", "--cover", "--text"}, `(?m)^ *3 +Weir`},
		{[]string{"season"}, `(?m)^ +3 +Weir`},
		{[]string{"season", "--json"}, `(?s)"setup": 3,\s+"station": "Weir"`},
		{[]string{"health", "--json"}, `(?s)"setup": 3,\s+"station": "Weir"`},
		{[]string{"audit", "--json"}, `(?s)"setup": 3,\s+"station": "Weir"`},
		{[]string{"audit"}, `setup 3 Weir`},
	} {
		args := slices.Insert(slices.Clone(tt.args), 1, at("office"))
		got := call(t, "", args...)
		if got.code != exitFine || !regexp.MustCompile(tt.want).MatchString(got.out) {
			t.Errorf("%q: exit %d, no match of %s in\n%.2500s%s", tt.args, got.code, tt.want, got.out, got.err)
		}
	}
	call(t, "", "restore", at("north.jsonl"), at("zenith")).must(t, exitFine) // the books of an office stand by their names
	call(t, "", "gather", at("other"), at("south"), at("zenith")).must(t, exitFine)
	if got := call(t, "", "figure", at("other"), "--json").must(t, exitFine).out; !regexp.MustCompile(`"setup": 3,\s+"from": "Alder"`).MatchString(got) {
		t.Errorf("figure: %.3000s", got)
	}
	call(t, "", "centre", at("zenith"), "1", "--distance", "0.250", "--angle", "45 00 00", "--by", "Tam Okoro").must(t, exitFine)
	call(t, "", "gather", at("beside"), at("south"), at("zenith")).must(t, exitFine)
	if got := call(t, "", "figure", at("beside"), "--json").must(t, exitFine).out; !regexp.MustCompile(`"centred": \[\s+\{\s+"setup": 2,`).MatchString(got) {
		t.Errorf("what stood beside its mark in the second book is not reduced as setup 2: %.3000s", got)
	}
	if got := call(t, "", "sheet", at("office"), "3", "--text").must(t, exitFine).out; !strings.Contains(got, "Gannet") || strings.Contains(got, "Mast") {
		t.Errorf("sheet office 3: %s", got)
	}
}
