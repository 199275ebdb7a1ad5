package book

import (
	"fmt"
	"runtime/debug"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
)

// A job is one event waiting to be booked.
type job struct {
	id    [16]byte // the event's own identity, by which it is found again after a failed write
	entry event.Entry
	after *booking.Setup // its setup as it will stand; nil: an event of the book itself
}

// A writer books events one after the other on one goroutine, so that the screen
// never waits for the disk and quitting never outruns a booking: stop drains it.
type writer struct {
	l     *Ledger
	queue chan job
	done  chan struct{}
	saved func(seq uint64)
	fails func(seq uint64, err error)
	count int // events booked; read after stop
}

// startWriter starts the goroutine. saved and fails are called from it.
func startWriter(l *Ledger, saved func(uint64), fails func(uint64, error)) *writer {
	w := &writer{l: l, queue: make(chan job, 1024), done: make(chan struct{}), saved: saved, fails: fails}
	go w.work()
	return w
}

// work books until the queue is closed. After a failure nothing more is booked:
// the jobs behind it are refused, for they follow from it.
func (w *writer) work() {
	defer close(w.done)
	var broken error
	for j := range w.queue {
		err := broken
		if err == nil {
			err = w.book(j)
		}
		if err != nil {
			broken = err
			w.fails(j.entry.Seq, err)
			continue
		}
		w.count++
		w.saved(j.entry.Seq)
	}
}

// book books one event. A panic below becomes an error: the terminal is not this
// goroutine's to lose.
func (w *writer) book(j job) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("booking event %d failed inside the program: %v\n%s", j.entry.Seq, r, debug.Stack())
		}
	}()
	e, err := w.l.append(j.id, j.entry, j.after)
	if err == nil && e.Seq != j.entry.Seq {
		err = fmt.Errorf("event %d was booked as %d: close and open the book again", j.entry.Seq, e.Seq)
	}
	return err
}

// stop waits until everything queued is booked or refused.
func (w *writer) stop() int {
	close(w.queue)
	<-w.done
	return w.count
}
