package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/observer"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/term"
	"example.org/readback/store"
)

// A DemoCmd opens a throw-away book with a station half booked.
type DemoCmd struct {
	Screen ScreenOpts `embed:""`
}

// demoSeed is a drill in which the observer makes a slip among the next calls.
const demoSeed = 86

// Run makes the book in a directory of its own, which is removed afterwards.
func (d *DemoCmd) Run(c *Context) error {
	if err := term.Need(c.In, c.screen); err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "readback-demo-")
	if err != nil {
		return fmt.Errorf("no place for the throw-away book: %w", err)
	}
	defer os.RemoveAll(dir)
	file := filepath.Join(dir, "demonstration.readback")
	o := observer.Options{Seed: demoSeed, SlipEvery: 4, Rounds: 2, Kinds: kindsNamed([]string{"digit", "exchange", "degree", "ten-minutes", "minute", "misheard"})}
	session, err := beginDrill(file, o, true)
	if err != nil {
		return err
	}
	s := sessionOf(c, file, d.Screen, session, 0)
	s.quiet = true
	return s.run(c)
}

// beginDrill makes a book marked as a drill with one setup in it, half booked or
// just opened, and returns the session that plays its observer.
func beginDrill(file string, o observer.Options, half bool) (*observer.Session, error) {
	l, err := book.Open(file, true, booking.BookOpened{Drill: true, Title: "drill"}, store.Options{Reserve: -1})
	if err != nil {
		return nil, err
	}
	defer l.Close()
	if b, err := l.Book(); err != nil || !b.Drill {
		return nil, errors.Join(err, badInput(fmt.Errorf("%s is a field book: a drill is kept in a book of its own, name another", file)))
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
func openingEvents(o *observer.Observer, half bool) ([]booking.Entry, error) {
	if !half {
		open, err := booking.Open(o.Spec)
		return []booking.Entry{{Seq: 1, At: time.Now(), Setup: 1, Event: open}}, err
	}
	seq, at := uint64(0), time.Now().Add(-6*time.Minute)
	return o.HalfBooked(func(e booking.Event) booking.Entry {
		seq++
		at = at.Add(20 * time.Second)
		return booking.Entry{Seq: seq, At: at, Setup: 1, Event: e}
	})
}
