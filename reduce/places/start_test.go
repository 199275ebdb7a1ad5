package places

import (
	"math/rand/v2"
	"testing"

	"example.org/readback/reduce/traverse"
)

// From no places at all, 200 rings, links and nets start near enough to settle on
// the same places as from the truth.
func TestStart_SettlesOnTheSamePlaces(t *testing.T) {
	rng := rand.New(rand.NewPCG(seed, 50))
	for c := range 200 {
		n, truth := layout(rng, c%3, 5)
		disturb(rng, n)
		want, err := Adjust(n, DefaultLimits())
		if err != nil {
			t.Fatal(err)
		}
		for i := range n.Points {
			n.Points[i].At = traverse.Point{}
		}
		for p, ok := range Start(n) {
			if !ok || traverse.Distance(n.Points[p].At, truth[p]) > 1 {
				t.Fatalf("seed %d, case %d: point %d starts at %v, placed %v, it is at %v", seed, c, p, n.Points[p].At, ok, truth[p])
			}
		}
		got, err := Adjust(n, DefaultLimits())
		if err != nil {
			t.Fatal(err)
		}
		for p, x := range got.Places {
			if traverse.Distance(x.At, want.Places[p].At) > 1e-6 {
				t.Fatalf("seed %d, case %d: point %d at %v, from the truth %v", seed, c, p, x.At, want.Places[p].At)
			}
		}
	}
}
