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
	batches := make(chan chan *Desk, 2*runtime.GOMAXPROCS(0))
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	written := make(chan *Desk, 3*runtime.GOMAXPROCS(0)) // desks whose work is written, free again
	var stop atomic.Bool
	defer stop.Store(true)
	go func() {
		defer close(batches)
		for from := 0; from < p.Len() && !stop.Load(); from += chunk {
			done := make(chan *Desk, 1)
			free <- struct{}{}
			go func() {
				var d *Desk
				select {
				case d = <-written:
				default:
					d = &Desk{papers: p.file.Reader()}
				}
				done <- p.batch(d, from, work)
				<-free
			}()
			batches <- done
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
