package places

import (
	"flag"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/readback/reduce/traverse"
	"example.org/readback/testdata"
)

// layout is a ring, a link or a net with a known truth, observed without error.
func layout(rng *rand.Rand, kind int, sigma float64) (*Network, []traverse.Point) {
	var truth []traverse.Point
	n := &Network{}
	k := 5 + rng.IntN(5)
	for i := range k {
		switch kind {
		case 0: // ring
			b := 2 * math.Pi * (float64(i) + 0.3*rng.Float64()) / float64(k)
			truth = append(truth, traverse.Point{E: 300 * math.Sin(b) * (0.8 + 0.4*rng.Float64()), N: 300 * math.Cos(b)})
		case 1: // link
			truth = append(truth, traverse.Point{E: 180 * float64(i), N: 60 * rng.NormFloat64()})
		default:
			truth = append(truth, traverse.Point{E: 180*float64(i%3) + 20*rng.NormFloat64(), N: 180*float64(i/3) + 20*rng.NormFloat64()})
		}
	}
	for i, p := range truth {
		n.Points = append(n.Points, Point{Name: string(rune('A' + i)), At: p})
	}
	see := func(a, b int) bool {
		switch kind {
		case 0:
			d := (a - b + k) % k
			return d == 1 || d == k-1
		case 1:
			return a-b == 1 || b-a == 1
		}
		return traverse.Distance(truth[a], truth[b]) < 290
	}
	if kind == 1 { // marks at both ends
		truth = append(truth, traverse.Point{E: -400, N: 100}, traverse.Point{E: 180*float64(k-1) + 350, N: -150})
		n.Points = append(n.Points, Point{Name: "M", At: truth[k]}, Point{Name: "N", At: truth[k+1]})
	}
	for from := range k {
		turn := 2 * math.Pi * rng.Float64()
		for to := range truth {
			mark := kind == 1 && (to == k && from == 0 || to == k+1 && from == k-1)
			if to == from || !mark && (to >= k || !see(from, to)) {
				continue
			}
			d := truth[to].Sub(truth[from])
			n.Observations = append(n.Observations, Observation{Kind: Direction, From: from, To: to, Set: from, Value: math.Atan2(d.E, d.N) - turn, SD: sigma * second})
			if !mark {
				n.Observations = append(n.Observations, Observation{Kind: Distance, From: from, To: to, Value: d.Length(), SD: 0.003 + 2e-6*d.Length()})
			}
		}
	}
	known := []int{0, 1}
	if kind == 1 {
		known = []int{0, k - 1, k, k + 1}
	} else if rng.IntN(2) == 0 {
		known = []int{0, 1, k / 2}
	}
	for _, p := range known {
		n.Observations = append(n.Observations, Observation{Kind: East, From: p, Value: truth[p].E, SD: 0.005}, Observation{Kind: North, From: p, Value: truth[p].N, SD: 0.005})
	}
	return n, truth
}

func disturb(rng *rand.Rand, n *Network) {
	for i := range n.Observations {
		n.Observations[i].Value += n.Observations[i].SD * rng.NormFloat64()
	}
}

// The simulations can be made larger, and on other seeds, than they are in an ordinary
// run or with -long:
//
//	go test ./reduce/places -run 'Search|Ellipses' -nets 1000 -seed 2027 -v
var (
	nets     = flag.Int("nets", 0, "simulated networks of each kind; 0: few, more with -long")
	ownSeeds = flag.Uint64("seed", seed, "seed of the simulated networks")
)

func netsOf(few, long int) int {
	if *nets > 0 {
		return *nets
	}
	return testdata.Times(few, long)
}

// tally counts what a search told of a slip that is known.
type tally struct{ tried, told, alone, wrongAlone, listed int }

// slipOne makes one thing wrong by four to ten times the smallest slip that would
// show and asks for it.
func slipOne(rng *rand.Rand, kind, what int, sigma float64, c *tally) {
	n, _ := layout(rng, kind, sigma)
	clean, err := Adjust(n, DefaultLimits())
	if err != nil {
		return
	}
	var may []int
	for i, o := range n.Observations {
		if clean.Residuals[i].Redundancy > 0.02 && (what == 0 && o.Kind == Direction || what == 1 && o.Kind == Distance || what == 2 && o.Kind == East || what == 3 && o.Kind == Direction) {
			may = append(may, i)
		}
	}
	if len(may) == 0 {
		return
	}
	k := may[rng.IntN(len(may))]
	disturb(rng, n)
	size := (4 + 6*rng.Float64()) * clean.Residuals[k].Detectable
	if rng.IntN(2) == 0 {
		size = -size
	}
	if what == 3 {
		if !rename(rng, n, k) {
			return
		}
	} else {
		n.Observations[k].Value += size
	}
	c.tried++
	var s Search
	if a, err := Adjust(n, DefaultLimits()); err == nil {
		s = a.Search()
	} else {
		s = SearchUnsettled(n, DefaultLimits())
	}
	named := slices.ContainsFunc(s.Best, func(e Explanation) bool {
		return slices.Contains(e.Observations, k) && (what != 3 || e.Fault == OneSight || len(e.Observations) == 1) || what == 2 && e.Fault == OnePoint && e.Point == n.Observations[k].From
	})
	c.listed += len(s.Best)
	if named && len(s.Best) == 1 {
		c.alone++
	}
	if named {
		c.told++
	} else if len(s.Best) == 1 {
		c.wrongAlone++
	}
}

