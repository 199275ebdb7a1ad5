package places

import (
	"errors"
	"testing"
)

// Work that is out of date ends within one step of any of its long loops, and untouched
// it asks all along.
func TestStop_EndsTheWork(t *testing.T) {
	net := lattice(64)
	net.Observations[40].Value += 0.01
	asked := 0
	net.Stop = func() bool { asked++; return false }
	a, err := Adjust(net, DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	steps := asked
	whole := a.Search()
	if steps < 2 || asked-steps < whole.Alternatives || len(whole.Best) == 0 {
		t.Fatalf("asked %d times in the steps and %d in the search among %d", steps, asked-steps, whole.Alternatives)
	}
	net.Stop = func() bool { asked--; return asked <= 0 }
	for _, at := range []int{1, steps} {
		asked = at
		if _, err := Adjust(net, DefaultLimits()); !errors.Is(err, errStopped) {
			t.Errorf("stopped at %d of %d: %v", at, steps, err)
		}
	}
	asked = 10
	if s := a.Search(); len(s.Best) > 0 || asked != 0 {
		t.Errorf("the search went on: %d, %d explanations", asked, len(s.Best))
	}
}
