package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	bolt "go.etcd.io/bbolt"

	"example.org/readback/store/chain"
	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/proof"
	"example.org/readback/store/repair"
)

var releaseFlag = flag.Bool("release", false, "write the book of a new format into testdata/books, where there is none yet")

// books is where a small book of every released format is kept for ever.
const books = "../testdata/books"

const formatEvents = 45

func formatBook(n int) string { return filepath.Join(books, fmt.Sprintf("format-%03d.readback", n)) }

// writeFormat makes a book of format n with formatEvents events.
func writeFormat(t *testing.T, n int) {
	b, err := Create(formatBook(n), testOptions())
	must(t, err)
	appendTo(t, b, 1, formatEvents)
	must(t, b.Close())
	if n > chain.FormatRecords {
		return
	}
	db, err := bolt.Open(formatBook(n), 0o600, nil) // format 1 had the records only
	must(t, err)
	must(t, db.Update(func(tx *bolt.Tx) error {
		for _, what := range []string{"groups", "heads"} {
			if err := tx.DeleteBucket(chain.BucketOf(what, b.ID())); err != nil {
				return err
			}
		}
		return tx.Bucket(chain.BucketMeta).Put(chain.KeyFormat, chain.FormatText(n))
	}))
	must(t, db.Close())
}

// Ensure that the book of every released format opens with all its events, is
// brought to the current format on a copy, and is kept as it was.
func TestFormats_EveryReleasedBookOpens(t *testing.T) {
	if binary.NativeEndian.Uint16([]byte{1, 0}) != 1 {
		t.Skip("the kept books are of a little-endian machine, and a book file does not move between byte orders")
	}
	for n := 1; n <= chain.FormatCurrent; n++ {
		if _, err := os.Stat(formatBook(n)); errors.Is(err, os.ErrNotExist) && *releaseFlag {
			writeFormat(t, n)
		}
		path := filepath.Join(t.TempDir(), "old.readback")
		old, err := os.ReadFile(formatBook(n))
		must(t, err)
		must(t, copyWhole(formatBook(n), path))
		must(t, copyWhole(disk.JournalPath(formatBook(n)), disk.JournalPath(path)))
		if r := repair.Verify(path); r.Err() != nil {
			t.Errorf("format %d: %v", n, r.Err())
		}
		look, err := proof.Open(path)
		must(t, err)
		if look.Events() != formatEvents {
			t.Errorf("format %d: %d events are read", n, look.Events())
		}
		must(t, look.Close())
		if now, _ := os.ReadFile(path); !bytes.Equal(now, old) {
			t.Errorf("format %d: looking at it changed the file", n)
		}
		b, err := Open(path, testOptions())
		must(t, err)
		wantFormat(t, b)
		o := b.Opening()
		if n == chain.FormatCurrent {
			if o.MigratedFrom != 0 {
				t.Errorf("format %d was migrated", n)
			}
			must(t, b.Close())
			continue
		}
		if o.MigratedFrom != n || !strings.Contains(fmt.Sprint(o.Notes), "kept as "+o.MigratedKept) {
			t.Errorf("format %d: %+v", n, o)
		}
		if kept, _ := os.ReadFile(o.MigratedKept); !bytes.Equal(kept, old) {
			t.Errorf("format %d: the file as it was is not kept", n)
		}
		appendTo(t, b, formatEvents+1, formatEvents+2)
		b = reopen(t, b)
		wantEvents(t, b, formatEvents+2)
		if r := audited(b); r.Err() != nil || b.Opening().MigratedFrom != 0 {
			t.Errorf("format %d: %v", n, r.Err())
		}
	}
}

// wantFormat demands the events of a kept book and its setups.
func wantFormat(t *testing.T, b *Book) {
	t.Helper()
	wantEvents(t, b, formatEvents)
	if g, err := b.Group(2); len(g) != 10 || err != nil {
		t.Errorf("setup 2: %d events, %v", len(g), err)
	}
	if n, err := b.LastGroup(); n != 4 || err != nil {
		t.Errorf("last setup %d, %v", n, err)
	}
	if l, err := b.Groups(); fmt.Sprint(l) != "[0 1 2 3 4]" || err != nil {
		t.Errorf("setups %v, %v", l, err)
	}
}

// Ensure that a migration that fails leaves the book as it was.
func TestMigrate_FailureChangesNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "old.readback")
	must(t, copyWhole(formatBook(chain.FormatRecords), path))
	changeByte(t, path, `{"n":17,"text":"0 17`, 18)
	before, _ := os.ReadFile(path)
	if _, err := Open(path, testOptions()); !errors.Is(err, fault.ErrWrite) || !strings.Contains(err.Error(), "event 17") {
		t.Errorf("%v", err)
	}
	after, _ := os.ReadFile(path)
	left, _ := filepath.Glob(path + "*")
	if !bytes.Equal(before, after) || len(left) != 1 {
		t.Errorf("left behind: %v", left)
	}
}

// copyWhole copies a closed file.
func copyWhole(from, to string) error {
	info, err := os.Stat(from)
	if err != nil {
		return err
	}
	return disk.CopyFile(from, to, info.Size())
}
