package store

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
	"example.org/readback/store/pages"
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
	r := audited(b)
	if err := r.Err(); err != nil {
		t.Error(err)
	}
}

func TestRestore_FromTheJournal(t *testing.T) {
	b := newBook(t, 50)
	b.Close()
	out := filepath.Join(t.TempDir(), "again.readback")
	rep, err := repair.Restore(disk.JournalPath(b.path), out, nil)
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
	rep, err := repair.Restore(disk.JournalPath(b.path), b.path, nil)
	if err != nil || len(rep.SetAside) != 1 {
		t.Fatalf("%+v, %v", rep, err)
	}
	if info, err := os.Stat(rep.SetAside[0]); err != nil || info.Size() != 8192 {
		t.Errorf("the damaged file was not kept: %v", err)
	}
	wantBook(t, b.path, 50)
	if _, err := repair.Restore(disk.JournalPath(b.path), b.path, nil); !errors.Is(err, fault.ErrSound) {
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
		rep, err := repair.Restore(j, filepath.Join(dir, name), nil)
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
	if rep, err := repair.Restore(j, filepath.Join(dir, "no line feed"), nil); err != nil || rep.Events != 12 || rep.Torn != nil {
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
		data  []byte
		want  error
		whole bool // every event is there and links up all the same
	}{
		"line missing":   {join(lines[:20], lines[21:]), fault.ErrChain, false},
		"lines swapped":  {join(lines[:20], lines[21:22], lines[20:21], lines[22:]), fault.ErrChain, true},
		"line twice":     {join(lines[:20], lines[19:]), fault.ErrChain, true},
		"line changed":   {changed, fault.ErrBadLine, false},
		"garbage line":   {join(lines[:20], [][]byte{[]byte("garbage\n")}, lines[20:]), fault.ErrBadLine, true},
		"very long line": {join(lines[:20], [][]byte{bytes.Repeat([]byte("x"), journal.MaxLine+5), []byte("\n")}, lines[20:]), fault.ErrBadLine, true},
	} {
		j := filepath.Join(dir, name+".jsonl")
		if err := os.WriteFile(j, c.data, 0o600); err != nil {
			t.Fatal(err)
		}
		rep, err := repair.Restore(j, filepath.Join(dir, name), nil)
		n, why := 20, rep.Fault
		if c.whole {
			n, why = 40, rep.Mended
		}
		if err != nil || rep.Events != uint64(n) || !errors.Is(why, c.want) || (rep.Fault == nil) != c.whole {
			t.Errorf("%s: %+v, %v", name, rep, err)
			continue
		}
		wantBook(t, filepath.Join(dir, name), n)
	}
	j := filepath.Join(dir, "beginning gone.jsonl")
	if err := os.WriteFile(j, join(lines[3:]), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := repair.Restore(j, filepath.Join(dir, "gone"), nil); !errors.Is(err, fault.ErrNothing) || !errors.Is(err, fault.ErrChain) {
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
	rep, err := repair.Restore(broken, filepath.Join(dir, "again.readback"), nil)
	if err != nil || rep.Events != 300 {
		t.Fatalf("%+v, %v", rep, err)
	}
	wantBook(t, filepath.Join(dir, "again.readback"), 300)
}

func TestRestore_RefusesToTouchOtherThings(t *testing.T) {
	b := newBook(t, 5)
	other := newBook(t, 5)
	if _, err := repair.Restore(disk.JournalPath(b.path), other.path, nil); !errors.Is(err, fault.ErrInUse) {
		t.Errorf("over an open book: %v", err)
	}
	other.Close()
	if _, err := repair.Restore(disk.JournalPath(b.path), other.path, nil); !errors.Is(err, fault.ErrExists) {
		t.Errorf("over another book: %v", err)
	}
	if _, err := repair.Restore(disk.JournalPath(b.path), t.TempDir(), nil); !errors.Is(err, fault.ErrExists) {
		t.Errorf("over a directory: %v", err)
	}
	if _, err := repair.Restore(filepath.Join(t.TempDir(), "none"), b.path, nil); !errors.Is(err, fault.ErrNothing) {
		t.Errorf("from nothing: %v", err)
	}
}

// Ensure that a damaged book is restored with what its journal has, that a
// damaged journal is with what its book has, and that what neither has is named.
func TestRestore_FromWhatBelongsTogether(t *testing.T) {
	const n = 53
	path := newClosed(t, n)
	book, err := os.ReadFile(path)
	must(t, err)
	data, err := os.ReadFile(disk.JournalPath(path))
	must(t, err)
	lines := bytes.SplitAfter(data, []byte("\n"))
	from40 := len(bytes.Join(lines[:40], nil))
	head, err := pages.Look(path, true)
	must(t, err)
	badBook := bytes.Clone(book) // the events from 40 on are destroyed, wherever they lie
	for seq := 40; seq <= n; seq++ {
		for at := 0; ; {
			i := bytes.Index(badBook[at:int(head.Size())], []byte(fmt.Sprintf(`{"n":%d,`, seq)))
			if i < 0 {
				break
			}
			badBook[at+i+5] = 'x'
			at += i + 5
		}
	}
	badBook[16], badBook[4096+16] = 0, 0 // and both heads
	badLines := bytes.Clone(data)        // the last lines are destroyed
	for i := from40; i < len(badLines); i++ {
		badLines[i] = 'X'
	}
	oneBad := bytes.Replace(data, []byte(`{"n":7,`), []byte(`{"n":8,`), 1)
	for name, c := range map[string]struct {
		book, lines []byte
		events      uint64
		missing     uint64 // the last one
	}{
		"book damaged, journal whole":           {badBook, data, n, 0},
		"book whole, the end of the journal":    {book, badLines, n, 0},
		"book damaged, one line of the journal": {badBook, oneBad, n, 0},
		"the end of both":                       {badBook, badLines, 40, n},
		"the end of the book, no journal":       {badBook, nil, 39, n},
		"the end of the journal, no book":       {nil, badLines, 40, 0},
	} {
		for _, fromJournal := range []bool{true, false} {
			if fromJournal && c.lines == nil || !fromJournal && c.book == nil {
				continue
			}
			path := filepath.Join(t.TempDir(), "B.readback")
			if c.book != nil {
				must(t, os.WriteFile(path, c.book, 0o600))
			}
			if c.lines != nil {
				must(t, os.WriteFile(disk.JournalPath(path), c.lines, 0o600))
			}
			from, out := path, filepath.Join(t.TempDir(), "new.readback")
			if fromJournal {
				from = disk.JournalPath(path)
			}
			rep, err := repair.Restore(from, out, nil)
			must(t, err)
			_, missing := rep.Missing()
			short := rep.Fault != nil || missing > 0
			if rep.Events != c.events || missing != c.missing || short != (c.events < n) {
				t.Errorf("%s, from the journal %v: %+v, missing to %d", name, fromJournal, rep, missing)
			}
			wantBook(t, out, int(c.events))
		}
	}
}

// Ensure that the names of a journal and a book given the wrong way round set
// nothing aside.
func TestRestore_Swapped(t *testing.T) {
	path := newClosed(t, 5)
	if _, err := repair.Restore(path, disk.JournalPath(path), nil); !errors.Is(err, fault.ErrExists) || !strings.Contains(err.Error(), "readback restore "+disk.JournalPath(path)) {
		t.Errorf("%v", err)
	}
	if list, _ := os.ReadDir(filepath.Dir(path)); len(list) != 2 {
		t.Errorf("%v", list)
	}
}

// A restoring says how far each of its stages is, of how much, to the end.
func TestRestore_TellsItsStages(t *testing.T) {
	b := newBook(t, 300)
	must(t, b.Close())
	for _, from := range []string{disk.JournalPath(b.path), b.path} {
		most, of, n := map[string]uint64{}, map[string]uint64{}, 0
		rep, err := repair.Restore(from, filepath.Join(t.TempDir(), "again.readback"), func(what string, done, total uint64) {
			most[what], of[what] = max(most[what], done), total
			n++
		})
		if err != nil || rep.Events != 300 {
			t.Fatalf("%+v, %v", rep, err)
		}
		if most["events"] != 300 || of["events"] != 300 || n < 600 {
			t.Errorf("from %s: told %v of %v, %d times", from, most, of, n)
		}
		if _, ok := of["MB looked through"]; !ok {
			t.Errorf("from %s: its reading is not told: %v", from, of)
		}
	}
}

// A damaged book whose journal stands beside it is restored in place also where its
// first byte is that of a journal, and where its own identity is what was damaged.
func TestRestore_InPlaceOfWhatLostItsName(t *testing.T) {
	for name, spoil := range map[string]func(book []byte, id [32]byte){
		"all random, beginning like a journal": func(book []byte, _ [32]byte) {
			rng := newRand(t, 77)
			for i := range book {
				book[i] = byte(rng.Uint32())
			}
			book[0] = '{'
		},
		"a bit of its identity": func(book []byte, id [32]byte) {
			for at := 0; ; at++ {
				i := bytes.Index(book[at:], append([]byte("id"), id[:]...))
				if i < 0 {
					return
				}
				at += i
				book[at+5] ^= 4
			}
		},
	} {
		b := newBook(t, 30)
		id := b.ID()
		must(t, b.Close())
		book, err := os.ReadFile(b.path)
		must(t, err)
		sound := bytes.Clone(book)
		spoil(book, id)
		if bytes.Equal(book, sound) {
			t.Fatalf("%s: nothing was spoiled", name)
		}
		must(t, os.WriteFile(b.path, book, 0o600))
		rep, err := repair.Restore(disk.JournalPath(b.path), b.path, nil)
		if err != nil || rep.Events != 30 || len(rep.SetAside) == 0 {
			t.Errorf("%s: %+v, %v", name, rep, err)
			continue
		}
		again, err := Open(b.path, testOptions())
		must(t, err)
		wantEvents(t, again, 30)
		must(t, again.Close())
	}
	// what is another book stays where it is
	one, other := newBook(t, 5), newBook(t, 5)
	must(t, one.Close())
	must(t, other.Close())
	if _, err := repair.Restore(disk.JournalPath(one.path), other.path, nil); !errors.Is(err, fault.ErrExists) {
		t.Error(err)
	}
}
