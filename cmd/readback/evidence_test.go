package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/reduce"
	"example.org/readback/store/disk"
)

// bookedStation makes a book with one station in it, its judgements made by the
// booker: a strike and a confirmation.
func bookedStation(t *testing.T) (book string) {
	t.Helper()
	book = filepath.Join(t.TempDir(), "weir.book")
	c := newBook(t, book, event.BookOpened{Title: "Brackenfold"})
	c.open(station("Alder", "Quarry"))
	c.key("0 05 04", "31 05 03")
	last, _ := c.s.Last()
	c.do(c.s.Strike(last.Seq, "misread"))
	c.key("30 05 03")
	c.observe(3 * reduce.Arcsecond)
	c.close()
	return book
}

// changed is a copy of a book and its journal in a directory of its own, one
// byte of one of the two changed.
func changed(t *testing.T, book, which string, at int) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{book, disk.JournalPath(book)} {
		content, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if name == which {
			content = bytes.Clone(content)
			content[at] ^= 1
		}
		if err := os.WriteFile(filepath.Join(dir, filepath.Base(name)), content, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Join(dir, filepath.Base(book))
}

// places are where a text stands in a file.
func places(t *testing.T, file, text string) []int {
	t.Helper()
	content, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var at []int
	for from := 0; ; {
		i := bytes.Index(content[from:], []byte(text))
		if i < 0 {
			return at
		}
		at = append(at, from+i)
		from += i + 1
	}
}

// One byte of one reading changed in the book file: the audit names the event and
// says no by its exit code. Only changes in pages that the file does not use any
// more are no change of the book.
func TestAudit_OneByteChangedInTheBook(t *testing.T) {
	book := bookedStation(t)
	code, out, errs := said("audit", book)
	if code != exitFine || !strings.Contains(out, "struck event 4 (round 1 FL Alder horizontal, 31 05 03): misread") {
		t.Fatalf("exit code %d: %s%s", code, out, errs)
	}
	named := 0
	for _, at := range places(t, book, `31 05 03`) {
		code, out, errs := said("audit", changed(t, book, book, at+1))
		switch {
		case code == exitFine && strings.Contains(out, "Every event matches its hash"):
		case code == exitNo && strings.Contains(out, "event 4:") && strings.Contains(errs, "not sound"):
			named++
		default:
			t.Errorf("byte %d: exit code %d: %s%s", at, code, out, errs)
		}
	}
	if named == 0 {
		t.Error("no change was found")
	}
	t.Logf("%d of %d places are in use", named, len(places(t, book, `31 05 03`)))
}

// The same in the journal.
func TestAudit_OneByteChangedInTheJournal(t *testing.T) {
	book := bookedStation(t)
	journal := disk.JournalPath(book)
	for _, at := range places(t, journal, `31 05 03`) {
		code, out, errs := said("audit", changed(t, book, journal, at+1))
		if code != exitNo || !strings.Contains(out, "event 4:") || !strings.Contains(errs, "not sound") {
			t.Errorf("exit code %d: %s%s", code, out, errs)
		}
	}
}

// lines returns the lines of a journal.
func lines(t *testing.T, journal string) []string {
	t.Helper()
	content, err := os.ReadFile(journal)
	if err != nil {
		t.Fatal(err)
	}
	return strings.SplitAfter(strings.TrimSuffix(string(content), "\n"), "\n")
}

// A book built from its journal is the book again.
func TestRestore_FromTheJournal(t *testing.T) {
	book := bookedStation(t)
	_, want, _ := said("export", book)
	journal := disk.JournalPath(book)
	n := len(lines(t, journal))
	for _, c := range []struct {
		name   string
		change func(lines []string) []string
		code   int
		says   []string
	}{
		{"whole", func(l []string) []string { return l }, exitFine, []string{fmt.Sprintf("%d events restored", n)}},
		{"torn last line", func(l []string) []string {
			l[len(l)-1] = l[len(l)-1][:40]
			return l
		}, exitFine, []string{fmt.Sprintf("%d events restored", n-1), "the last line of the journal breaks off"}},
		{"a line missing", func(l []string) []string { return append(l[:6:6], l[7:]...) }, exitNo, []string{"6 events restored", "event 8 stands where event 7 belongs", "what stands before the fault is saved", "are missing: events 7 to 16"}},
		{"two lines exchanged", func(l []string) []string { l[6], l[7] = l[7], l[6]; return l }, exitFine, []string{fmt.Sprintf("%d events restored", n), "event 8 stands where event 7 belongs", "what it lacked was found"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			from, to := filepath.Join(dir, "weir.jsonl"), filepath.Join(dir, "again.book")
			if err := os.WriteFile(from, []byte(strings.Join(c.change(lines(t, journal)), "")), 0o600); err != nil {
				t.Fatal(err)
			}
			code, out, errs := said("restore", from, to)
			if code != c.code {
				t.Errorf("exit code %d: %s%s", code, out, errs)
			}
			for _, words := range c.says {
				if !strings.Contains(out+errs, words) {
					t.Errorf("%q is not said: %s%s", words, out, errs)
				}
			}
			if code, out, errs := said("audit", to); code != exitFine {
				t.Errorf("the restored book: exit code %d: %s%s", code, out, errs)
			}
			if _, got, _ := said("export", to); c.name == "whole" && observedOf(t, got) != observedOf(t, want) {
				t.Errorf("the restored book exports\n%s\nthe first exported\n%s", got, want)
			}
			if code, _, errs := said("restore", from, to); code == exitFine {
				t.Errorf("a sound book was written over: %s", errs)
			}
		})
	}
}

// A book of a machine of the other byte order is told what it is; nothing is said against it.
func TestAudit_OfTheOtherByteOrder(t *testing.T) {
	book := bookedStation(t)
	content := bytesOf(t, book)
	for _, head := range []int{16, 4096 + 16} { // magic and version of each head
		slices.Reverse(content[head : head+4])
		slices.Reverse(content[head+4 : head+8])
	}
	put(t, book, string(content))
	code, out, errs := said("audit", book)
	if code != exitNo || out != "" || !strings.Contains(errs, "It is not damaged") || strings.Contains(errs, "not sound") {
		t.Errorf("exit code %d: %s%s", code, out, errs)
	}
}

func TestRestore_Nothing(t *testing.T) {
	dir := t.TempDir()
	for _, args := range [][]string{{"restore", filepath.Join(dir, "none.jsonl"), filepath.Join(dir, "a.book")}, {"restore", dir, filepath.Join(dir, "b.book")}} {
		if code, out, errs := said(args...); code != exitUsage || out != "" || !strings.HasPrefix(errs, "readback: ") {
			t.Errorf("%q: exit code %d: %s%s", args, code, out, errs)
		}
	}
}
