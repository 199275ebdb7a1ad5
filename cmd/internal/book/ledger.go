package book

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/event"
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
	st   *store.Book
	late *booking.Setup // the setup being booked, whose summary is not kept yet; the writer's alone
}

func newLedger(st *store.Book) *Ledger { return &Ledger{Chapter: Chapter{src: st.Source}, st: st} }

// Open opens the field book at path; with create set, one that is not
// there is made and begun.
func Open(path string, create bool, begin event.BookOpened, o store.Options) (*Ledger, error) {
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
	if err := l.Summarise(ns); err != nil {
		return err
	}
	return l.findLate()
}

// findLate finds the setup that was being observed when the program ended without
// keeping its summary: it is kept when that one is left.
func (l *Ledger) findLate() error {
	last, err := l.LastSetup()
	if err != nil || last == 0 || l.st.Office() {
		return err
	}
	if digest, err := l.src.Digest(uint32(last)); err != nil || digest != nil {
		return err
	}
	if s, err := l.Setup(last); err == nil { // else whoever opens it hears of it
		l.late = &s
	}
	return nil
}

// Summarise makes the summaries of setups anew from their events and keeps them.
func (l *Ledger) Summarise(ns []int) error {
	const batch = 500
	for part := range slices.Chunk(ns, batch) {
		var list []booking.Setup
		for _, n := range part {
			s, err := l.Setup(n)
			if err != nil {
				return err
			}
			list = append(list, s)
		}
		if err := l.keep(list); err != nil {
			return err
		}
	}
	return nil
}

// keep keeps the summaries of setups as they stand.
func (l *Ledger) keep(setups []booking.Setup) error {
	var list []chain.Digest
	for _, s := range setups {
		text, err := json.Marshal(check.Summarize(s))
		if err != nil {
			return fmt.Errorf("summary of setup %d: %w", s.Number, err)
		}
		list = append(list, chain.Digest{Group: uint32(s.Number), Digest: text})
	}
	return l.st.SetDigests(list)
}

// empty tells whether the program died between making the file and its first
// event.
func (l *Ledger) empty() bool {
	seq, _ := l.st.Head()
	return seq == 0 && !l.st.Office()
}

// useCopy turns on the second journal that the book itself names.
func (l *Ledger) useCopy(o store.Options) error {
	if o.Copy != "" || l.st.Office() {
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
func (l *Ledger) Append(at time.Time, e event.Event) error {
	_, err := l.append(newID(), event.Entry{At: at, Event: e}, nil)
	return err
}

// append books one event durably and returns it with its place in the book;
// after is its setup as it stands then.
func (l *Ledger) append(id [16]byte, e event.Entry, after *booking.Setup) (event.Entry, error) {
	if l.late != nil && after != nil && after.Number != l.late.Number {
		if err := l.keepLate(); err != nil {
			return event.Entry{}, err
		}
	}
	kept := after
	if after != nil && !settled(after) {
		kept = nil
	}
	d, err := draftOf(id, e, kept)
	if err != nil {
		return event.Entry{}, err
	}
	r, err := l.st.Append(d)
	if err != nil {
		return event.Entry{}, err
	}
	if after != nil {
		if l.late = after; kept != nil {
			l.late = nil
		}
	}
	e.Seq, e.At = r.Seq, r.At
	return e, nil
}

// settled says whether the summary of a setup is kept with its event. While a
// setup is being observed it is not: it takes a work-up of all its readings, which
// at a large station costs more than the booking, and nobody reads it before the
// setup is left.
func settled(s *booking.Setup) bool { return s.Lift != nil || s.Void != nil || len(s.Readings) == 0 }

// keepLate keeps the summary of the setup that was left without being settled.
func (l *Ledger) keepLate() error {
	s := *l.late
	l.late = nil
	return l.keep([]booking.Setup{s})
}

// Record books an event of a setup and returns the setup after it.
func (l *Ledger) Record(s booking.Setup, n int, at time.Time, e event.Event) (booking.Setup, error) {
	seq, _ := l.st.Head()
	entry := event.Entry{Seq: seq + 1, At: at, Setup: n, Event: e}
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

// ReadOnly tells whether nothing can be booked.
func (l *Ledger) ReadOnly() bool { return l.st.Office() }

// path returns the file that is booked into.
func (l *Ledger) path() string { return l.st.Path() }

// Close keeps the summary of the setup that was being booked and closes the book.
func (l *Ledger) Close() error {
	if l.late != nil && l.st.Status().Failed == nil {
		_ = l.keepLate() // without it, it is made anew at the next opening
	}
	return l.st.Close()
}
