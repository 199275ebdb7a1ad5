package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"iter"
	"runtime/debug"
	"slices"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/store"
)

// A chapter reads one chain of events as bookings: a field book has one, an
// office book one for each book gathered into it.
type chapter struct{ src *store.Source }

// Book returns the state of the book itself.
func (c chapter) Book() (booking.Book, error) {
	records, err := c.src.Group(0)
	if err != nil {
		return booking.Book{}, err
	}
	entries, err := entriesOf(records)
	if err != nil {
		return booking.Book{}, err
	}
	return booking.FoldBook(entries)
}

// Entries returns the events of setup n in order.
func (c chapter) Entries(n int) ([]booking.Entry, error) {
	records, err := c.src.Group(uint32(n))
	if err != nil {
		return nil, err
	}
	return entriesOf(records)
}

// Setup returns the state of setup n.
func (c chapter) Setup(n int) (booking.Setup, error) {
	entries, err := c.Entries(n)
	if err != nil {
		return booking.Setup{}, err
	}
	if len(entries) == 0 {
		return booking.Setup{}, badInput(fmt.Errorf("there is no setup %d in this book", n))
	}
	return booking.Fold(entries)
}

// Numbers returns the numbers of all setups, ascending.
func (c chapter) Numbers() ([]int, error) {
	groups, err := c.src.Groups()
	if err != nil {
		return nil, err
	}
	var ns []int
	for _, g := range groups {
		if g > 0 {
			ns = append(ns, int(g))
		}
	}
	return ns, nil
}

// Setups walks the setups in order, one in memory at a time.
func (c chapter) Setups() iter.Seq2[booking.Setup, error] {
	return func(yield func(booking.Setup, error) bool) {
		ns, err := c.Numbers()
		if err != nil {
			yield(booking.Setup{}, err)
			return
		}
		for _, n := range ns {
			s, err := c.Setup(n)
			if !yield(s, err) || err != nil {
				return
			}
		}
	}
}

// Summary returns the summary of setup n: the one kept beside the events, or,
// where there is none, one made anew from them.
func (c chapter) Summary(n int) (booking.Summary, error) {
	var m booking.Summary
	digest, err := c.src.Digest(uint32(n))
	if err != nil {
		return m, err
	}
	if digest != nil && json.Unmarshal(digest, &m) == nil {
		return m, nil
	}
	s, err := c.Setup(n)
	return check.Summarize(s), err
}

// Summaries returns the summaries of all setups in order.
func (c chapter) Summaries() ([]booking.Summary, error) {
	ns, err := c.Numbers()
	if err != nil {
		return nil, err
	}
	list := make([]booking.Summary, 0, len(ns))
	for _, n := range ns {
		m, err := c.Summary(n)
		if err != nil {
			return nil, err
		}
		list = append(list, m)
	}
	return list, nil
}

// A ledger is an open field book, read and written as bookings.
type ledger struct {
	chapter
	st *store.Book
}

// openLedger opens the field book at path; with create set, one that is not
// there is made and begun.
func openLedger(path string, create bool, begin booking.BookOpened, o store.Options) (*ledger, error) {
	st, err := store.Open(path, o)
	made := false
	if create && errors.Is(err, store.ErrNoBook) {
		st, err = store.Create(path, o)
		made = true
	}
	if err != nil {
		return nil, err
	}
	l := &ledger{chapter: chapter{src: st.Source}, st: st}
	if made || l.empty() {
		begin.Program = version()
		if _, err := l.append(newID(), 0, time.Now(), begin, nil); err != nil {
			st.Close()
			return nil, err
		}
	}
	if err := l.useCopy(o); err != nil {
		return nil, err
	}
	if err := l.summariseMended(); err != nil {
		st.Close()
		return nil, err
	}
	return l, nil
}

// summariseMended makes the summaries anew that are missing after the opening
// took events over from the journal or brought the book to a newer format.
func (l *ledger) summariseMended() error {
	o := l.st.Opening()
	if o.MigratedFrom != 0 {
		ns, err := l.Numbers()
		if err != nil {
			return err
		}
		return l.summarise(ns)
	}
	var ns []int
	for _, r := range o.TakenOver {
		if n := int(r.Group); n > 0 && !slices.Contains(ns, n) {
			ns = append(ns, n)
		}
	}
	return l.summarise(ns)
}

// summarise makes the summaries of setups anew from their events and keeps them.
func (l *ledger) summarise(ns []int) error {
	const batch = 500
	for part := range slices.Chunk(ns, batch) {
		var list []store.GroupDigest
		for _, n := range part {
			s, err := l.Setup(n)
			if err != nil {
				return err
			}
			text, err := json.Marshal(check.Summarize(s))
			if err != nil {
				return fmt.Errorf("summary of setup %d: %w", n, err)
			}
			list = append(list, store.GroupDigest{Group: uint32(n), Digest: text})
		}
		if err := l.st.SetDigests(list); err != nil {
			return err
		}
	}
	return nil
}

// empty tells whether the program died between making the file and its first
// event.
func (l *ledger) empty() bool {
	seq, _ := l.st.Head()
	return seq == 0 && !l.st.Office() && !l.st.Status().ReadOnly
}

// useCopy turns on the second journal that the book itself names.
func (l *ledger) useCopy(o store.Options) error {
	if o.Copy != "" || o.ReadOnly || l.st.Office() {
		return nil
	}
	b, err := l.Book()
	if err == nil && b.Copy != "" {
		err = l.st.SetCopy(b.Copy)
	}
	if err != nil {
		l.st.Close()
	}
	return err
}

// append books one event durably and returns it with its place in the book.
func (l *ledger) append(id [16]byte, setup int, at time.Time, e booking.Event, after *booking.Setup) (booking.Entry, error) {
	d, err := draftOf(id, setup, at, e, after)
	if err != nil {
		return booking.Entry{}, err
	}
	r, err := l.st.Append(d)
	if err != nil {
		return booking.Entry{}, err
	}
	return booking.Entry{Seq: r.Seq, At: r.At, Setup: setup, Event: e}, nil
}

// record books an event of a setup and returns the setup after it.
func (l *ledger) record(s booking.Setup, n int, at time.Time, e booking.Event) (booking.Setup, error) {
	seq, _ := l.st.Head()
	after, err := s.Apply(booking.Entry{Seq: seq + 1, At: at, Setup: n, Event: e})
	if err != nil {
		return s, err
	}
	if _, err := l.append(newID(), n, at, e, &after); err != nil {
		return s, err
	}
	return after, nil
}

// Close closes the book.
func (l *ledger) Close() error { return l.st.Close() }

// openChapters opens a book for reading only, field book or office book.
func openChapters(path string) ([]chapter, func() error, error) {
	st, err := store.Open(path, store.Options{ReadOnly: true})
	if err != nil {
		return nil, nil, readError(err)
	}
	var cs []chapter
	for _, s := range st.Sources() {
		cs = append(cs, chapter{src: s})
	}
	return cs, st.Close, nil
}

// readError gives the exit code that belongs to a book that cannot be read.
func readError(err error) error {
	if errors.Is(err, store.ErrNoBook) || errors.Is(err, store.ErrNoDirectory) || errors.Is(err, store.ErrNotABook) {
		return badInput(err)
	}
	return err
}

// version names the program in the books it makes.
func version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return info.Main.Version
	}
	return "unknown"
}
