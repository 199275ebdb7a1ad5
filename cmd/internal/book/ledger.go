package book

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/cmd/internal/program"
	"example.org/readback/store"
	"example.org/readback/store/chain"
	"example.org/readback/store/fault"
)

// ErrNoSetup says that a setup was asked for that is not in the book.
var ErrNoSetup = errors.New("there is no setup")

// A Ledger is an open field book, read and written as bookings.
type Ledger struct {
	Chapter
	st *store.Book
}

func newLedger(st *store.Book) *Ledger { return &Ledger{Chapter: Chapter{src: st.Source}, st: st} }

// Open opens the field book at path; with create set, one that is not
// there is made and begun.
func Open(path string, create bool, begin booking.BookOpened, o store.Options) (*Ledger, error) {
	st, err := store.Open(path, o)
	if create && errors.Is(err, fault.ErrNoBook) {
		st, err = store.Create(path, o)
	}
	if err != nil {
		return nil, err
	}
	l := newLedger(st)
	if l.empty() { // another program may have begun it in between
		begin.Program = program.Version()
		if err := l.Append(time.Now(), begin); err != nil {
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
func (l *Ledger) summariseMended() error {
	o := l.st.Opening()
	if o.MigratedFrom != 0 {
		ns, err := l.Numbers()
		if err != nil {
			return err
		}
		return l.Summarise(ns)
	}
	var ns []int
	for _, r := range o.TakenOver {
		if n := int(r.Group); n > 0 && !slices.Contains(ns, n) {
			ns = append(ns, n)
		}
	}
	return l.Summarise(ns)
}

// Summarise makes the summaries of setups anew from their events and keeps them.
func (l *Ledger) Summarise(ns []int) error {
	const batch = 500
	for part := range slices.Chunk(ns, batch) {
		var list []chain.Digest
		for _, n := range part {
			s, err := l.Setup(n)
			if err != nil {
				return err
			}
			text, err := json.Marshal(check.Summarize(s))
			if err != nil {
				return fmt.Errorf("summary of setup %d: %w", n, err)
			}
			list = append(list, chain.Digest{Group: uint32(n), Digest: text})
		}
		if err := l.st.SetDigests(list); err != nil {
			return err
		}
	}
	return nil
}

// empty tells whether the program died between making the file and its first
// event.
func (l *Ledger) empty() bool {
	seq, _ := l.st.Head()
	return seq == 0 && !l.st.Office() && !l.st.Status().ReadOnly
}

// useCopy turns on the second journal that the book itself names.
func (l *Ledger) useCopy(o store.Options) error {
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

// Append books an event of the book itself durably.
func (l *Ledger) Append(at time.Time, e booking.Event) error {
	_, err := l.append(newID(), booking.Entry{At: at, Event: e}, nil)
	return err
}

// append books one event durably and returns it with its place in the book;
// after is its setup as it stands then.
func (l *Ledger) append(id [16]byte, e booking.Entry, after *booking.Setup) (booking.Entry, error) {
	d, err := draftOf(id, e, after)
	if err != nil {
		return booking.Entry{}, err
	}
	r, err := l.st.Append(d)
	if err != nil {
		return booking.Entry{}, err
	}
	e.Seq, e.At = r.Seq, r.At
	return e, nil
}

// Record books an event of a setup and returns the setup after it.
func (l *Ledger) Record(s booking.Setup, n int, at time.Time, e booking.Event) (booking.Setup, error) {
	seq, _ := l.st.Head()
	entry := booking.Entry{Seq: seq + 1, At: at, Setup: n, Event: e}
	after, err := s.Apply(entry)
	if err != nil {
		return s, err
	}
	if _, err := l.append(newID(), entry, &after); err != nil {
		return s, err
	}
	return after, nil
}

// LastSetup returns the number of the last setup, 0 before the first.
func (l *Ledger) LastSetup() (int, error) {
	last, err := l.src.LastGroup()
	return int(last), err
}

// Notes are what opening the book found, whole sentences.
func (l *Ledger) Notes() []string { return l.st.Opening().Notes }

// Path returns the file that is booked into.
func (l *Ledger) Path() string { return l.st.Path() }

// Close closes the book.
func (l *Ledger) Close() error { return l.st.Close() }
