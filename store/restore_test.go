package store

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
	"example.org/readback/store/repair"
)

// wantBook opens path and demands the drafts 1 to n in it.
func wantBook(t *testing.T, path string, n int) {
	t.Helper()
	b, err := Open(path, testOptions())
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	wantEvents(t, b, n)
	r := b.Audit()
	if err := r.Err(); err != nil {
		t.Error(err)
	}
}

func TestRestore_FromTheJournal(t *testing.T) {
	b := newBook(t, 50)
	b.Close()
	out := filepath.Join(t.TempDir(), "again.readback")
	rep, err := repair.Restore(disk.JournalPath(b.path), out)
	if err != nil || rep.Events != 50 || rep.Fault != nil || rep.Torn != nil {
		t.Fatalf("%+v, %v", rep, err)
	}
	wantBook(t, out, 50)
	again, err := Open(out, testOptions())
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if again.ID() != b.ID() {
		t.Error("a restored book is the same source as before")
	}
	want, _ := os.ReadFile(disk.JournalPath(b.path))
	got, _ := os.ReadFile(disk.JournalPath(out))
	if !bytes.Equal(want, got) {
		t.Error("the journal written from the restored book is not the one it came from")
	}
}

// Ensure that the command the error names works as it is named: the damaged
// book stands in the way and is kept.
func TestRestore_InPlace(t *testing.T) {
	b := newBook(t, 50)
	b.Close()
	if err := os.Truncate(b.path, 8192); err != nil {
		t.Fatal(err)
	}
	_, err := Open(b.path, testOptions())
	if !errors.Is(err, fault.ErrTruncated) || !strings.Contains(err.Error(), "readback restore "+disk.JournalPath(b.path)+" "+b.path) {
		t.Fatal(err)
	}
	rep, err := repair.Restore(disk.JournalPath(b.path), b.path)
	if err != nil || len(rep.SetAside) != 1 {
		t.Fatalf("%+v, %v", rep, err)
	}
	if info, err := os.Stat(rep.SetAside[0]); err != nil || info.Size() != 8192 {
		t.Errorf("the damaged file was not kept: %v", err)
	}
	wantBook(t, b.path, 50)
	if _, err := repair.Restore(disk.JournalPath(b.path), b.path); !errors.Is(err, fault.ErrSound) {
		t.Errorf("restoring over a sound book: %v", err)
	}
}

func TestRestore_TornLastLine(t *testing.T) {
	b := newBook(t, 12)
	b.Close()
	data, err := os.ReadFile(disk.JournalPath(b.path))
	if err != nil {
		t.Fatal(err)
	}
	last := bytes.LastIndexByte(data[:len(data)-1], '\n') + 1
	dir := t.TempDir()
	for name, tail := range map[string][]byte{
		"one byte":           data[last : last+1],
		"half":               data[last : last+(len(data)-last)/2],
		"all but the brace":  data[last : len(data)-2],
		"zeros":              make([]byte, 700),
		"zeros and line end": append(make([]byte, 700), '\n'),
		"half, then zeros":   append(bytes.Clone(data[last:last+100]), make([]byte, 500)...),
	} {
		j := filepath.Join(dir, name+".jsonl")
		if err := os.WriteFile(j, append(bytes.Clone(data[:last]), tail...), 0o600); err != nil {
			t.Fatal(err)
		}
		rep, err := repair.Restore(j, filepath.Join(dir, name))
		if err != nil || rep.Events != 11 || !errors.Is(rep.Torn, fault.ErrTorn) || rep.Fault != nil {
			t.Errorf("%s: %+v, %v", name, rep, err)
			continue
		}
		wantBook(t, filepath.Join(dir, name), 11)
	}
	j := filepath.Join(dir, "no line feed.jsonl")
	if err := os.WriteFile(j, data[:len(data)-1], 0o600); err != nil {
		t.Fatal(err)
	}
	if rep, err := repair.Restore(j, filepath.Join(dir, "no line feed")); err != nil || rep.Events != 12 || rep.Torn != nil {
		t.Errorf("a whole line without its line feed: %+v, %v", rep, err)
	}
}

