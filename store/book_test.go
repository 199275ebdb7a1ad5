package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
	"example.org/readback/store/repair"
)

// testClock gives a time that goes forward by a second with every question.
func testClock() func() time.Time {
	at := time.Date(2026, 5, 4, 7, 0, 0, 250, time.UTC)
	return func() time.Time { at = at.Add(time.Second); return at }
}

func testOptions() Options { return Options{Clock: testClock(), Reserve: -1} }

// draft makes the n-th event of a test: readings in the setups 1, 2, ...
// audited closes the book and checks all of it as a full audit does, its second
// journal too.
func audited(b *Book) repair.Report {
	var checks repair.Checks
	if s := b.Status(); s.CopyPath != "" {
		checks.Copy = filepath.Dir(s.CopyPath)
	}
	if err := b.Close(); err != nil {
		return repair.Report{Unread: err}
	}
	return repair.Audit(b.path, checks)
}

func draft(n int) journal.Draft {
	return journal.Draft{ID: testID(n), Kind: uint16(1 + n%5), Version: 1, Group: uint32(n / 10),
		Body:   fmt.Appendf(nil, `{"n":%d,"text":"0 %02d %02d","remark":"Ines Holm calls, Tam Okoro books"}`, n, n%60, n*7%60),
		Digest: fmt.Appendf(nil, "digest %d", n)}
}

func testID(n int) [16]byte {
	var id [16]byte
	copy(id[:], fmt.Sprintf("event %d", n))
	return id
}

// newBook creates a book with n events and closes it when the test ends.
func newBook(t testing.TB, n int) *Book {
	t.Helper()
	b, err := Create(filepath.Join(t.TempDir(), "Brackenfold.readback"), testOptions())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = b.Close() })
	appendTo(t, b, 1, n)
	return b
}

// appendTo books the events from to to.
func appendTo(t testing.TB, b *Book, from, to int) {
	t.Helper()
	for n := from; n <= to; n++ {
		r, err := b.Append(draft(n))
		if err != nil {
			t.Fatalf("append %d: %v", n, err)
		}
		if r.Seq != uint64(n) {
			t.Fatalf("event %d got number %d", n, r.Seq)
		}
	}
}

// reopen closes b and opens its file again.
func reopen(t testing.TB, b *Book) *Book {
	t.Helper()
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
	again, err := Open(b.path, testOptions())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = again.Close() })
	return again
}

// wantEvents demands that b holds exactly the drafts 1 to n, chained.
func wantEvents(t testing.TB, b *Book, n int) {
	t.Helper()
	seen := 0
	for r, err := range b.Records() {
		if err != nil {
			t.Fatal(err)
		}
		seen++
		d := draft(seen)
		if r.ID != d.ID || r.Kind != d.Kind || r.Group != d.Group || string(r.Body) != string(d.Body) {
			t.Fatalf("event %d is not what was booked: %+v", seen, r)
		}
	}
	if seq, _ := b.Head(); seen != n || seq != uint64(n) {
		t.Fatalf("%d events and head %d, want %d", seen, seq, n)
	}
}

func TestBook_AppendsAndReadsBack(t *testing.T) {
	b := newBook(t, 45)
	wantEvents(t, b, 45)
	b = reopen(t, b)
	wantEvents(t, b, 45)
	if o := b.Opening(); o.JournalCaughtUp != 0 || len(o.TakenOver) != 0 || len(o.Notes) != 0 {
		t.Errorf("a sound book has nothing to tell on opening: %+v", o)
	}
	appendTo(t, b, 46, 47)
	wantEvents(t, b, 47)
	g, err := b.Group(2)
	if err != nil || len(g) != 10 || g[0].Seq != 20 {
		t.Errorf("setup 2: %d events, %v", len(g), err)
	}
	if n, err := b.LastGroup(); n != 4 || err != nil {
		t.Errorf("last group %d, %v", n, err)
	}
	if l, err := b.Groups(); fmt.Sprint(l) != "[0 1 2 3 4]" || err != nil {
		t.Errorf("groups %v, %v", l, err)
	}
	if d, err := b.Digest(3); string(d) != "digest 39" || err != nil {
		t.Errorf("digest %q, %v", d, err)
	}
	if l, err := b.Digests(1, 2); len(l) != 2 || l[1].Group != 2 || err != nil {
		t.Errorf("digests %v, %v", l, err)
	}
}

func TestBook_FilesAreForTheOwnerOnly(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("Windows keeps no modes: a file has the rights of its folder")
	}
	b := newBook(t, 3)
	b.Close()
	o := testOptions()
	o.Reserve, o.Copy = 4096, t.TempDir()
	b, err := Open(b.path, o)
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	for _, p := range []string{b.path, disk.JournalPath(b.path), disk.ReservePath(b.path), disk.HolderPath(b.path), disk.CopyPath(o.Copy, b.path)} {
		info, err := os.Stat(p)
		if err != nil {
			t.Fatal(err)
		}
		if info.Mode().Perm() != 0o600 {
			t.Errorf("%s has mode %v", p, info.Mode())
		}
	}
}

func TestAppend_IsIdempotentAtTheHead(t *testing.T) {
	b := newBook(t, 3)
	r, err := b.Append(draft(3))
	if err != nil || r.Seq != 3 {
		t.Fatalf("the same event again: %v, %v", r.Seq, err)
	}
	d := draft(3)
	d.Body = []byte(`{"n":4}`)
	if _, err := b.Append(d); !errors.Is(err, fault.ErrIDReused) {
		t.Errorf("other content under the same identity: %v", err)
	}
	wantEvents(t, b, 3)
}

func TestAppend_RefusesWhatIsNoEvent(t *testing.T) {
	b := newBook(t, 1)
	for name, change := range map[string]func(*journal.Draft){
		"kind 0":           func(d *journal.Draft) { d.Kind = 0 },
		"no body":          func(d *journal.Draft) { d.Body = nil },
		"not JSON":         func(d *journal.Draft) { d.Body = []byte("{") },
		"blanks":           func(d *journal.Draft) { d.Body = []byte(`{"a": 1}`) },
		"line feed":        func(d *journal.Draft) { d.Body = []byte("{\"a\":1}\n") },
		"not UTF-8":        func(d *journal.Draft) { d.Body = []byte("{\"a\":\"\xff\"}") },
		"too long":         func(d *journal.Draft) { d.Body = append(append([]byte{'"'}, make([]byte, journal.MaxBody)...), '"') },
		"year beyond 9999": func(d *journal.Draft) { d.At = time.Date(10000, 1, 1, 0, 0, 0, 0, time.UTC) },
	} {
		d := draft(2)
		change(&d)
		if _, err := b.Append(d); !errors.Is(err, fault.ErrBadRecord) {
			t.Errorf("%s: %v", name, err)
		}
	}
	appendTo(t, b, 2, 2) // a refused event does not stop the booking
}
