package store

import (
	"bytes"
	"errors"
	"example.org/readback/testdata"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/repair"
)

const crashPage = 4096

// A picture is a state of the book file that a power cut can leave, with the
// journal lines that were durable by then.
type picture struct {
	name    string
	book    []byte
	journal []byte
	lowest  int // the events that must be there at least
}

// An outcome counts what became of the pictures.
type outcome struct{ pictures, before, after, refused, silent int }

// crashRun opens pictures, each under a file name of its own.
type crashRun struct {
	t   *testing.T
	dir string
	n   int
}

// open puts the picture on the disk, opens it, and demands events 1 to n
// whole: at least the lowest, at most the highest. A refusal is an error that
// the journal mends; anything else fails the test.
func (c *crashRun) open(p picture, highest int, o *outcome) {
	c.t.Helper()
	c.n++
	path := filepath.Join(c.dir, fmt.Sprintf("%d.readback", c.n))
	must(c.t, os.WriteFile(path, p.book, 0o600))
	must(c.t, os.WriteFile(disk.JournalPath(path), p.journal, 0o600))
	defer os.Remove(path)
	defer os.Remove(disk.JournalPath(path))
	defer os.Remove(disk.HolderPath(path))
	o.pictures++
	b, err := Open(path, testOptions())
	if err != nil {
		o.refused++
		if !isSentinel(err) {
			c.t.Fatalf("%s: an error that names nothing: %v", p.name, err)
		}
		c.restore(path, p)
		return
	}
	defer b.Close()
	seq, _ := b.Head()
	n := int(seq)
	if n < p.lowest || n > highest {
		o.silent++
		c.t.Errorf("%s: %d events, want %d to %d: %q", p.name, n, p.lowest, highest, b.opening.Notes)
		return
	}
	if n == highest {
		o.after++
	} else {
		o.before++
	}
	c.whole(b, p, n)
}

// whole demands that what the opened picture shows is what was booked. What
// lies deep in the file may still be damaged under a lying disk: then reading
// it must say so.
func (c *crashRun) whole(b *Book, p picture, n int) {
	seen := 0
	for r, err := range b.Records() {
		if err != nil {
			if !errors.Is(err, fault.ErrDamaged) && !errors.Is(err, fault.ErrDead) {
				c.t.Fatalf("%s: %v", p.name, err)
			}
			return
		}
		seen++
		if d := draft(seen); r.ID != d.ID || !bytes.Equal(r.Body, d.Body) {
			c.t.Fatalf("%s: event %d is not what was booked", p.name, seen)
		}
	}
	if seen != n {
		c.t.Fatalf("%s: %d events read, head is %d", p.name, seen, n)
	}
}

// restore demands that the journal gives all acknowledged events back.
func (c *crashRun) restore(path string, p picture) {
	rep, err := repair.Restore(disk.JournalPath(path), path, nil)
	if err != nil || int(rep.Events) < p.lowest || rep.Fault != nil {
		c.t.Fatalf("%s: restoring: %+v, %v", p.name, rep, err)
	}
	for _, s := range rep.SetAside {
		os.Remove(s)
	}
}

// isSentinel says whether err is one of the errors that tell what to do.
func isSentinel(err error) bool {
	for _, s := range []error{fault.ErrEmpty, fault.ErrNotABook, fault.ErrTruncated, fault.ErrDamaged, fault.ErrDead, fault.ErrDiffer} {
		if errors.Is(err, s) {
			return true
		}
	}
	return false
}

// A commitDiff is what one Append wrote.
type commitDiff struct {
	old, new       []byte // the book file before and after
	journal, after []byte // the journal before and after
	pages          []int  // data pages that differ
	meta           int    // the meta page that differs
	n              int    // the event
}

// diffCommit books event n and finds the pages that changed.
func diffCommit(t *testing.T, b *Book, n int) commitDiff {
	t.Helper()
	c := commitDiff{n: n, meta: -1}
	read := func(path string) []byte {
		data, err := os.ReadFile(path)
		must(t, err)
		return data
	}
	c.old, c.journal = read(b.path), read(disk.JournalPath(b.path))
	appendTo(t, b, n, n)
	c.new, c.after = read(b.path), read(disk.JournalPath(b.path))
	grown := append(bytes.Clone(c.old), make([]byte, len(c.new)-len(c.old))...)
	for p := 0; p*crashPage < len(c.new); p++ {
		at := p * crashPage
		if bytes.Equal(grown[at:at+crashPage], c.new[at:at+crashPage]) {
			continue
		}
		if p < 2 {
			c.meta = p
		} else {
			c.pages = append(c.pages, p)
		}
	}
	if c.meta < 0 || len(c.pages) == 0 {
		t.Fatalf("event %d changed meta %d and pages %v", n, c.meta, c.pages)
	}
	return c
}

