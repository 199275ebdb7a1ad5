package store

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/store/chain"
	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/repair"
)

func TestVerify_SoundBook(t *testing.T) {
	b := newBook(t, 600)
	live := audited(b)
	if err := live.Err(); err != nil || live.Chains[0].Events != 600 || live.Journal.Events != 600 {
		t.Errorf("open book: %v %+v", err, live)
	}
	b.Close()
	r := repair.Verify(b.path)
	if err := r.Err(); err != nil {
		t.Fatal(err)
	}
	if r.Chains[0].Events != 600 || r.Journal.Events != 600 || r.Chains[0].Hash != r.Journal.Hash {
		t.Errorf("%+v", r)
	}
}

// changeByte changes one byte of the file where text stands.
func changeByte(t *testing.T, path, text string, offset int) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for i := 0; ; n++ {
		k := bytes.Index(data[i:], []byte(text))
		if k < 0 {
			break
		}
		data[i+k+offset] ^= 1
		i += k + len(text)
	}
	if n == 0 {
		t.Fatalf("%q is not in %s", text, path)
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// Ensure that a book with one byte of a reading changed names the event.
func TestVerify_NamesTheChangedEvent(t *testing.T) {
	b := newBook(t, 60)
	b.Close()
	changeByte(t, b.path, `{"n":33,"text":"0 33`, 18)
	r := repair.Verify(b.path)
	if c := r.Chains[0]; c.FaultEvent != 33 || !errors.Is(c.Fault, fault.ErrDamaged) || !strings.Contains(r.Err().Error(), "event 33") {
		t.Errorf("fault at event %d: %v", c.FaultEvent, c.Fault)
	}
	if r.Journal.Fault != nil || r.Journal.Events != 60 {
		t.Errorf("the journal is sound: %+v", r.Journal)
	}
	b, err := Open(b.path, testOptions())
	must(t, err)
	defer b.Close()
	if o := b.Opening(); !errors.Is(o.Fault, fault.ErrDamaged) || len(o.Notes) != 1 || !strings.Contains(o.Notes[0], "Event 33 of Brackenfold.readback is damaged") {
		t.Errorf("%+v", o)
	}
	appendTo(t, b, 61, 62) // the journal holds what the file lost; the day goes on
}

func TestVerify_NamesTheChangedLine(t *testing.T) {
	for _, n := range []string{"33", "60"} { // in the middle, and the last one
		b := newBook(t, 60)
		b.Close()
		changeByte(t, disk.JournalPath(b.path), `{"n":`+n+`,"text":"0 `, 18)
		r := repair.Verify(b.path)
		if r.Chains[0].Fault != nil || r.Journal.Fault == nil || !strings.Contains(r.Err().Error(), "event "+n) {
			t.Errorf("%s: %v", n, r.Err())
		}
		if r.Journal.Torn {
			t.Errorf("%s: a changed line is not a torn one", n)
		}
	}
}

func TestVerify_SeesWhatOnlyOneSideHas(t *testing.T) {
	b := newBook(t, 20)
	early := filepath.Join(t.TempDir(), "early")
	if err := b.h.CopyTo(early); err != nil {
		t.Fatal(err)
	}
	appendTo(t, b, 21, 23)
	b.Close()
	if err := os.Rename(early, b.path); err != nil {
		t.Fatal(err)
	}
	r := repair.Verify(b.path)
	if !errors.Is(r.Err(), fault.ErrDiffer) || !strings.Contains(r.Err().Error(), "events 21 to 23") {
		t.Errorf("journal ahead: %v", r.Err())
	}
	if err := os.Remove(disk.JournalPath(b.path)); err != nil {
		t.Fatal(err)
	}
	if r := repair.Verify(b.path); !errors.Is(r.Err(), os.ErrNotExist) {
		t.Errorf("journal missing: %v", r.Err())
	}
}

func TestVerify_DamagedBookStillReportsTheJournal(t *testing.T) {
	b := newBook(t, 30)
	b.Close()
	if err := os.Truncate(b.path, 8192); err != nil {
		t.Fatal(err)
	}
	r := repair.Verify(b.path)
	if !errors.Is(r.Unread, fault.ErrTruncated) || r.Journal.Events != 30 || r.Journal.Fault != nil {
		t.Errorf("%+v", r)
	}
}

func TestRebuildIndex(t *testing.T) {
	b := newBook(t, 45)
	if err := b.RebuildIndex(); err != nil {
		t.Fatal(err)
	}
	if g, err := b.Group(2); len(g) != 10 || err != nil {
		t.Errorf("%d events, %v", len(g), err)
	}
	if d, err := b.Digest(2); d != nil || err != nil {
		t.Errorf("digest %q, %v", d, err)
	}
	if err := b.SetDigests([]chain.Digest{{Group: 2, Digest: []byte("anew")}}); err != nil {
		t.Fatal(err)
	}
	if d, err := b.Digest(2); string(d) != "anew" || err != nil {
		t.Errorf("digest %q, %v", d, err)
	}
}
