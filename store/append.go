package store

import (
	"crypto/rand"
	"errors"
	"fmt"
	"time"

	bolt "go.etcd.io/bbolt"

	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
)

// Append books one event. When it returns without an error the event is in the
// book and in the journal, both synced. Appending the newest event once more
// (same ID, same content) changes nothing and returns it.
//
// After an error from the disk nothing more is booked: every later Append
// returns ErrLatched around the first error until Reopen, which also tells
// whether the event of the failed Append is there. Errors: ErrBadRecord and
// ErrIDReused (nothing was written, booking goes on), ErrOffice,
// ErrClosed, ErrNoSpace, ErrWrite, ErrGone, ErrDead, ErrLatched.
func (b *Book) Append(d journal.Draft) (journal.Record, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if err := b.writable(); err != nil {
		return journal.Record{}, err
	}
	r, err := b.seal(d, &b.last)
	if err != nil {
		return journal.Record{}, err
	}
	if d.ID != ([16]byte{}) && d.ID == b.last.ID && b.last.Seq > 0 {
		return b.again(&r)
	}
	value := journal.Encode(&r)
	line := journal.AppendLine(make([]byte, 0, len(value)+400), r)
	if b.opt.SlowWrite > 0 {
		time.Sleep(b.opt.SlowWrite)
	}
	if err := b.replaced(); err != nil {
		return journal.Record{}, b.rescue(err)
	}
	if err := b.writeBoth(&r, value, line, d.Digest); err != nil {
		return journal.Record{}, err
	}
	if err := b.replaced(); err != nil {
		return journal.Record{}, b.rescue(err)
	}
	b.jumped(&r)
	b.setLast(r)
	b.second.append(b, line, &r)
	return r, nil
}

// writeBoth writes the event into the book and into the journal at the same
// time, which costs little more than the slower of the two. The event is
// acknowledged when both are durable; when only one is, the other catches up
// at the next opening, whichever it is.
func (b *Book) writeBoth(r *journal.Record, value, line, digest []byte) error {
	journal := make(chan error, 1)
	go func() { journal <- b.journal.Write(line, r) }()
	err := b.h.Update(func(tx *bolt.Tx) error {
		c, err := b.In(tx)
		if err != nil {
			return err
		}
		return c.Put(r, value, digest)
	})
	jerr := <-journal
	switch {
	case errors.Is(err, fault.ErrGone):
		return b.rescue(err)
	case err != nil:
		if jerr == nil && disk.IsNoSpace(err) {
			b.journal.Undo(len(line)) // else the full disk could not be opened: the event would have to be taken over
		}
		return b.fail(err, "")
	case jerr != nil:
		return b.fail(jerr, "journal "+b.journal.Path)
	}
	return nil
}

// seal makes the record that would follow last.
func (b *Book) seal(d journal.Draft, last *journal.Record) (journal.Record, error) {
	if d.ID == ([16]byte{}) {
		if _, err := rand.Read(d.ID[:]); err != nil {
			return journal.Record{}, fmt.Errorf("choose an identity for the event: %w", err)
		}
	}
	if d.At.IsZero() {
		d.At = b.opt.Clock()
	}
	r := journal.Record{Seq: last.Seq + 1, ID: d.ID, At: d.At.UTC().Round(0), Kind: d.Kind, Version: d.Version, Group: d.Group, Body: d.Body, Prev: last.Hash}
	if err := r.Check(); err != nil {
		return journal.Record{}, err
	}
	r.Body = append(make([]byte, 0, len(d.Body)), d.Body...)
	return r, nil
}

// again answers an Append of the event that is already the newest.
func (b *Book) again(r *journal.Record) (journal.Record, error) {
	l := b.last
	if l.Kind != r.Kind || l.Version != r.Version || l.Group != r.Group || string(l.Body) != string(r.Body) {
		return journal.Record{}, &fault.Error{Path: b.path, What: fault.ErrIDReused, Detail: fmt.Sprintf("event %d", l.Seq)}
	}
	return l, nil
}

// replaced says how book or journal differ from the files that are open. It is
// asked before a writing, so that nothing is written to a file that vanished,
// and after, so that nothing is acknowledged into one.
func (b *Book) replaced() error {
	if err := b.h.Replaced(); err != nil {
		return err
	}
	return b.journal.Replaced()
}

// jumped notes a clock that went back, and that it stands right again. The order
// of events is their number, so nothing else happens.
func (b *Book) jumped(r *journal.Record) {
	if b.last.Seq > 0 && b.last.At.After(b.latest) {
		b.latest = b.last.At
	}
	back := b.latest.Sub(r.At)
	if b.latest.IsZero() || back <= journal.ClockBack {
		back = 0
	}
	b.note(func(s *Status) {
		if back > 0 && s.ClockBack == 0 {
			s.ClockJumps++
		}
		s.ClockBack = back
	})
}

// fail latches the book after a failed write and words the error. A full disk
// gets the reserve back first.
func (b *Book) fail(err error, where string) error {
	e := &fault.Error{Path: b.path, What: fault.ErrWrite, Detail: where, Cause: err,
		Do: "Booking has stopped. The book must be opened again; only then is it known whether the last event is in it"}
	switch {
	case errors.Is(err, fault.ErrDead):
		e.What, e.Do = fault.ErrDead, fault.RestoreAdvice(b.path)
	case disk.IsNoSpace(err):
		e.What = fault.ErrNoSpace
		if released := releaseReserve(b.path); released {
			b.note(func(s *Status) { s.Reserve = false })
			e.Do = "The space held in reserve is given back now, enough for some hundred events. Open the book again, finish the round, then make room on the disk"
		} else {
			e.Do = "Make room on the disk, then open the book again"
		}
	}
	return b.latch(e)
}

// latch makes err the reason why nothing more is booked.
func (b *Book) latch(err error) error {
	b.failed = err
	b.note(func(s *Status) { s.Failed = err })
	return err
}