// rename books the sight k, its direction and its distance, as what another target
// shows: a wrong name.
func rename(rng *rand.Rand, n *Network, k int) bool {
	o := n.Observations[k]
	other := rng.IntN(len(n.Points))
	was, is := n.Points[o.To].At.Sub(n.Points[o.From].At), n.Points[other].At.Sub(n.Points[o.From].At)
	if other == o.From || other == o.To {
		return false
	}
	for i, x := range n.Observations {
		switch {
		case x.From == o.From && x.To == o.To && x.Kind == Direction:
			n.Observations[i].Value += math.Atan2(is.E, is.N) - math.Atan2(was.E, was.N)
		case x.From == o.From && x.To == o.To && x.Kind == Distance:
			n.Observations[i].Value += is.Length() - was.Length()
		}
	}
	return true
}

// One slip of at least four times the smallest that would show, in a direction, a
// distance or a known coordinate of rings, links and nets, is named or among the
// alternatives told in at least 95 of 100, and another thing is named alone in at
// most one. Simulated; the seeds are not those the limits were chosen on.
func TestSearch_NamesTheSlip(t *testing.T) {
	nets := netsOf(8, 400)
	for kind, word := range []string{"ring", "link", "net"} {
		for what, name := range []string{"direction", "distance", "known point", "name"} {
			rng := rand.New(rand.NewPCG(*ownSeeds, uint64(100+10*kind+what)))
			var c tally
			for range nets {
				slipOne(rng, kind, what, []float64{1, 2, 5, 8}[rng.IntN(4)], &c)
			}
			t.Logf("%s, %s: %d tried, %d told, %d of them alone, %.1f listed on the average, %d wrong alone", word, name, c.tried, c.told, c.alone, float64(c.listed)/float64(max(c.tried, 1)), c.wrongAlone)
			if float64(c.told) < 0.95*float64(c.tried) || float64(c.wrongAlone) > 0.01*float64(c.tried)+1 {
				t.Errorf("seed %d, %s, %s: of %d, %d told, %d named wrong alone", *ownSeeds, word, name, c.tried, c.told, c.wrongAlone)
			}
		}
	}
}

// The ellipses of 95 % hold the truth in 95 ± 1.5 % of the places, at every standard
// deviation of a direction, on rings, links and nets with known points.
func TestEllipses_HoldTheTruth(t *testing.T) {
	nets, slack := netsOf(60, 667), 0.035
	if nets >= 667 {
		slack = 0.015
	}
	for _, sigma := range []float64{1, 2, 5, 8} {
		in, all, passed, runs := 0, 0, 0, 0
		for kind := range 3 {
			rng := rand.New(rand.NewPCG(*ownSeeds, uint64(1000+10*kind)+uint64(sigma)))
			for range nets {
				n, truth := layout(rng, kind, sigma)
				disturb(rng, n)
				a, err := Adjust(n, DefaultLimits())
				if err != nil {
					t.Fatal(err)
				}
				runs++
				if a.Global.Passed {
					passed++
				}
				for p, x := range a.Places {
					c := x.Covariance
					det := c.EE*c.NN - c.EN*c.EN
					d := x.At.Sub(truth[p])
					if q := (d.E*d.E*c.NN - 2*d.E*d.N*c.EN + d.N*d.N*c.EE) / det; q <= traverse.Ellipse95*traverse.Ellipse95 {
						in++
					}
					all++
				}
			}
		}
		held := float64(in) / float64(all)
		t.Logf("σ %g″: %d of %d places inside, %.4f; s₀² passes in %d of %d", sigma, in, all, held, passed, runs)
		if math.Abs(held-0.95) > slack {
			t.Errorf("seed %d, σ %g″: the ellipses hold %.4f of the places", *ownSeeds, sigma, held)
		}
		if got := float64(passed) / float64(runs); math.Abs(got-0.95) > 0.06 {
			t.Errorf("seed %d, σ %g″: s₀² passes in %.3f of sound networks", *ownSeeds, sigma, got)
		}
	}
}
