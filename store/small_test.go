package store

import (
	"encoding/binary"
	"errors"
	"hash/fnv"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/pages"
	"example.org/readback/store/proof"
	"example.org/readback/store/repair"
)

// Ensure that a second journal beside the first, by whatever name, is refused:
// it would protect nothing.
func TestOpen_CopyInTheBooksOwnDirectory(t *testing.T) {
	path := newClosed(t, 3)
	link := filepath.Join(t.TempDir(), "card")
	symlink(t, filepath.Dir(path), link)
	for _, dir := range []string{filepath.Dir(path), filepath.Dir(path) + "/.", link} {
		o := testOptions()
		o.Copy = dir
		if _, err := Open(path, o); !errors.Is(err, fault.ErrCopyHere) {
			t.Errorf("opened with a copy in %s: %v", dir, err)
		}
		if _, err := Create(path+"2", o); !errors.Is(err, fault.ErrCopyHere) {
			t.Errorf("created with a copy in %s: %v", dir, err)
		}
	}
	b, err := Open(path, testOptions())
	must(t, err)
	defer b.Close()
	must(t, b.SetCopy(link))
	if s := b.Status(); s.Copy != CopyBehind || !strings.Contains(s.CopyError, "book itself") {
		t.Errorf("%+v", s)
	}
}

// Ensure that the journal of a book that is opened through a link stands beside
// the file, for booking, reading and auditing.
func TestOpen_ThroughALink(t *testing.T) {
	path := newClosed(t, 3)
	link := filepath.Join(t.TempDir(), "today")
	symlink(t, path, link)
	b, err := Open(link, testOptions())
	must(t, err)
	appendTo(t, b, 4, 6)
	must(t, b.Close())
	if _, err := os.Lstat(disk.JournalPath(link)); err == nil {
		t.Error("a journal stands beside the link")
	}
	p, err := proof.Open(link)
	must(t, err)
	defer p.Close()
	if p.Events() != 6 || len(p.Notes) > 0 {
		t.Errorf("%d events, notes %q", p.Events(), p.Notes)
	}
	if r := repair.Verify(link); r.Err() != nil || r.Journal.Events != 6 {
		t.Errorf("%v", r.Err())
	}
}

// Ensure that a book whose file claims a terabyte that was never written gives
// copies of what is in use only.
func TestCopies_OfASparseBook(t *testing.T) {
	path := newClosed(t, 5)
	if err := os.Truncate(path, 1<<40); err != nil {
		t.Skip(err)
	}
	b, err := Open(path, testOptions())
	must(t, err)
	dated, err := b.DailyCopy(t.TempDir())
	must(t, err)
	must(t, b.Close())
	out := filepath.Join(t.TempDir(), "office.readback")
	for range 2 {
		_, err = repair.Gather(out, nil, path)
		must(t, err)
	}
	for _, p := range []string{dated, out} {
		info, err := os.Stat(p)
		must(t, err)
		if info.Size() > 1<<20 {
			t.Errorf("%s has %d bytes", p, info.Size())
		}
	}
}

// Ensure that a clock that went back by a year is told on opening, for booking
// and for reading.
func TestOpen_ClockWentBack(t *testing.T) {
	path := newClosed(t, 3)
	o := testOptions()
	o.Clock = func() time.Time { return time.Date(2025, 5, 4, 7, 0, 0, 0, time.UTC) }
	b, err := Open(path, o)
	must(t, err)
	if notes := b.Opening().Notes; len(notes) != 1 || !strings.Contains(notes[0], "The clock of this machine says 2025-05-04") {
		t.Errorf("%q", notes)
	}
	appendTo(t, b, 4, 4)
	must(t, b.Close())
	p, err := proof.Open(path)
	must(t, err)
	defer p.Close()
	if len(p.Notes) != 1 || !strings.Contains(p.Notes[0], "the clock went back") {
		t.Errorf("%q", p.Notes)
	}
}

