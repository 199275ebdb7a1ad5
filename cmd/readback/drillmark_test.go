package main

import (
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/booking/exchange"
	"example.org/readback/booking/observer"
	"example.org/readback/cmd/internal/drill"
	"example.org/readback/reduce"
)

// Every output of a drill says that it is one, and a drill is never kept in a
// field book.
func TestDrill_EveryOutputSaysSo(t *testing.T) {
	dir := t.TempDir()
	book, field, office := filepath.Join(dir, "drill.book"), filepath.Join(dir, "field.book"), filepath.Join(dir, "office.book")
	c := newBook(t, book, event.BookOpened{Drill: true, Title: "drill"})
	for range 2 {
		c.open(station("Alder", "Quarry"))
		c.observe(3 * reduce.Arcsecond)
	}
	c.close()
	for _, args := range [][]string{{"sheet", book}, {"sheet", book, "--text"}, {"figure", book}, {"health", book}, {"fieldtest", book}, {"audit", book},
		{"export", book}, {"export", book, "--as", "directions"}, {"export", book, "--as", "json"}, {"export", book, "--as", "jsonl"}, {"export", book, "--as", "landxml"}} {
		code, out, errs := said(args...)
		if code != exitFine || !strings.Contains(strings.ToLower(out), "drill") {
			t.Errorf("%v: exit %d, %s, does not say it:\n%s", args[:len(args)-1], code, errs, out)
		}
	}
	if _, out, _ := said("export", book); strings.Count(out, exchange.DrillMark) != 2 {
		t.Errorf("one mark for each setup:\n%s", out)
	}

	twoSetups(t, field)
	if _, err := drill.Begin(field, observer.Options{Seed: 1}, false); err == nil || !strings.Contains(err.Error(), "is a field book") {
		t.Errorf("a drill in a field book: %v", err)
	}
	if code, _, errs := said("gather", office, book, field); code != exitFine {
		t.Fatal(errs)
	}
	if _, out, _ := said("health", office); !strings.Contains(out, "Left out: drill.book is a drill") || strings.Count(out, "Weir") != 2 {
		t.Errorf("the health of an office book with a drill in it:\n%s", out)
	}
}
