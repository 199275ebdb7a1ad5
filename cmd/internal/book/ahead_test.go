package book

import (
	"errors"
	"iter"
	"slices"
	"testing"
)

// The walk gives what it would give by itself, in its order, ends where it is left and
// leaves nothing running behind; an error and a panic come out of it.
func TestAhead(t *testing.T) {
	broken := errors.New("broken")
	over := false
	upTo := func(n int, last error) iter.Seq2[int, error] {
		return func(yield func(int, error) bool) {
			defer func() { over = true }()
			for i := range n {
				if !yield(i, nil) {
					return
				}
			}
			if last != nil {
				yield(n, last)
			}
		}
	}
	walk := func(seq iter.Seq2[int, error], leave int) (got []int, failed error) {
		over = false
		for i, err := range ahead(seq) {
			if failed = err; err != nil || i == leave {
				break
			}
			got = append(got, i)
		}
		if !over {
			t.Error("the walk runs on behind")
		}
		return got, failed
	}
	for _, n := range []int{0, 1, mostAhead, 100} {
		var want []int
		for i := range n {
			want = append(want, i)
		}
		if got, err := walk(upTo(n, nil), -1); !slices.Equal(got, want) || err != nil {
			t.Errorf("%d: %v %v", n, got, err)
		}
		if got, err := walk(upTo(n, broken), -1); !slices.Equal(got, want) || !errors.Is(err, broken) {
			t.Errorf("%d and an error: %v %v", n, got, err)
		}
	}
	if got, err := walk(upTo(100, nil), 7); len(got) != 7 || err != nil {
		t.Errorf("left at 7: %v %v", got, err)
	}
	defer func() {
		if recover() == nil {
			t.Error("a panic of the walk was lost")
		}
	}()
	walk(func(func(int, error) bool) { panic("torn") }, -1)
}
