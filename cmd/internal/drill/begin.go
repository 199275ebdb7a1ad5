// Package drill begins the book of a drill and lets its observer speak on the
// screens.
package drill

import (
	"errors"
	"fmt"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/observer"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/store"
)

// ErrFieldBook says that a drill was to be kept in the book of a survey.
var ErrFieldBook = errors.New("is a field book")

// Begin makes a book marked as a drill with one setup in it, half booked or
// just opened, and returns the session that plays its observer.
func Begin(file string, o observer.Options, half bool) (*observer.Session, error) {
	l, err := book.Open(file, true, event.BookOpened{Drill: true, Title: "drill"}, store.Options{Reserve: -1})
	if err != nil {
		return nil, err
	}
	defer l.Close()
	if b, err := l.Book(); err != nil || !b.Drill {
		return nil, errors.Join(err, fmt.Errorf("%s %w: a drill is kept in a book of its own, name another", file, ErrFieldBook))
	}
	called := observer.New(o)
	events, err := openingEvents(called, half)
	if err != nil {
		return nil, err
	}
	last, err := l.LastSetup()
	if err != nil {
		return nil, err
	}
	var s booking.Setup
	for _, e := range events {
		if s, err = l.Record(s, last+1, e.At, e.Event); err != nil {
			return nil, err
		}
	}
	session := observer.NewSession(called)
	session.Resume(s)
	return session, nil
}

// openingEvents are the events a drill begins with; those of a half-booked
// station are dated back, a reading every twenty seconds.
func openingEvents(o *observer.Observer, half bool) ([]event.Entry, error) {
	if !half {
		open, err := booking.Open(o.Spec)
		return []event.Entry{{Seq: 1, At: time.Now(), Setup: 1, Event: open}}, err
	}
	seq, at := uint64(0), time.Now().Add(-6*time.Minute)
	return o.HalfBooked(func(e event.Event) event.Entry {
		seq++
		at = at.Add(20 * time.Second)
		return event.Entry{Seq: seq, At: at, Setup: 1, Event: e}
	})
}
