package book

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"iter"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/day"
	"example.org/readback/booking/exchange"
	"example.org/readback/cmd/internal/paper"
	"example.org/readback/store"
)

// A FileError says what in a readings file cannot be booked.
type FileError struct{ Err error }

func (e *FileError) Error() string { return e.Err.Error() }

// Unwrap returns what is wrong.
func (e *FileError) Unwrap() error { return e.Err }

// An Imported setup is one of a readings file as it stands in the book.
type Imported struct {
	Setup, Readings  int
	Station, Verdict string
}

// Import checks that a whole readings file can be booked, then books it a few
// hundred events at a time and says what became of its setups, in their order. A
// file that cannot be booked books nothing.
func (l *Ledger) Import(papers *paper.Papers, at time.Time, said func(Imported)) error {
	n := intake{l: l, papers: papers, at: at, said: said}
	var err error
	if n.Checked, err = papers.Check(); err != nil {
		return &FileError{err}
	}
	if n.done, err = n.booked(); err != nil {
		return err
	}
	return n.book()
}

// An intake is one import of a file.
type intake struct {
	l      *Ledger
	papers *paper.Papers
	at     time.Time
	said   func(Imported)
	paper.Checked
	done bookedPart
}

// A planned setup is its events as they will be booked.
type planned struct {
	drafts []store.Draft
	Imported
	err error
}

// several is how many events are booked in one go, about.
const several = 1000

// book works the setups out in their order and books them, the next while the
// last are written.
func (n *intake) book() error {
	plans, stop := make(chan planned, 8), make(chan struct{})
	go n.plan(plans, stop)
	defer func() {
		close(stop)
		for range plans {
		}
	}()
	pass, wrote := n.done.events, n.done.events
	var drafts []store.Draft
	var told []Imported
	write := func() error {
		if _, err := n.l.st.AppendAll(drafts); err != nil {
			return fmt.Errorf("%w\n%s", err, n.upTo(wrote))
		}
		wrote += len(drafts)
		for _, s := range told {
			n.said(s)
		}
		drafts, told = drafts[:0], told[:0]
		return nil
	}
	for p := range plans {
		if p.err != nil {
			return fmt.Errorf("%w\n%s", p.err, n.upTo(wrote))
		}
		skip := min(pass, len(p.drafts))
		pass -= skip
		drafts, told = append(drafts, p.drafts[skip:]...), append(told, p.Imported)
		if len(drafts) < several {
			continue
		}
		if err := write(); err != nil {
			return err
		}
	}
	return write()
}

// upTo says what is in the book when only the first events are.
func (n *intake) upTo(events int) string {
	if events == 0 {
		return "Nothing of the file is in the book."
	}
	first := n.done.first
	return fmt.Sprintf("In the book are events %d to %d of %d to %d: setups %d to %d, the last of them as far as it goes. Import the same file again to go on from there.",
		first, first+uint64(events)-1, first, first+uint64(n.Total)-1, n.done.setup, n.setupOf(events))
}

// setupOf returns the number in the book of the setup to which the last of so
// many events belongs.
func (n *intake) setupOf(events int) int {
	for i, k := range n.Events {
		if events -= int(k); events <= 0 {
			return n.done.setup + i
		}
	}
	return n.done.setup
}

// plan folds every setup of the file with the checks, as it will be booked.
func (n *intake) plan(plans chan<- planned, stop <-chan struct{}) {
	defer close(plans)
	b, err := n.l.Book()
	before, first := n.l.Chapter, n.done.first
	var earlier []day.Summary // setups of the file that come before
	for i := 0; i < n.papers.Len(); i++ {
		var p planned
		var m day.Summary
		if p.err = err; err == nil {
			p, m = n.planOne(i, first, before, b, earlier)
			first += uint64(len(p.drafts))
			earlier = append(earlier, m)
			earlier = earlier[max(0, len(earlier)-recentSetups):]
		}
		select {
		case plans <- p:
		case <-stop:
			return
		}
		if p.err != nil {
			return
		}
	}
}

func (n *intake) planOne(i int, first uint64, before Chapter, b day.Book, earlier []day.Summary) (planned, day.Summary) {
	fail := func(err error) (planned, day.Summary) { return planned{err: err}, day.Summary{} }
	p, err := n.papers.Paper(i)
	if err != nil {
		return fail(err)
	}
	known, err := before.known(b, booking.Setup{Number: n.done.setup, Spec: p.Spec}, earlier...)
	if err != nil {
		return fail(err)
	}
	entries, s, err := p.Checked(n.done.setup+i, first, n.at, known)
	if err != nil {
		return fail(err)
	}
	out := planned{Imported: Imported{s.Number, len(s.Readings), s.Spec.Station, s.Lift.Verdict}}
	for k, e := range entries {
		var after *booking.Setup
		if k == len(entries)-1 {
			after = &s
		}
		d, err := draftOf(n.idOf(p, k), e, after)
		if err != nil {
			return fail(err)
		}
		out.drafts = append(out.drafts, d)
	}
	return out, check.Summarize(s)
}

// idOf is the identity of the k-th event that a setup of the file becomes. It is
// the same whenever the same file is imported by the same booker, so that a file
// is not booked twice.
func (n *intake) idOf(p exchange.Paper, k int) (id [16]byte) {
	sum := sha256.Sum256(fmt.Appendf(nil, "%x %q %d %d", n.Sum, p.Spec.Booker, p.Number, k))
	copy(id[:], sum[:])
	return id
}

// bookedPart says how much of a file is in the book already and where the file
// begins in it.
type bookedPart struct {
	events int
	first  uint64 // number of the first event of the file
	setup  int    // number of its first setup
}

// ids yields the identities of all events of the file, in their order.
func (n *intake) ids() iter.Seq2[[16]byte, error] {
	return func(yield func([16]byte, error) bool) {
		for i := range n.papers.Len() {
			p, err := n.papers.Paper(i)
			if err != nil {
				yield([16]byte{}, err)
				return
			}
			for k := range int(n.Events[i]) {
				if !yield(n.idOf(p, k), nil) {
					return
				}
			}
		}
	}
}

// booked looks for the events of a file in the book: all there, none, or the
// first of them, left by an import that was cut off. They stand there in their
// order, one behind the other.
func (n *intake) booked() (bookedPart, error) {
	head, _ := n.l.st.Head()
	last, err := n.l.src.LastGroup()
	if err != nil {
		return bookedPart{}, err
	}
	next, stop := iter.Pull2(n.ids())
	defer stop()
	id, err, more := next()
	found := bookedPart{first: head + 1, setup: int(last) + 1}
	for r, rerr := range n.l.src.Records() {
		if err = errors.Join(err, rerr); err != nil {
			return found, err
		}
		if !more || r.ID != id {
			if found.events > 0 {
				break
			}
			continue
		}
		if found.events == 0 {
			found.first, found.setup = r.Seq, int(r.Group)
		}
		found.events++
		id, err, more = next()
	}
	switch file, path := n.papers.File, n.l.st.Path(); {
	case err != nil:
		return found, err
	case found.events == n.Total:
		return found, fmt.Errorf("%s is in %s already, from setup %d on: nothing was booked", file, path, found.setup)
	case found.events > 0 && found.first+uint64(found.events)-1 != head:
		return found, fmt.Errorf("%d of the %d events of %s are in %s, from event %d on, and other events follow them: nothing was booked; delete no file, import into a new book",
			found.events, n.Total, file, path, found.first)
	}
	return found, nil
}
