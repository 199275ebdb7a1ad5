package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/drill"
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
	if err := needTerminal(c); err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "readback-demo-")
	if err != nil {
		return fmt.Errorf("no place for the throw-away book: %w", err)
	}
	defer os.RemoveAll(dir)
	file := filepath.Join(dir, "demonstration.readback")
	o := drill.Options{Seed: demoSeed, SlipEvery: 4, Rounds: 2}
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
func beginDrill(file string, o drill.Options, half bool) (*drill.Session, error) {
	l, err := openLedger(file, true, booking.BookOpened{Drill: true, Title: "drill"}, store.Options{Reserve: -1})
	if err != nil {
		return nil, err
	}
	defer l.Close()
	if b, err := l.Book(); err != nil || !b.Drill {
		return nil, errors.Join(err, badInput(fmt.Errorf("%s is a field book: a drill is kept in a book of its own, name another", file)))
	}
	spec, observer := drill.New(o)
	events, err := openingEvents(spec, observer, half)
	if err != nil {
		return nil, err
	}
	last, err := l.src.LastGroup()
	if err != nil {
		return nil, err
	}
	var s booking.Setup
	for _, e := range events {
		if s, err = l.record(s, int(last)+1, e.At, e.Event); err != nil {
			return nil, err
		}
	}
	session := drill.NewSession(observer)
	session.Resume(s)
	return session, nil
}

// openingEvents are the events a drill begins with; those of a half-booked
// station are dated back, a reading every twenty seconds.
func openingEvents(spec booking.Spec, o *drill.Observer, half bool) ([]booking.Entry, error) {
	if !half {
		open, err := booking.Open(spec)
		return []booking.Entry{{Seq: 1, At: time.Now(), Setup: 1, Event: open}}, err
	}
	seq, at := uint64(0), time.Now().Add(-6*time.Minute)
	return drill.HalfBooked(spec, o, func(e booking.Event) booking.Entry {
		seq++
		at = at.Add(20 * time.Second)
		return booking.Entry{Seq: seq, At: at, Setup: 1, Event: e}
	})
}
