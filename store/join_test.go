package store

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/proof"
	"example.org/readback/store/repair"
)

// setBack puts the book file back to the state at event n while the journal
// goes on to event m.
func setBack(t *testing.T, n, m int) *Book {
	t.Helper()
	b := newBook(t, n)
	early := filepath.Join(t.TempDir(), "early")
	if err := b.h.CopyTo(early); err != nil {
		t.Fatal(err)
	}
	appendTo(t, b, n+1, m)
	b.Close()
	if err := os.Rename(early, b.path); err != nil {
		t.Fatal(err)
	}
	return b
}

// Ensure that events which the book lost are shown and taken over: bbolt can
// fall back one commit without an error, and a book can be put back from a copy.
func TestOpen_JournalAhead(t *testing.T) {
	for _, c := range []struct{ n, m int }{{0, 1}, {1, 2}, {40, 41}, {40, 45}, {3, 700}} {
		b := setBack(t, c.n, c.m)
		look, err := proof.Open(b.path)
		if err != nil {
			t.Fatal(err)
		}
		if look.Events() != uint64(c.m) {
			t.Errorf("%v: looked at only: %d events", c, look.Events())
		}
		look.Close()
		b, err = Open(b.path, testOptions())
		if err != nil {
			t.Fatal(err)
		}
		o := b.Opening()
		if len(o.TakenOver) != c.m-c.n || o.TakenOver[0].Seq != uint64(c.n+1) || len(o.Notes) != 1 {
			t.Errorf("%v: %d taken over, notes %q", c, len(o.TakenOver), o.Notes)
		}
		wantEvents(t, b, c.m)
		if d, _ := b.Digest(draft(c.m).Group); d != nil {
			t.Errorf("%v: a digest of the group as it was is still there: %q", c, d)
		}
		appendTo(t, b, c.m+1, c.m+2)
		if err := audited(reopen(t, b)); err.Err() != nil {
			t.Error(err.Err())
		}
	}
}

// Ensure that a book whose journal is ahead, and damaged where it is, is sent to be
// restored by everything that meets it: no opening could take the events over.
func TestOpen_JournalAheadAndDamaged(t *testing.T) {
	b := setBack(t, 10, 20)
	journal := disk.JournalPath(b.path)
	text, err := os.ReadFile(journal)
	must(t, err)
	lines := bytes.SplitAfter(text, []byte("\n"))
	lines[14] = bytes.Replace(lines[14], []byte(`"seq":15`), []byte(`"seq":16`), 1)
	must(t, os.WriteFile(journal, bytes.Join(lines, nil), 0o600))
	_, look := proof.Open(b.path)
	_, open := Open(b.path, testOptions())
	audit := repair.Verify(b.path)
	for what, err := range map[string]error{"read": look, "opened": open, "audited": audit.Err()} {
		if err == nil || !strings.Contains(err.Error(), fault.RestoreCommand(b.path)) || strings.Contains(err.Error(), "for booking") ||
			strings.Contains(err.Error(), "belongs: the journal line is damaged") {
			t.Errorf("%s: %v", what, err)
		}
	}
}

func TestOpen_BookAhead(t *testing.T) {
	for _, keep := range []int{0, 1, 59} {
		b := newBook(t, 60)
		b.Close()
		data, err := os.ReadFile(disk.JournalPath(b.path))
		if err != nil {
			t.Fatal(err)
		}
		short := bytes.Join(bytes.SplitAfter(data, []byte("\n"))[:keep], nil)
		for _, tail := range []string{"", fmt.Sprintf(`{"seq":%d,"id":"00`, keep+1)} {
			if err := os.WriteFile(disk.JournalPath(b.path), append(bytes.Clone(short), tail...), 0o600); err != nil {
				t.Fatal(err)
			}
			b, err = Open(b.path, testOptions())
			if err != nil {
				t.Fatal(err)
			}
			if o := b.Opening(); o.JournalCaughtUp != 60-keep || (len(o.Notes) == 1) != (tail != "") {
				t.Errorf("%d lines kept: %+v", keep, o)
			}
			b.Close()
			if got, _ := os.ReadFile(disk.JournalPath(b.path)); !bytes.Equal(got, data) {
				t.Errorf("%d lines kept: the journal is not what it was", keep)
			}
		}
	}
	b := newBook(t, 60)
	b.Close()
	if err := os.Remove(disk.JournalPath(b.path)); err != nil {
		t.Fatal(err)
	}
	b = reopen(t, b)
	if o := b.Opening(); o.JournalCaughtUp != 60 || len(o.Notes) != 1 {
		t.Errorf("journal missing: %+v", o)
	}
}

