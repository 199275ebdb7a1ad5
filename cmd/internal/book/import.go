package book

import (
	"crypto/sha256"
	"fmt"
	"path/filepath"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/exchange"
	"example.org/readback/cmd/internal/paper"
)

// A FileError says what in a readings file cannot be booked.
type FileError struct{ Err error }

func (e *FileError) Error() string { return e.Err.Error() }

// Unwrap returns what is wrong.
func (e *FileError) Unwrap() error { return e.Err }

// Import plans a whole readings file, then books it event by event and returns
// its setups. A file that cannot be booked books nothing.
func (l *Ledger) Import(papers paper.Papers, at time.Time) ([]booking.Setup, error) {
	done, err := l.booked(papers)
	if err != nil {
		return nil, err
	}
	plan, err := l.plan(papers, done, at)
	if err != nil {
		return nil, &FileError{err}
	}
	for i, s := range plan.steps[done.events:] {
		if _, err := l.append(s.id, s.entry, s.after); err != nil {
			return nil, fmt.Errorf("%w\n%s", err, plan.upTo(done.events+i))
		}
	}
	return plan.setups, nil
}

// A step is one event to be booked; after is its setup where the step ends it.
type step struct {
	id    [16]byte
	entry booking.Entry
	after *booking.Setup
}

// An importPlan is all that a file adds to a book.
type importPlan struct {
	steps  []step
	setups []booking.Setup
}

// upTo says what is in the book when only the first n steps are.
func (p importPlan) upTo(n int) string {
	if n == 0 {
		return "Nothing of the file is in the book."
	}
	first, last := p.steps[0].entry, p.steps[n-1].entry
	return fmt.Sprintf("In the book are events %d to %d of %d to %d: setups %d to %d, the last of them as far as it goes. Import the same file again to go on from there.",
		first.Seq, last.Seq, first.Seq, p.steps[len(p.steps)-1].entry.Seq, first.Setup, last.Setup)
}

// plan folds every setup of the file with the checks, as it will be booked.
func (l *Ledger) plan(papers paper.Papers, done bookedPart, at time.Time) (importPlan, error) {
	var plan importPlan
	b, err := l.Book()
	if err != nil {
		return plan, err
	}
	seq := done.first
	var earlier []booking.Summary // setups of the file that come before
	for i, p := range papers.List {
		n := done.setup + i
		before, err := l.known(b, booking.Setup{Number: done.setup, Spec: p.Spec}, earlier...)
		if err != nil {
			return plan, err
		}
		entries, s, err := p.Checked(n, seq, at, before)
		if err != nil {
			return plan, err
		}
		if entries, s, err = endPaper(entries, s, papers.File); err != nil {
			return plan, err
		}
		for k, e := range entries {
			plan.steps = append(plan.steps, step{id: importID(papers, p, k), entry: e})
		}
		plan.steps[len(plan.steps)-1].after = &s
		plan.setups = append(plan.setups, s)
		earlier = append(earlier, check.Summarize(s))
		seq += uint64(len(entries))
	}
	return plan, nil
}

// endPaper ends a setup that was booked on paper: its tripod is long gone.
func endPaper(entries []booking.Entry, s booking.Setup, file string) ([]booking.Entry, booking.Setup, error) {
	lift, err := check.Lift(s, "Keyed afterwards from "+filepath.Base(file)+": the tripod had been lifted before these checks were made.")
	if err != nil {
		return nil, s, err
	}
	last := entries[len(entries)-1]
	e := booking.Entry{Seq: last.Seq + 1, At: last.At, Setup: s.Number, Event: lift}
	s, err = s.Apply(e)
	return append(entries, e), s, err
}

// importID is the identity of the k-th event that a setup of a file becomes. It
// is the same whenever the same file is imported by the same booker, so that a
// file is not booked twice.
func importID(papers paper.Papers, p exchange.Paper, k int) (id [16]byte) {
	sum := sha256.Sum256(fmt.Appendf(nil, "%x %q %d %d", papers.Sum, p.Spec.Booker, p.Number, k))
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

// booked looks for the events of a file in the book: all there, none, or the
// first of them, left by an import that was cut off.
func (l *Ledger) booked(papers paper.Papers) (bookedPart, error) {
	head, _ := l.st.Head()
	last, err := l.src.LastGroup()
	if err != nil {
		return bookedPart{}, err
	}
	fresh := bookedPart{first: head + 1, setup: int(last) + 1}
	ids, total := map[[16]byte]bool{}, 0
	for _, p := range papers.List {
		total += p.Events() + 1 // and the lift
		for k := range p.Events() + 1 {
			ids[importID(papers, p, k)] = true
		}
	}
	var found bookedPart
	for r, err := range l.src.Records() {
		switch {
		case err != nil:
			return found, err
		case !ids[r.ID]:
			continue
		case found.events == 0:
			found.first, found.setup = r.Seq, int(r.Group)
		}
		found.events++
	}
	switch {
	case found.events == 0:
		return fresh, nil
	case found.events == total:
		return found, fmt.Errorf("%s is in %s already, from setup %d on: nothing was booked", papers.File, l.st.Path(), found.setup)
	case found.first+uint64(found.events)-1 != head:
		return found, fmt.Errorf("%d of the %d events of %s are in %s, from event %d on, and other events follow them: nothing was booked; delete no file, import into a new book",
			found.events, total, papers.File, l.st.Path(), found.first)
	}
	return found, nil
}
