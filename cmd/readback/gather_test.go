package main

import (
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/reduce"
)

// Two tablets' books in one office book: both are read back, and gathering again
// adds nothing.
func TestGather_Command(t *testing.T) {
	dir := t.TempDir()
	office := filepath.Join(dir, "office.book")
	var books []string
	for _, name := range []string{"east.book", "west.book"} {
		books = append(books, filepath.Join(dir, name))
		c := newBook(t, books[len(books)-1], event.BookOpened{Title: name})
		c.open(station("Alder", "Quarry"))
		c.observe(3 * reduce.Arcsecond)
		c.close()
	}
	code, out, errs := said("gather", office, books[0], books[1])
	if code != exitFine || strings.Count(out, "14 events, 14 of them new") != 2 {
		t.Fatalf("exit %d, %s\n%s", code, errs, out)
	}
	if code, out, errs = said("gather", office, books[0]); code != exitFine || !strings.Contains(out, "14 events, 0 of them new") {
		t.Errorf("exit %d, %s\n%s", code, errs, out)
	}
	code, out, errs = said("sheet", office, "--text")
	if code != exitFine || !strings.Contains(out, "east.book") || !strings.Contains(out, "west.book") || !strings.Contains(out, "Setup 1 Weir") || !strings.Contains(out, "Setup 2 Weir") {
		t.Errorf("exit %d, %s\n%s", code, errs, out)
	}
	if code, out, _ := said("sheet", office, "2", "--text"); code != exitFine || strings.Contains(out, "Setup 1 Weir") || !strings.Contains(out, "west.book") {
		t.Errorf("setup 2 of the office book is not that of its exports:\n%s", out)
	}
	if code, _, errs := said("gather", office, office); code == exitFine || errs == "" {
		t.Error("a book was gathered into itself")
	}
	if code, _, _ := said("gather", office, filepath.Join(dir, "none")); code != exitUsage {
		t.Errorf("exit %d for a book that is not there", code)
	}
}