// grown is the old file, grown as the new one.
func (c *commitDiff) grown() []byte {
	return append(bytes.Clone(c.old), make([]byte, len(c.new)-len(c.old))...)
}

// lawful lists pictures that an honest disk can leave: any part of the data
// pages before the first sync, whole or torn at sectors; all of them and the
// head torn after it; and at any of these moments any part of the journal
// line, which is written at the same time.
func (c *commitDiff) lawful(rng *rand.Rand, each int) []picture {
	var list []picture
	add := func(name string, book, journal []byte) {
		list = append(list, picture{fmt.Sprintf("event %d: %s", c.n, name), book, journal, c.n - 1})
	}
	line := c.after[len(c.journal):]
	lines := func() []byte {
		n := len(line)
		switch rng.IntN(4) {
		case 0:
			return c.journal
		case 1:
			return append(bytes.Clone(c.journal), make([]byte, 1+rng.IntN(n))...)
		case 2:
			n = rng.IntN(n)
		}
		return append(bytes.Clone(c.journal), line[:n]...)
	}
	for range each {
		img := c.grown()
		for _, p := range c.pages {
			at := p * crashPage
			switch rng.IntN(3) {
			case 0:
				copy(img[at:at+crashPage], c.new[at:])
			case 1:
				for s := 0; s < crashPage; s += 512 {
					if rng.IntN(2) == 0 {
						copy(img[at+s:at+s+512], c.new[at+s:])
					}
				}
			}
		}
		add("part of the pages", img, lines())
	}
	if len(c.old) != len(c.new) {
		add("not yet grown", bytes.Clone(c.old), lines())
	}
	for range each {
		img := bytes.Clone(c.new)
		at := c.meta * crashPage
		copy(img[at:at+crashPage], c.grown()[at:])
		copy(img[at:at+rng.IntN(128)], c.new[at:])
		add("torn head", img, lines())
	}
	for range each {
		add("complete, but for the line", c.new, lines())
	}
	add("complete", c.new, c.after)
	return list
}

// lying lists pictures of a disk that says "written" too early: the new head
// with a data page missing or old, and the acknowledged line in the journal.
func (c *commitDiff) lying() []picture {
	var list []picture
	for _, p := range c.pages {
		img := bytes.Clone(c.new)
		at := p * crashPage
		copy(img[at:at+crashPage], c.grown()[at:])
		list = append(list, picture{fmt.Sprintf("event %d: lying disk, page %d", c.n, p), img, c.after, c.n})
	}
	img := bytes.Clone(c.new) // the whole commit lost, the line kept
	copy(img, c.grown())
	return append(list, picture{fmt.Sprintf("event %d: lying disk, commit lost", c.n), img, c.after, c.n})
}

// Ensure that every picture a power cut can leave of a booking opens with the
// last or the last but one event, and that a lying disk is always noticed:
// what the journal acknowledged is there, or the book is refused and restored.
func TestCrash_Pictures(t *testing.T) {
	rng := newRand(t, 0)
	c := &crashRun{t: t, dir: t.TempDir()}
	b, err := Create(filepath.Join(c.dir, "live.readback"), testOptions())
	must(t, err)
	defer b.Close()
	var lawful, lying outcome
	commits, each := 25, 2
	if *testdata.Long {
		commits, each = longPictures, 8
	}
	for n := 1; n <= commits; n++ {
		d := diffCommit(t, b, n)
		for _, p := range d.lawful(rng, each) {
			c.open(p, n, &lawful)
		}
		for _, p := range d.lying() {
			c.open(p, n, &lying)
		}
	}
	if lawful.refused > 0 {
		t.Errorf("%d lawful pictures were refused", lawful.refused)
	}
	t.Logf("lawful %+v, lying disk %+v", lawful, lying)
	if lawful.before == 0 || lawful.after == 0 || lying.refused == 0 {
		t.Error("the pictures show too little")
	}
}
