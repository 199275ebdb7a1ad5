package store

import (
	"errors"
	"example.org/readback/testdata"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"example.org/readback/store/fault"
	"example.org/readback/store/repair"
)

func TestGather_KeepsEachChainWhole(t *testing.T) {
	a, b := newBook(t, 30), newBook(t, 300)
	a.Close()
	b.Close()
	out := filepath.Join(t.TempDir(), "office.readback")
	list, err := repair.Gather(out, nil, a.path, b.path)
	if err != nil || len(list) != 2 || list[0].Added != 30 || list[1].Added != 300 {
		t.Fatalf("%+v, %v", list, err)
	}
	if r := repair.Verify(out); r.Err() != nil || len(r.Chains) != 2 || !r.Office {
		t.Errorf("%+v", r)
	}
	office, err := Open(out, testOptions())
	if err != nil {
		t.Fatal(err)
	}
	defer office.Close()
	total := 0
	for _, s := range office.sources {
		for r, err := range s.Records() {
			if err != nil {
				t.Fatal(err)
			}
			if total++; string(r.Body) != string(draft(int(r.Seq)).Body) {
				t.Fatalf("event %d of %s is another", r.Seq, s.Name())
			}
		}
		if d, err := s.Digest(2); string(d) != "digest 29" || err != nil {
			t.Errorf("digest %q, %v", d, err)
		}
		if g, err := s.Group(1); len(g) != 10 || err != nil {
			t.Errorf("group: %d, %v", len(g), err)
		}
	}
	if total != 330 {
		t.Errorf("%d events", total)
	}
	if _, err := office.Append(draft(1)); !errors.Is(err, fault.ErrOffice) {
		t.Errorf("booking in an office book: %v", err)
	}
	if _, err := office.Group(1); !errors.Is(err, fault.ErrOffice) {
		t.Errorf("asking the office book itself: %v", err)
	}
}

func TestGather_SameBookAgainAddsOnlyWhatIsNew(t *testing.T) {
	a, b := newBook(t, 30), newBook(t, 7)
	b.Close()
	early := filepath.Join(t.TempDir(), "early.readback")
	if err := a.h.CopyTo(early); err != nil {
		t.Fatal(err)
	}
	appendTo(t, a, 31, 35)
	a.Close()
	out := filepath.Join(t.TempDir(), "office.readback")
	for i, want := range []struct {
		path  string
		added uint64
	}{{early, 30}, {b.path, 7}, {early, 0}, {a.path, 5}, {early, 0}, {a.path, 0}} {
		list, err := repair.Gather(out, nil, want.path)
		if err != nil || list[0].Added != want.added {
			t.Fatalf("%d: %+v, %v", i, list, err)
		}
	}
	// an office book is gathered like any other
	head, err := repair.Gather(filepath.Join(t.TempDir(), "head office.readback"), nil, out, a.path)
	if err != nil || len(head) != 3 || head[2].Added != 0 {
		t.Errorf("%+v, %v", head, err)
	}
}

