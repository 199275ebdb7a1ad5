package store

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	bolt "go.etcd.io/bbolt"

	"example.org/readback/store/chain"
	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/proof"
)

func TestOpen_RefusesWhatIsNoBook(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, data []byte) string {
		p := filepath.Join(dir, name)
		must(t, os.WriteFile(p, data, 0o600))
		return p
	}
	foreign := filepath.Join(dir, "foreign.db")
	db, err := bolt.Open(foreign, 0o600, nil)
	must(t, err)
	must(t, db.Update(func(tx *bolt.Tx) error { _, err := tx.CreateBucket([]byte("x")); return err }))
	must(t, db.Close())
	sound := newClosed(t, 50)
	data, err := os.ReadFile(sound)
	must(t, err)
	lost := newClosed(t, 5)
	must(t, os.Remove(lost))
	device, word := fault.ErrNotABook, "regular"
	if runtime.GOOS == "windows" {
		device, word = fault.ErrDevice, "device"
	}
	for name, c := range map[string]struct {
		path string
		want error
		text string
	}{
		"missing":                {filepath.Join(dir, "none"), fault.ErrNoBook, "readback book"},
		"missing directory":      {filepath.Join(dir, "none", "none"), fault.ErrNoDirectory, "card"},
		"missing, journal there": {lost, fault.ErrNoBook, "readback restore " + disk.JournalPath(lost)},
		"a directory":            {dir, fault.ErrNotABook, "folder"},
		"a device":               {os.DevNull, device, word},
		"empty":                  {write("empty", nil), fault.ErrEmpty, "restore"},
		"text":                   {write("text", []byte(strings.Repeat("a remark on the weather\n", 900))), fault.ErrNotABook, ""},
		"one byte":               {write("one byte", []byte("x")), fault.ErrNotABook, ""},
		"a journal":              {disk.JournalPath(sound), fault.ErrNotABook, ""},
		"zeros":                  {write("zeros", make([]byte, 1<<16)), fault.ErrNotABook, ""},
		"foreign bbolt":          {foreign, fault.ErrNotABook, "holds no book"},
		"cut to one page":        {write("cut1", data[:4096]), fault.ErrTruncated, "restore"},
		"cut to two pages":       {write("cut2", data[:8192]), fault.ErrTruncated, "restore"},
		"cut to a half":          {write("cut3", data[:len(data)/4]), fault.ErrTruncated, "restore"},
		"heads gone":             {write("heads", append(make([]byte, 8192), data[8192:]...)), fault.ErrDamaged, "restore"},
	} {
		before, _ := os.ReadFile(c.path)
		_, err := Open(c.path, testOptions())
		if !errors.Is(err, c.want) || !strings.Contains(err.Error(), c.text) {
			t.Errorf("%s: %v", name, err)
		}
		if after, _ := os.ReadFile(c.path); !bytes.Equal(after, before) {
			t.Errorf("%s: the file was changed", name)
		}
		if c.want == fault.ErrNoBook || c.want == fault.ErrNoDirectory {
			if _, err := os.Lstat(c.path); !errors.Is(err, os.ErrNotExist) {
				t.Errorf("%s: something was made", name)
			}
		}
	}
}

func TestCreate_NeverWritesOver(t *testing.T) {
	b := newBook(t, 3)
	if _, err := Create(b.path, testOptions()); !errors.Is(err, fault.ErrExists) {
		t.Errorf("over an open book: %v", err)
	}
	b.Close()
	if _, err := Create(b.path, testOptions()); !errors.Is(err, fault.ErrExists) {
		t.Errorf("over a book: %v", err)
	}
	must(t, os.Remove(b.path))
	if _, err := Create(b.path, testOptions()); !errors.Is(err, fault.ErrJournalLeft) || !strings.Contains(err.Error(), "readback restore") {
		t.Errorf("beside the journal of an earlier book: %v", err)
	}
	if _, err := Create(filepath.Join(t.TempDir(), "none", "b"), testOptions()); !errors.Is(err, fault.ErrNoDirectory) {
		t.Errorf("in no directory: %v", err)
	}
	empty := filepath.Join(t.TempDir(), "empty")
	must(t, os.WriteFile(empty, nil, 0o600))
	if _, err := Create(empty, testOptions()); !errors.Is(err, fault.ErrExists) {
		t.Errorf("over an empty file: %v", err)
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(b.path), ".*new*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

func TestOpen_RefusesANewerFormat(t *testing.T) {
	path := newClosed(t, 5)
	db, err := bolt.Open(path, 0o600, nil)
	must(t, err)
	must(t, db.Update(func(tx *bolt.Tx) error {
		return tx.Bucket(chain.BucketMeta).Put(chain.KeyFormat, chain.FormatText(chain.FormatCurrent+1))
	}))
	must(t, db.Close())
	before, _ := os.ReadFile(path)
	_, book := Open(path, testOptions())
	_, look := proof.Open(path)
	for _, err := range []error{book, look} {
		if !errors.Is(err, fault.ErrNewer) || !strings.Contains(err.Error(), "newer readback") {
			t.Errorf("%v", err)
		}
	}
	if after, _ := os.ReadFile(path); !bytes.Equal(after, before) {
		t.Error("a refused book was changed")
	}
}

func TestBook_AfterClose(t *testing.T) {
	b := newBook(t, 5)
	must(t, b.Close())
	must(t, b.Close())
	if _, err := b.Append(draft(6)); !errors.Is(err, fault.ErrClosed) {
		t.Errorf("%v", err)
	}
	if _, err := b.Group(0); !errors.Is(err, fault.ErrClosed) {
		t.Errorf("%v", err)
	}
	if _, err := os.Stat(disk.HolderPath(b.path)); !errors.Is(err, os.ErrNotExist) {
		t.Error("the closed book still names a holder")
	}
}

// Ensure that a file name cannot steer the terminal that shows an error.
func TestError_WritesControlCharactersOut(t *testing.T) {
	_, err := Open(filepath.Join(t.TempDir(), "red\x1b[31m\u009b2J.readback"), testOptions())
	want := fault.ErrNoBook
	if runtime.GOOS == "windows" { // no file can have such a name there
		want = fault.ErrNoName
	}
	if !errors.Is(err, want) || strings.ContainsAny(err.Error(), "\x1b\u009b") || !strings.Contains(err.Error(), `\u001b[31m\u009b`) {
		t.Errorf("%q", err)
	}
}
