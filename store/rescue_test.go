package store

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/proof"
	"example.org/readback/store/repair"
	"example.org/readback/testdata"
)

// Ensure that a file deleted, replaced or cut under the open book is noticed
// at the next booking, that nothing is acknowledged into it, and that the
// whole log goes to a new book.
func TestAppend_FileVanishes(t *testing.T) {
	onlyWhereOpenFilesGo(t)
	const acked = 80
	for name, harm := range map[string]func(*testing.T, *Book){
		"deleted": func(t *testing.T, b *Book) { must(t, os.Remove(b.path)) },
		"renamed": func(t *testing.T, b *Book) { must(t, os.Rename(b.path, b.path+".old")) },
		"replaced": func(t *testing.T, b *Book) {
			p := newClosed(t, 2)
			must(t, os.Rename(p, b.path))
		},
		"replaced by its own copy": func(t *testing.T, b *Book) {
			must(t, b.h.CopyTo(b.path+".copy"))
			must(t, os.Rename(b.path+".copy", b.path))
		},
		"cut to nothing":  func(t *testing.T, b *Book) { must(t, os.Truncate(b.path, 0)) },
		"cut to one page": func(t *testing.T, b *Book) { must(t, os.Truncate(b.path, 4096)) },
		"cut by one page": func(t *testing.T, b *Book) { must(t, os.Truncate(b.path, b.h.Size-4096)) },
		"written over":    func(t *testing.T, b *Book) { must(t, os.WriteFile(b.path, []byte("something else"), 0o600)) },
		"journal deleted": func(t *testing.T, b *Book) { must(t, os.Remove(disk.JournalPath(b.path))) },
		"journal cut":     func(t *testing.T, b *Book) { must(t, os.Truncate(disk.JournalPath(b.path), 100)) },
		"journal replaced": func(t *testing.T, b *Book) {
			must(t, os.Rename(disk.JournalPath(newClosed(t, 2)), disk.JournalPath(b.path)))
		},
		"both deleted": func(t *testing.T, b *Book) {
			must(t, os.Remove(b.path))
			must(t, os.Remove(disk.JournalPath(b.path)))
		},
		"directory deleted": func(t *testing.T, b *Book) { must(t, os.RemoveAll(filepath.Dir(b.path))) },
	} {
		t.Run(name, func(t *testing.T) {
			t.Setenv("TMPDIR", t.TempDir())
			b := newBook(t, acked)
			harm(t, b)
			d := draft(acked + 1)
			_, err := b.Append(d)
			if !errors.Is(err, fault.ErrGone) || !strings.Contains(err.Error(), "All 80 events are in the new book") {
				t.Fatalf("%v", err)
			}
			wantLatched(t, b, fault.ErrGone, acked)
			again, booked, err := b.Reopen(d.ID)
			if err != nil {
				t.Fatal(err)
			}
			defer again.Close()
			if booked || again.path == b.path {
				t.Errorf("booked %v in %s", booked, again.path)
			}
			wantEvents(t, again, acked)
			if again.ID() != b.ID() {
				t.Error("the new book is another source")
			}
			appendTo(t, again, acked+1, acked+3)
			if r := audited(again); r.Err() != nil {
				t.Error(r.Err())
			}
		})
	}
}

// onlyWhereOpenFilesGo skips a test on Windows, which lets nobody delete, rename or cut a
// file that somebody has open.
func onlyWhereOpenFilesGo(t *testing.T) {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("no file that is open can be deleted, renamed or cut there")
	}
}