// Ensure that a book of a machine of the other byte order is told as one, not as
// damaged, and that the way named restores it.
func TestOpen_OtherByteOrder(t *testing.T) {
	path := newClosed(t, 30)
	book, err := os.ReadFile(path)
	must(t, err)
	var other binary.ByteOrder = binary.BigEndian
	if binary.NativeEndian.Uint16([]byte{1, 0}) != 1 {
		other = binary.LittleEndian
	}
	for _, at := range []int{16, 4096 + 16} { // the two heads, written as that machine would
		m := book[at : at+64]
		for _, i := range []int{0, 4, 8, 12} {
			other.PutUint32(m[i:], binary.NativeEndian.Uint32(m[i:]))
		}
		for i := 16; i < 56; i += 8 {
			other.PutUint64(m[i:], binary.NativeEndian.Uint64(m[i:]))
		}
		sum := fnv.New64a()
		sum.Write(m[:56])
		other.PutUint64(m[56:], sum.Sum64())
	}
	must(t, os.WriteFile(path, book, 0o600))
	for name, open := range map[string]func() error{
		"open":  func() error { _, err := Open(path, testOptions()); return err },
		"read":  func() error { _, err := proof.Open(path); return err },
		"audit": func() error { r := repair.Verify(path); return r.Unread },
	} {
		if err := open(); !errors.Is(err, fault.ErrForeign) || errors.Is(err, fault.ErrDamaged) || !strings.Contains(err.Error(), "readback restore") {
			t.Errorf("%s: %v", name, err)
		}
	}
	rep, err := repair.Restore(disk.JournalPath(path), path, nil)
	if err != nil || rep.Events != 30 || rep.Fault != nil {
		t.Errorf("%+v, %v", rep, err)
	}
}

// Ensure that a book with one unreadable head and no journal is not read as if
// it were whole: the other head may be the one before the last booking.
func TestRead_OneHeadAndNoJournal(t *testing.T) {
	path := newClosed(t, 30)
	book, err := os.ReadFile(path)
	must(t, err)
	for page := range 2 {
		bad := append([]byte{}, book...)
		bad[4096*page+16+50] ^= 1 // in the number of the transaction
		must(t, os.WriteFile(path, bad, 0o600))
		p, err := proof.Open(path)
		must(t, err)
		if p.Events() != 30 {
			t.Errorf("head %d lost: %d events", page, p.Events())
		}
		must(t, p.Close())
		alone := filepath.Join(t.TempDir(), "alone.readback")
		must(t, os.WriteFile(alone, bad, 0o600))
		if _, err := proof.Open(alone); !errors.Is(err, fault.ErrDamaged) {
			t.Errorf("head %d lost and no journal: %v", page, err)
		}
	}
	if head, err := pages.Look(path, true); err != nil || head.Valid != 1 {
		t.Errorf("%+v, %v", head, err)
	}
}

// Ensure that what killed runs left beside a book is cleared by the next opening,
// and nothing else is.
func TestOpen_ClearsWhatKilledRunsLeft(t *testing.T) {
	path := newClosed(t, 3)
	dir, base := filepath.Dir(path), filepath.Base(path)
	stem := strings.TrimSuffix(base, ".readback")
	left := []string{"." + base + ".new-123", base + ".restoring-1", "." + base + ".restoring-1.new-99", base + ".gathering-2", base + ".migrating",
		base + ".reserve.new", stem + ".2026-05-04.readback.new-1"}
	kept := []string{stem + ".2026-05-04.readback", base + ".set-aside-1", base + ".restoring-notes.txt", base + ".new", stem + ".2026-05-04.readback.new-", "other.new-1"}
	fresh := base + ".restoring-9"
	old := time.Now().Add(-time.Hour)
	for _, name := range append(append([]string{fresh}, left...), kept...) {
		p := filepath.Join(dir, name)
		must(t, os.WriteFile(p, nil, 0o600))
		if name != fresh {
			must(t, os.Chtimes(p, old, old))
		}
	}
	b, err := Open(path, testOptions())
	must(t, err)
	must(t, b.Close())
	for _, name := range left {
		if _, err := os.Stat(filepath.Join(dir, name)); err == nil {
			t.Errorf("%s is still there", name)
		}
	}
	for _, name := range append(kept, fresh) {
		if _, err := os.Stat(filepath.Join(dir, name)); err != nil {
			t.Errorf("%s was taken away", name)
		}
	}
}
