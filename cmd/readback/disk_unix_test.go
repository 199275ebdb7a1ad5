//go:build unix

package main

import (
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/readback/store/disk"
	"example.org/readback/testdata"
)

// slowly opens a new book on a disk that takes so long for every writing.
func slowly(t testing.TB, write string) (*booker, string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "weir.book")
	return bookerAt(open(t, 100, 30, "book", file, "--slow-write", write)).firstSetup(), file
}

// On a slow disk no key is lost and none overtakes another; a reading is said to
// be saving until it is on the disk. The disk is slower than any real one here, so that a
// busy machine has time to look at the screen while it is behind.
func TestSlowDisk_KeepsUpWithTheKeys(t *testing.T) {
	b, file := slowly(t, "600ms")
	b.key(strings.Join(round1, "\r") + "\r")
	b.until("the next round called while rows are being saved", func(screen string) bool { // the screen is ahead of the disk
		return strings.Contains(screen, "· saving") && strings.Contains(screen, "Set the circle between 90° and 91°.")
	})
	b.standsBooked(round1...).sees("✓ saved").misses("saving")
	b.books(round2...)
	if code := b.signal(15).exit(); code != 128+15 {
		t.Errorf("exit code %d", code)
	}
	want := append(append([]string{"1.475"}, round1...), round2...)
	if got := readingsIn(t, file); !reflect.DeepEqual(got, want) {
		t.Errorf("%q\nwant %q", got, want)
	}
}

// Leaving right behind Enter does not outrun the disk.
func TestSlowDisk_LeavingLosesNothing(t *testing.T) {
	b, file := slowly(t, "50ms")
	b.key(strings.Join(round1, "\r") + "\r\x03")
	if code := b.exit(); code != exitFine {
		t.Errorf("exit code %d", code)
	}
	if got, want := readingsIn(t, file), append([]string{"1.475"}, round1...); !reflect.DeepEqual(got, want) {
		t.Errorf("%q\nwant %q", got, want)
	}
}

// A second journal whose card is pulled out is said at once; booking goes on, and
// it catches up when the card is back.
func TestCopy_CardGoneAndBack(t *testing.T) {
	dir := t.TempDir()
	file, card := filepath.Join(dir, "weir.book"), filepath.Join(dir, "card")
	if err := os.Mkdir(card, 0o700); err != nil {
		t.Fatal(err)
	}
	b := bookerAt(open(t, 100, 30, "book", file, "--copy", card)).firstSetup().books("00510")
	if err := os.RemoveAll(card); err != nil {
		t.Fatal(err)
	}
	b.calls("451020").sees("second journal behind", "✓ saved", "Turn clockwise → and sight Quarry.")
	b.calls("1203000").sees("Turn clockwise → and sight Mast.", "second journal behind")
	if err := os.Mkdir(card, 0o700); err != nil {
		t.Fatal(err)
	}
	b.books("2500045").misses("second journal behind")
	b.leaves()
	if o := runs(t, "audit", file, "--copy", card); o.code != exitFine {
		t.Errorf("exit code %d: %s%s", o.code, o.out, o.errs)
	}
}

// The place of the second journal can be book.Chosen on the screen. It is kept in the
// book as a full path, so that it is found again from everywhere.
func TestCopy_ChosenOnTheScreen(t *testing.T) {
	dir := t.TempDir()
	file, card := filepath.Join(dir, "weir.book"), filepath.Join(dir, "card")
	if err := os.Mkdir(card, 0o700); err != nil {
		t.Fatal(err)
	}
	cmd := command(t, t.TempDir(), nil, "book", file)
	cmd.Dir = dir
	b := bookerAt(attach(t, cmd, 100, 30)).firstSetup().books("00510")
	b.presses("o").sees("Options").presses("c").sees("Where the second journal is kept").key("card").sees("▌card").key(enter)
	b.sees("Options", "Second journal "+card).presses("b").sees("○ empty").books("451020").quits()

	// The next day the card is not in at the start, and comes later.
	if err := os.Rename(card, card+".away"); err != nil {
		t.Fatal(err)
	}
	again := bookerAt(open(t, 100, 30, "book", file)).sees("Weir setup 1", "second journal behind", "✓ saved")
	if err := os.Rename(card+".away", card); err != nil {
		t.Fatal(err)
	}
	again.presses("o").sees("Second journal " + card).presses("b").sees("○ empty").books("1203000").quits()
	if o := runs(t, "audit", file, "--copy", card); o.code != exitFine || strings.Count(o.out, "7 events sound") != 3 {
		t.Errorf("exit code %d: %s%s", o.code, o.out, o.errs)
	}
}

// What happens to the file under the open book is noticed at the next booking:
// nothing is booked into a file that is no longer there, the whole log is written
// to a new book, and that is said.
func TestFile_ChangedUnderTheOpenBook(t *testing.T) {
	changes := map[string]func(file string) error{
		"deleted": os.Remove,
		"renamed": func(file string) error { return os.Rename(file, file+".old") },
		"replaced by its own copy": func(file string) error {
			content, err := os.ReadFile(file)
			if err == nil {
				err = os.WriteFile(file+".copy", content, 0o600)
			}
			if err == nil {
				err = os.Rename(file+".copy", file)
			}
			return err
		},
		"emptied":             func(file string) error { return os.Truncate(file, 0) },
		"cut":                 func(file string) error { return os.Truncate(file, 8<<10) },
		"its journal deleted": func(file string) error { return os.Remove(disk.JournalPath(file)) },
		"written over":        func(file string) error { return os.WriteFile(file, []byte("no book"), 0o600) },
	}
	for n, what := range slices.Sorted(maps.Keys(changes)) {
		if !testdata.Sampled(n) {
			continue
		}
		change := changes[what]
		t.Run(what, func(t *testing.T) {
			t.Parallel()
			file := filepath.Join(t.TempDir(), "weir.book")
			b := bookerAt(open(t, 100, 30, "book", file)).firstSetup().books("00510", "451020")
			if err := change(file); err != nil {
				t.Fatal(err)
			}
			b.calls("1203000").sees("NOT SAVED", "The book could not be written", "keyed 1203000 may be in the file or not", "new book", "weir-rescued-1.book")
			b.presses("o").sees("The book is open again", "Booking goes on in", "weir-rescued-1.book", "✓ saved")
			b.presses("b").sees("FL ●●◆○", "○ empty").books("1203000", "2500045").leaves()
			_, path, ok := strings.Cut(b.written(), "booked in ")
			path, _, _ = strings.Cut(path, "\r\n")
			if !ok || filepath.Base(path) != "weir-rescued-1.book" {
				t.Errorf("it is said that %q was booked in", path)
			}
			if got, want := readingsIn(t, path), []string{"1.475", "00510", "451020", "1203000", "2500045"}; !reflect.DeepEqual(got, want) {
				t.Errorf("%q, want %q", got, want)
			}
		})
	}
}