// symlink makes a link, and skips the test where that is not allowed or where the link
// leads nowhere.
func symlink(t *testing.T, to, link string) {
	t.Helper()
	err := os.Symlink(to, link)
	if err == nil {
		_, err = os.Stat(link)
	}
	if err != nil {
		t.Skip(err)
	}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// Ensure that readers of a book cut under them get errors, at once and for ever.
func TestRead_FileCut(t *testing.T) {
	onlyWhereOpenFilesGo(t)
	b := newBook(t, 500)
	must(t, os.Truncate(b.path, 0))
	for range 3 {
		for _, err := range b.Records() {
			if !errors.Is(err, fault.ErrGone) {
				t.Fatalf("%v", err)
			}
		}
		if _, err := b.Group(3); !errors.Is(err, fault.ErrGone) {
			t.Fatalf("%v", err)
		}
	}
	if _, err := b.Append(draft(501)); !errors.Is(err, fault.ErrGone) {
		t.Fatalf("%v", err)
	}
}

// Ensure that a book written over with garbage while it is open answers with
// errors, never hangs and never dies, and that the journal brings all back.
// The size stays, so only the guard stands between the fault and the process.
func TestAppend_PagesOverwrittenWhileOpen(t *testing.T) {
	for seed := range uint64(testdata.Times(6, 20)) {
		b := newBook(t, 120)
		rng := newRand(t, seed)
		f, err := os.OpenFile(b.path, os.O_RDWR, 0)
		must(t, err)
		junk := make([]byte, 4096)
		for p := int64(0); p < b.h.Size/4096; p++ {
			if rng.IntN(3) > 0 {
				for i := range junk {
					junk[i] = byte(rng.Uint32())
				}
				_, err := f.WriteAt(junk, p*4096)
				must(t, err)
			}
		}
		f.Close()
		n := 120
		for i := 121; i <= 123; i++ {
			if _, err := b.Append(draft(i)); err == nil {
				n = i
			}
		}
		for range b.Records() { // must come back
		}
		again, _, err := b.Reopen(draft(n + 1).ID)
		if err == nil {
			again.Close()
			continue
		}
		out := filepath.Join(t.TempDir(), "again.readback")
		rep, err := repair.Restore(disk.JournalPath(b.path), out, nil)
		if err != nil || rep.Events < uint64(n) {
			t.Fatalf("seed %d: %d acknowledged, %+v, %v", seed, n, rep, err)
		}
	}
}

// Ensure that a book that is put back after its events were rescued names the
// rescue to whoever reads it, and takes a confirmation from whoever books in it.
func TestOpen_AfterARescue(t *testing.T) {
	onlyWhereOpenFilesGo(t)
	t.Setenv("TMPDIR", t.TempDir())
	b := newBook(t, 6)
	early := filepath.Join(t.TempDir(), "early")
	must(t, b.h.CopyTo(early))
	appendTo(t, b, 7, 20)
	must(t, os.Rename(b.path, b.path+".gone"))
	d := draft(21)
	if _, err := b.Append(d); !errors.Is(err, fault.ErrGone) {
		t.Fatal(err)
	}
	rescue := b.Status().Rescue
	must(t, b.Close())
	must(t, os.Remove(disk.JournalPath(b.path)))
	must(t, os.Rename(early, b.path))
	_, err := Open(b.path, testOptions())
	if !errors.Is(err, fault.ErrStale) || !strings.Contains(err.Error(), rescue) || !strings.Contains(err.Error(), "14 more") || !strings.Contains(err.Error(), "--stale") {
		t.Errorf("%v", err)
	}
	p, err := proof.Open(b.path)
	must(t, err)
	if p.Events() != 6 || !strings.Contains(strings.Join(p.Notes, " "), rescue) {
		t.Errorf("%d events, %q", p.Events(), p.Notes)
	}
	must(t, p.Close())
	o := testOptions()
	o.Stale = true
	again, err := Open(b.path, o)
	must(t, err)
	if notes := strings.Join(again.Opening().Notes, " "); !strings.Contains(notes, rescue) {
		t.Errorf("%q", notes)
	}
	must(t, again.Close())
	rescued, err := Open(rescue, testOptions())
	must(t, err)
	defer rescued.Close()
	wantEvents(t, rescued, 20)
}