func TestGather_RefusesTwoEventsUnderOneNumber(t *testing.T) {
	a := newBook(t, 10)
	fork := filepath.Join(t.TempDir(), "fork.readback")
	if err := a.h.CopyTo(fork); err != nil {
		t.Fatal(err)
	}
	appendTo(t, a, 11, 12)
	a.Close()
	f, err := Open(fork, testOptions())
	if err != nil {
		t.Fatal(err)
	}
	d := draft(11)
	d.Kind = 77
	if _, err := f.Append(d); err != nil {
		t.Fatal(err)
	}
	f.Close()
	out := filepath.Join(t.TempDir(), "office.readback")
	if _, err := repair.Gather(out, nil, a.path); err != nil {
		t.Fatal(err)
	}
	before, _ := os.ReadFile(out)
	_, err = repair.Gather(out, nil, newClosed(t, 3), fork)
	if !errors.Is(err, fault.ErrConflict) {
		t.Fatal(err)
	}
	for _, part := range []string{"event 11", fork, out, "kind 77", "kind 2"} {
		if !strings.Contains(err.Error(), part) {
			t.Errorf("%q is not named: %v", part, err)
		}
	}
	if after, _ := os.ReadFile(out); string(after) != string(before) {
		t.Error("the office book was changed by a refused gathering")
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(out), "*gathering*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// newClosed makes a book with n events and gives its path.
func newClosed(t *testing.T, n int) string {
	t.Helper()
	b := newBook(t, n)
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
	return b.path
}

func TestGather_RefusesDamageAndFieldBooks(t *testing.T) {
	bad := newClosed(t, 40)
	changeByte(t, bad, `{"n":7,"text":"0 07`, 17)
	out := filepath.Join(t.TempDir(), "office.readback")
	if _, err := repair.Gather(out, nil, newClosed(t, 4), bad); !errors.Is(err, fault.ErrDamaged) || !strings.Contains(err.Error(), "event 7") {
		t.Errorf("%v", err)
	}
	if _, err := os.Stat(out); !errors.Is(err, os.ErrNotExist) {
		t.Error("a refused gathering left an office book")
	}
	field := newClosed(t, 4)
	if _, err := repair.Gather(field, nil, newClosed(t, 4)); !errors.Is(err, fault.ErrExists) {
		t.Errorf("into a field book: %v", err)
	}
	if _, err := repair.Gather(field, nil, field); !errors.Is(err, fault.ErrExists) {
		t.Errorf("into itself: %v", err)
	}
}

func TestDailyCopy(t *testing.T) {
	b := newBook(t, 20)
	p, err := b.DailyCopy("")
	if err != nil {
		t.Fatal(err)
	}
	if filepath.Base(p) != "Brackenfold.2026-05-04.readback" {
		t.Error(p)
	}
	appendTo(t, b, 21, 25)
	if p, err = b.DailyCopy(""); err != nil {
		t.Fatal(err)
	}
	if r := repair.Verify(p); r.Unread != nil || r.Chains[0].Events != 25 {
		t.Errorf("%+v", r)
	}
	other := newBook(t, 3)
	if _, err := other.DailyCopy(filepath.Dir(p)); !errors.Is(err, fault.ErrExists) {
		t.Errorf("over the copy of another book: %v", err)
	}
	if _, err := b.DailyCopy(filepath.Join(t.TempDir(), "none")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("missing directory: %v", err)
	}
}

// Ensure that several who gather into one office book at once lose nothing that
// any of them reported, and that none of them reads a half-made file. The -long
// form does it a hundred times, the short one twice.
func TestGather_EightAtOnce(t *testing.T) {
	times := 2
	if *testdata.Long {
		times = longGathers
	}
	var books []string
	for n := range 8 {
		books = append(books, newClosed(t, 3+n))
	}
	for range times {
		out := filepath.Join(t.TempDir(), "office.readback")
		reported := map[[32]byte]uint64{}
		var mu sync.Mutex
		var all sync.WaitGroup
		for _, book := range books {
			all.Add(1)
			go func() {
				defer all.Done()
				list, err := repair.Gather(out, nil, book)
				mu.Lock()
				defer mu.Unlock()
				if err != nil {
					t.Error(err)
				}
				for _, g := range list {
					reported[g.ID] = g.Events
				}
			}()
		}
		all.Wait()
		r := repair.Verify(out)
		if r.Err() != nil || len(r.Chains) != len(books) || len(reported) != len(books) {
			t.Fatalf("%d reported, %d there: %v", len(reported), len(r.Chains), r.Err())
		}
		for _, c := range r.Chains {
			if c.Events != reported[c.ID] {
				t.Errorf("%s: %d reported, %d there", c.Name, reported[c.ID], c.Events)
			}
		}
		if left, _ := filepath.Glob(filepath.Join(filepath.Dir(out), "*gather*")); len(left) > 0 {
			t.Errorf("left behind: %v", left)
		}
	}
}

// gatherChild is the child of TestGather_Kill: OUT BOOK... gathers.
func gatherChild(args []string) int {
	if _, err := repair.Gather(args[0], nil, args[1:]...); err != nil {
		fmt.Println(err)
		return 1
	}
	return 0
}

// Ensure that a gathering that is killed changes nothing, keeps no other one out
// and leaves nothing for good. The -long form kills 300 times.
func TestGather_Kill(t *testing.T) {
	kills := 3
	if *testdata.Long {
		kills = longGatherKills
	}
	rng := newRand(t, 13)
	dir := t.TempDir()
	out := filepath.Join(dir, "office.readback")
	if _, err := repair.Gather(out, nil, newClosed(t, 40)); err != nil {
		t.Fatal(err)
	}
	more := newClosed(t, 400)
	before, err := os.ReadFile(out)
	must(t, err)
	killed := 0
	for range kills {
		c := child(t, "gather", out, more)
		must(t, c.Start())
		time.Sleep(time.Duration(2000+rng.IntN(40_000)) * time.Microsecond)
		c.Process.Kill()
		if c.Wait() != nil {
			killed++
		}
		r := repair.Verify(out)
		if r.Err() != nil || len(r.Chains) == 0 {
			t.Fatalf("%+v", r)
		}
		must(t, os.WriteFile(out, before, 0o600)) // for the next kill
	}
	old := time.Now().Add(-time.Hour)
	left, _ := filepath.Glob(filepath.Join(dir, "*gathering*"))
	hidden, _ := filepath.Glob(filepath.Join(dir, ".*gathering*"))
	for _, p := range append(left, hidden...) {
		must(t, os.Chtimes(p, old, old))
	}
	if _, err := repair.Gather(out, nil, more); err != nil {
		t.Fatal(err)
	}
	all, err := os.ReadDir(dir)
	must(t, err)
	if len(all) != 1 {
		t.Errorf("left behind: %v", all)
	}
	t.Logf("%d gatherings killed, %d of them at work, %d files left and cleared", kills, killed, len(left)+len(hidden))
}
