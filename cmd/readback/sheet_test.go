package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/reduce"
)

func twoSetups(t *testing.T, path string) {
	t.Helper()
	c := newBook(t, path, event.BookOpened{Title: "Brackenfold dam"})
	for range 2 {
		c.open(station("Alder", "Quarry"))
		c.observe(3 * reduce.Arcsecond)
	}
	c.close()
}

func TestSheet_Command(t *testing.T) {
	dir := t.TempDir()
	file, out := filepath.Join(dir, "dam.book"), filepath.Join(dir, "dam.html")
	twoSetups(t, file)
	if code, _, errs := said("sheet", file, "-o", out); code != exitFine {
		t.Fatal(errs)
	}
	page, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	l, done, err := book.Choose(file, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	last, err := l.Chapters[0].Last()
	done()
	if err != nil || !strings.Contains(string(page), fmt.Sprintf("last event %d · hash %x", last.Seq, last.Hash[:4])) || !strings.Contains(string(page), fmt.Sprintf("%x", last.Hash)) {
		t.Errorf("the sheet is not tied to the last event %d (%v)", last.Seq, err)
	}
	code, text, errs := said("sheet", file, "2", "--text", "--utc")
	if code != exitFine || !strings.Contains(text, "Setup 2 Weir") || strings.Contains(text, "Setup 1") || !strings.Contains(text, " UTC") {
		t.Errorf("%d %s\n%s", code, errs, text)
	}
}

func TestSheet_RefusesWhatIsNotThere(t *testing.T) {
	dir := t.TempDir()
	book := filepath.Join(dir, "dam.book")
	twoSetups(t, book)
	for _, args := range [][]string{{"sheet", book, "7"}, {"sheet", filepath.Join(dir, "none")}, {"fieldtest", book, "9"}, {"health", filepath.Join(dir, "none")}, {"figure", book, "--known", filepath.Join(dir, "none")}} {
		code, out, errs := said(args...)
		if code != exitUsage || out != "" || errs == "" {
			t.Errorf("%v: exit %d, %q, %q", args, code, out, errs)
		}
	}
	if code, _, _ := said("sheet", book, "-o", filepath.Join(dir, "no", "such", "dir")); code != exitNo {
		t.Errorf("exit %d for a file that cannot be written", code)
	}
}

func TestReports_Commands(t *testing.T) {
	dir := t.TempDir()
	book := filepath.Join(dir, "dam.book")
	twoSetups(t, book)
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"fieldtest", book}, "Field test after ISO 17123-3: T-5 serial 4471"},
		{[]string{"fieldtest", book, "1"}, "Setups: 1\n"},
		{[]string{"health", book}, "T-5"},
		{[]string{"figure", book}, "No ring and no link yet."},
	} {
		if code, out, errs := said(c.args...); code != exitFine || !strings.Contains(out, c.want) {
			t.Errorf("%v: exit %d, %s\n%s", c.args, code, errs, out)
		}
	}
}

// Known stations have coordinates in LandXML, others stand there by name only.
func TestExport_LandXMLHasKnownPoints(t *testing.T) {
	dir := t.TempDir()
	book, list := filepath.Join(dir, "dam.book"), filepath.Join(dir, "known.csv")
	twoSetups(t, book)
	if err := os.WriteFile(list, []byte("name,E,N,H\nWeir,2000.5,1000.25,101.5\nSpire,2100,1200,\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, _, errs := said("known", book, list); code != exitFine {
		t.Fatal(errs)
	}
	code, out, errs := said("export", book, "--as", "landxml")
	for _, want := range []string{`<CgPoint name="Weir">1000.2500 2000.5000 101.5000</CgPoint>`, `<CgPoint name="Spire">1200.0000 2100.0000</CgPoint>`, `<CgPoint name="Alder"></CgPoint>`} {
		if code != exitFine || !strings.Contains(out, want) {
			t.Errorf("exit %d %s: the file lacks %s", code, errs, want)
		}
	}
}