func TestOpen_RefusesWhenBookAndJournalDiffer(t *testing.T) {
	b := newBook(t, 10)
	fork := filepath.Join(t.TempDir(), "fork.readback")
	if err := b.h.CopyTo(fork); err != nil {
		t.Fatal(err)
	}
	appendTo(t, b, 11, 12)
	b.Close()
	f, err := Open(fork, testOptions())
	if err != nil {
		t.Fatal(err)
	}
	appendTo(t, f, 11, 11) // the same reading, booked on a copy at another time, is another event
	f.Close()
	stranger := newBook(t, 10)
	stranger.Close()
	for name, journal := range map[string]string{"fork": disk.JournalPath(fork), "another book": disk.JournalPath(stranger.path)} {
		data, err := os.ReadFile(journal)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(disk.JournalPath(b.path), data, 0o600); err != nil {
			t.Fatal(err)
		}
		_, err = Open(b.path, testOptions())
		if !errors.Is(err, fault.ErrDiffer) || !strings.Contains(err.Error(), "in the book") {
			t.Errorf("%s: %v", name, err)
		}
		if got, _ := os.ReadFile(disk.JournalPath(b.path)); !bytes.Equal(got, data) {
			t.Errorf("%s: a refused journal was changed", name)
		}
	}
}

// Ensure that a journal whose end is unreadable does not stop the work: it is
// kept, and a new one is written from the book.
func TestOpen_JournalUnreadable(t *testing.T) {
	b := newBook(t, 30)
	b.Close()
	if err := os.WriteFile(disk.JournalPath(b.path), []byte(strings.Repeat("no line of a journal\n", 40)), 0o600); err != nil {
		t.Fatal(err)
	}
	b = reopen(t, b)
	if o := b.Opening(); len(o.Notes) != 1 || o.JournalCaughtUp != 30 {
		t.Errorf("%+v", o)
	}
	if _, err := os.Stat(disk.JournalPath(b.path) + ".set-aside-1"); err != nil {
		t.Error(err)
	}
	if r := audited(b); r.Err() != nil {
		t.Error(r.Err())
	}
}

func TestCopy_FollowsAndCatchesUp(t *testing.T) {
	onlyWhereOpenFilesGo(t)
	b := newBook(t, 5)
	b.Close()
	card := filepath.Join(t.TempDir(), "card")
	o := testOptions()
	o.Copy = card
	b, err := Open(b.path, o)
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	if s := b.Status(); s.Copy != CopyBehind || s.CopyBehind != 5 || !strings.Contains(s.CopyError, "is the card in?") {
		t.Errorf("card out: %+v", s)
	}
	appendTo(t, b, 6, 7)
	if s := b.Status(); s.Copy != CopyBehind || s.CopyBehind != 7 {
		t.Errorf("card out: %+v", s)
	}
	if err := os.Mkdir(card, 0o700); err != nil {
		t.Fatal(err)
	}
	appendTo(t, b, 8, 9)
	if s := b.Status(); s.Copy != CopyWritten || s.CopyError != "" || s.CopyBehind != 0 {
		t.Errorf("card in: %+v", s)
	}
	if err := os.RemoveAll(card); err != nil { // pulled out
		t.Fatal(err)
	}
	appendTo(t, b, 10, 10)
	if s := b.Status(); s.Copy != CopyBehind {
		t.Errorf("card pulled out: %+v", s)
	}
	if err := os.Mkdir(card, 0o700); err != nil {
		t.Fatal(err)
	}
	appendTo(t, b, 11, 11)
	want, _ := os.ReadFile(disk.JournalPath(b.path))
	got, _ := os.ReadFile(disk.CopyPath(card, b.path))
	if !bytes.Equal(got, want) {
		t.Error("the copy is not the journal")
	}
	if err := b.SetCopy(""); err != nil || b.Status().Copy != CopyOff {
		t.Errorf("no copy any more: %v", err)
	}
	if err := b.SetCopy(t.TempDir()); err != nil || b.Status().Copy != CopyWritten {
		t.Errorf("another card: %v", err)
	}
	if r := audited(b); r.Err() != nil || r.Copy.Events != 11 {
		t.Errorf("%v", r.Err())
	}
}

