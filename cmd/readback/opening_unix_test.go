//go:build unix

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/store/disk"
)

// twoDays is a book and its journal as they stood after a first day of two
// readings, and after a second day with two more.
type twoDays struct {
	file               string
	book1, book2       []byte
	journal1, journal2 []byte
}

func bookTwoDays(t *testing.T) twoDays {
	t.Helper()
	d := twoDays{file: filepath.Join(t.TempDir(), "weir.book")}
	read := func(name string) []byte {
		content, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		return content
	}
	bookerAt(open(t, 100, 30, "book", d.file)).firstSetup().books(round1[:2]...).quits()
	d.book1, d.journal1 = read(d.file), read(disk.JournalPath(d.file))
	bookerAt(open(t, 100, 30, "book", d.file)).sees("Weir setup 1", "○ empty").books(round1[2:4]...).quits()
	d.book2, d.journal2 = read(d.file), read(disk.JournalPath(d.file))
	return d
}

// lays puts a book and a journal at the place of the book.
func (d twoDays) lays(t *testing.T, book, journal []byte) *booker {
	t.Helper()
	for name, content := range map[string][]byte{d.file: book, disk.JournalPath(d.file): journal} {
		if err := os.WriteFile(name, content, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return bookerAt(open(t, 100, 30, "book", d.file))
}

// A journal that is ahead of the book: the missing readings are taken over and
// that is said.
func TestOpening_JournalAhead(t *testing.T) {
	d := bookTwoDays(t)
	b := d.lays(t, d.book1, d.journal2).sees("Weir setup 1", "FR ◆○○○")
	b.standsBooked(round1[:3]...).sees("weir.book.jsonl holds events 6 to 7", "taken over.")
	b.books("700050").quits()
	if got := readingsIn(t, d.file); len(got) != 6 {
		t.Errorf("%q", got)
	}
}

// A book that is ahead of its journal: the journal catches up.
func TestOpening_BookAhead(t *testing.T) {
	d := bookTwoDays(t)
	b := d.lays(t, d.book2, d.journal1).sees("Weir setup 1", "FR ◆○○○")
	b.books("700050").quits()
	if got := readingsIn(t, d.file); len(got) != 6 {
		t.Errorf("%q", got)
	}
}

// A torn last line of the journal costs nothing that was shown as saved.
func TestOpening_TornJournal(t *testing.T) {
	d := bookTwoDays(t)
	b := d.lays(t, d.book2, d.journal2[:len(d.journal2)-30]).sees("Weir setup 1", "FR ◆○○○")
	b.books("700050").quits()
	if got := readingsIn(t, d.file); len(got) != 6 {
		t.Errorf("%q", got)
	}
}

// Book and journal that hold different events under one number are refused, both
// sides shown, and nothing is changed.
func TestOpening_TheyDiffer(t *testing.T) {
	d, other := bookTwoDays(t), bookTwoDays(t)
	p := d.lays(t, d.book2, other.journal2)
	if code := p.exit(); code != exitNo {
		t.Errorf("exit code %d", code)
	}
	if said := p.written(); !strings.Contains(said, "book and journal hold different events") || strings.Contains(said, "\x1b[?1049h") {
		t.Errorf("%q", said)
	}
	if now, err := os.ReadFile(d.file); err != nil || !bytes.Equal(now, d.book2) {
		t.Errorf("the book was changed (%v)", err)
	}
}

// A book file that is damaged, with a sound journal: the sentence names the way
// to build it anew, and that way works.
func TestOpening_DamagedBookIsBuiltAnew(t *testing.T) {
	d := bookTwoDays(t)
	damaged := append(bytes.Repeat([]byte{0xa5}, 16<<10), d.book2[16<<10:]...)
	p := d.lays(t, damaged, d.journal2)
	if code := p.exit(); code == exitFine {
		t.Error("a damaged book was opened")
	}
	advice := "readback restore " + disk.JournalPath(d.file) + " " + d.file
	if said := squeezed(p.screen()); !strings.Contains(strings.ReplaceAll(said, " ", ""), strings.ReplaceAll(advice, " ", "")) {
		t.Fatalf("%q is not said: %s", advice, said)
	}
	if o := runs(t, strings.Fields(advice)[1:]...); o.code != exitFine {
		t.Fatalf("exit code %d: %s%s", o.code, o.out, o.errs)
	}
	b := bookerAt(open(t, 100, 30, "book", d.file)).sees("Weir setup 1", "FR ◆○○○")
	b.books("700050").quits()
	if got := readingsIn(t, d.file); len(got) != 6 {
		t.Errorf("%q", got)
	}
}