func TestRestore_BrokenChainSavesWhatStandsBefore(t *testing.T) {
	b := newBook(t, 40)
	b.Close()
	data, err := os.ReadFile(disk.JournalPath(b.path))
	if err != nil {
		t.Fatal(err)
	}
	lines := bytes.SplitAfter(data, []byte("\n"))
	join := func(parts ...[][]byte) []byte {
		var all []byte
		for _, p := range parts {
			all = append(all, bytes.Join(p, nil)...)
		}
		return all
	}
	changed := bytes.Replace(data, []byte(`{"n":21,`), []byte(`{"n":22,`), 1)
	dir := t.TempDir()
	for name, c := range map[string]struct {
		data []byte
		want error
	}{
		"line missing":   {join(lines[:20], lines[21:]), fault.ErrChain},
		"lines swapped":  {join(lines[:20], lines[21:22], lines[20:21], lines[22:]), fault.ErrChain},
		"line twice":     {join(lines[:20], lines[19:]), fault.ErrChain},
		"line changed":   {changed, fault.ErrBadLine},
		"garbage line":   {join(lines[:20], [][]byte{[]byte("garbage\n")}, lines[20:]), fault.ErrBadLine},
		"very long line": {join(lines[:20], [][]byte{bytes.Repeat([]byte("x"), journal.MaxLine+5), []byte("\n")}, lines[20:]), fault.ErrBadLine},
	} {
		j := filepath.Join(dir, name+".jsonl")
		if err := os.WriteFile(j, c.data, 0o600); err != nil {
			t.Fatal(err)
		}
		rep, err := repair.Restore(j, filepath.Join(dir, name))
		if err != nil || rep.Events != 20 || !errors.Is(rep.Fault, c.want) {
			t.Errorf("%s: %+v, %v", name, rep, err)
			continue
		}
		wantBook(t, filepath.Join(dir, name), 20)
	}
	j := filepath.Join(dir, "beginning gone.jsonl")
	if err := os.WriteFile(j, join(lines[3:]), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := repair.Restore(j, filepath.Join(dir, "gone")); !errors.Is(err, fault.ErrNothing) || !errors.Is(err, fault.ErrChain) {
		t.Errorf("a journal without its beginning: %v", err)
	}
}

// Ensure that a damaged book gives back its events without any journal.
func TestRestore_FromADamagedBook(t *testing.T) {
	b := newBook(t, 300)
	b.Close()
	data, err := os.ReadFile(b.path)
	if err != nil {
		t.Fatal(err)
	}
	clear(data[:8192]) // both heads
	dir := t.TempDir()
	broken := filepath.Join(dir, "broken.readback")
	if err := os.WriteFile(broken, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(broken, testOptions()); !errors.Is(err, fault.ErrDamaged) {
		t.Errorf("both heads gone: %v", err)
	}
	rep, err := repair.Restore(broken, filepath.Join(dir, "again.readback"))
	if err != nil || rep.Events != 300 {
		t.Fatalf("%+v, %v", rep, err)
	}
	wantBook(t, filepath.Join(dir, "again.readback"), 300)
}

func TestRestore_RefusesToTouchOtherThings(t *testing.T) {
	b := newBook(t, 5)
	other := newBook(t, 5)
	if _, err := repair.Restore(disk.JournalPath(b.path), other.path); !errors.Is(err, fault.ErrInUse) {
		t.Errorf("over an open book: %v", err)
	}
	other.Close()
	if _, err := repair.Restore(disk.JournalPath(b.path), other.path); !errors.Is(err, fault.ErrExists) {
		t.Errorf("over another book: %v", err)
	}
	if _, err := repair.Restore(disk.JournalPath(b.path), t.TempDir()); !errors.Is(err, fault.ErrExists) {
		t.Errorf("over a directory: %v", err)
	}
	if _, err := repair.Restore(filepath.Join(t.TempDir(), "none"), b.path); !errors.Is(err, fault.ErrNothing) {
		t.Errorf("from nothing: %v", err)
	}
}
