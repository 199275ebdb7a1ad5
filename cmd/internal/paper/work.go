package paper

import (
	"bytes"
	"io"
	"runtime"
	"sync/atomic"

	"example.org/readback/booking/exchange"
)

// chunk is how many setups a worker takes at once.
const chunk = 16

// A batch is what one worker made of its setups.
type batch struct {
	out bytes.Buffer
	err error
}

// Work has every setup worked on by all processors and writes what each makes of
// it to w, in the order of their numbers. The first error in that order ends it.
func (p *Papers) Work(w io.Writer, work func(w *bytes.Buffer, i int, q exchange.Paper) error) error {
	batches := make(chan chan *batch, 2*runtime.GOMAXPROCS(0))
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	written := make(chan *batch, 3*runtime.GOMAXPROCS(0)) // room of batches that are written, taken again
	var stop atomic.Bool
	defer stop.Store(true)
	go func() {
		defer close(batches)
		for from := 0; from < p.Len() && !stop.Load(); from += chunk {
			done := make(chan *batch, 1)
			free <- struct{}{}
			go func() {
				b := &batch{}
				select {
				case b = <-written:
				default:
				}
				done <- p.batch(b, from, work)
				<-free
			}()
			batches <- done
		}
	}()
	var failed error
	worked := 0
	for done := range batches {
		b := <-done
		if worked = min(worked+chunk, p.Len()); p.Watch != nil {
			p.Watch(worked)
		}
		if failed != nil {
			continue // the others end by themselves
		}
		_, err := b.out.WriteTo(w)
		if b.err != nil {
			err = b.err
		}
		if err != nil {
			failed = err
			stop.Store(true)
			continue
		}
		select {
		case written <- b:
		default:
		}
	}
	return failed
}

// batch works on one chunk of setups; b is empty.
func (p *Papers) batch(b *batch, from int, work func(w *bytes.Buffer, i int, q exchange.Paper) error) *batch {
	for i := from; i < min(from+chunk, p.Len()) && b.err == nil; i++ {
		q, err := p.Paper(i)
		if err == nil {
			err = work(&b.out, i, q)
		}
		b.err = err
	}
	return b
}
