package paper

import (
	"bytes"
	"io"
	"runtime"
	"sync/atomic"

	"example.org/readback/booking/exchange"
	"example.org/readback/booking/exchange/reductions"
)

// chunk is how many setups a worker takes at once.
const chunk = 16

// A Desk is where one worker works on its setups: what it writes of them, and room
// that is taken again for each, as a file has them by the thousand.
type Desk struct {
	Out     bytes.Buffer
	Printer reductions.Printer

	papers *exchange.Reader
	err    error
}

// Work has every setup worked on by all processors and writes what each makes of
// it to w, in the order of their numbers. The first error in that order ends it.
func (p *Papers) Work(w io.Writer, work func(d *Desk, i int, q exchange.Paper) error) error {
	jobs := make(chan job)
	batches := make(chan chan *Desk, 2*runtime.GOMAXPROCS(0))
	written := make(chan *Desk, 3*runtime.GOMAXPROCS(0)) // desks whose work is written, free again
	var stop atomic.Bool
	defer stop.Store(true)
	for range runtime.GOMAXPROCS(0) { // they last to the end: a new one for each chunk would grow its stack anew
		go func() {
			for j := range jobs {
				j.done <- p.batch(p.desk(written), j.from, work)
			}
		}()
	}
	go func() {
		defer close(batches)
		defer close(jobs)
		for from := 0; from < p.Len() && !stop.Load(); from += chunk {
			j := job{from, make(chan *Desk, 1)}
			jobs <- j
			batches <- j.done
		}
	}()
	var failed error
	worked := 0
	for done := range batches {
		d := <-done
		if worked = min(worked+chunk, p.Len()); p.Watch != nil {
			p.Watch(worked)
		}
		if failed != nil {
			continue // the others end by themselves
		}
		_, err := d.Out.WriteTo(w)
		if d.err != nil {
			err = d.err
		}
		if err != nil {
			failed = err
			stop.Store(true)
			continue
		}
		select {
		case written <- d:
		default:
		}
	}
	return failed
}

// A job is one chunk of setups, and where the desk goes once they are worked on.
type job struct {
	from int
	done chan *Desk
}

// desk returns one that is free, or a new one.
func (p *Papers) desk(free <-chan *Desk) *Desk {
	select {
	case d := <-free:
		return d
	default:
		return &Desk{papers: p.file.Reader()}
	}
}

// batch works on one chunk of setups at a desk that is free.
func (p *Papers) batch(d *Desk, from int, work func(d *Desk, i int, q exchange.Paper) error) *Desk {
	for i := from; i < min(from+chunk, p.Len()) && d.err == nil; i++ {
		q, err := p.from(d.papers, i)
		if err == nil {
			err = work(d, i, q)
		}
		d.err = err
	}
	return d
}
