package book

import "iter"

// mostAhead is how many setups are folded before they are asked for: memory stays that
// of a few setups.
const mostAhead = 4

// ahead walks what seq walks, the next ones made by another goroutine while the one
// before is worked on, so that reading and writing share two processors. The order is
// that of seq; when the walk ends, by whichever side, nothing of it runs on. A panic of
// seq comes out of the walk.
func ahead[T any](seq iter.Seq2[T, error]) iter.Seq2[T, error] {
	type made struct {
		value    T
		err      error
		panicked any
	}
	return func(yield func(T, error) bool) {
		next, stop := make(chan made, mostAhead), make(chan struct{})
		go func() {
			defer close(next)
			defer func() {
				if p := recover(); p != nil {
					next <- made{panicked: p}
				}
			}()
			for v, err := range seq {
				select {
				case next <- made{value: v, err: err}:
				case <-stop:
					return
				}
			}
		}()
		defer func() {
			close(stop)
			for range next { // until the other one has ended: the book may be closed after
			}
		}()
		for m := range next {
			if m.panicked != nil {
				panic(m.panicked)
			}
			if !yield(m.value, m.err) || m.err != nil {
				return
			}
		}
	}
}