// Ensure that a copy which is ahead of book and journal, both put back from an
// older state, gives them what they lost.
func TestCopy_AheadOfBoth(t *testing.T) {
	b := newBook(t, 8)
	b.Close()
	o := testOptions()
	o.Copy = t.TempDir()
	early, _ := os.ReadFile(b.path)
	earlyJournal, _ := os.ReadFile(disk.JournalPath(b.path))
	b, err := Open(b.path, o)
	if err != nil {
		t.Fatal(err)
	}
	appendTo(t, b, 9, 14)
	b.Close()
	for path, data := range map[string][]byte{b.path: early, disk.JournalPath(b.path): earlyJournal} {
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	b, err = Open(b.path, o)
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	if n := len(b.Opening().TakenOver); n != 6 {
		t.Errorf("%d taken over", n)
	}
	wantEvents(t, b, 14)
	if r := audited(b); r.Err() != nil {
		t.Error(r.Err())
	}
}

// Ensure that the copy of another book under the same name stops nothing and
// is not touched.
func TestCopy_OfAnotherBook(t *testing.T) {
	b, other := newBook(t, 5), newBook(t, 9)
	b.Close()
	other.Close()
	o := testOptions()
	o.Copy = t.TempDir()
	foreign, _ := os.ReadFile(disk.JournalPath(other.path))
	if err := os.WriteFile(disk.CopyPath(o.Copy, b.path), foreign, 0o600); err != nil {
		t.Fatal(err)
	}
	b, err := Open(b.path, o)
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	appendTo(t, b, 6, 7)
	wantEvents(t, b, 7)
	if s := b.Status(); s.Copy != CopyBehind || !strings.Contains(s.CopyError, fault.ErrDiffer.Error()) {
		t.Errorf("%+v", s)
	}
	if got, _ := os.ReadFile(disk.CopyPath(o.Copy, b.path)); !bytes.Equal(got, foreign) {
		t.Error("the copy of another book was changed")
	}
}

func TestAppend_ClockJumpingBack(t *testing.T) {
	b := newBook(t, 3)
	first, _ := b.Record(3)
	d := draft(4)
	d.At = first.At.AddDate(-1, 0, 0)
	if _, err := b.Append(d); err != nil {
		t.Fatal(err)
	}
	if s := b.Status(); s.ClockJumps != 1 || s.ClockBack.Hours() < 364*24 {
		t.Errorf("%+v", s)
	}
	d = draft(5)
	d.At = first.At.AddDate(-1, 0, 0).Add(time.Hour) // goes on, and stands wrong as before
	if _, err := b.Append(d); err != nil {
		t.Fatal(err)
	}
	if s := b.Status(); s.ClockJumps != 1 || s.ClockBack.Hours() < 363*24 {
		t.Errorf("%+v", s)
	}
	appendTo(t, b, 6, 6) // it was set
	if s := b.Status(); s.ClockJumps != 1 || s.ClockBack != 0 {
		t.Errorf("%+v", s)
	}
	wantEvents(t, b, 6) // in the order of booking
	g, _ := b.Group(0)
	if s := fmt.Sprint(g[3].Seq, g[3].At.Year()); s != "4 2025" {
		t.Error(s)
	}
	if r := audited(b); r.Err() != nil || r.Chains[0].ClockBack != 1 {
		t.Errorf("%+v", r)
	}
}
