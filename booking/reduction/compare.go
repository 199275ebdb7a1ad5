package reduction

import (
	"math/bits"
	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

// A Comparison holds the rounds that are used against each other.
type Comparison struct {
	Rounds   []RoundWork // used rounds, in order
	Targets  []TargetSpread
	Complete []int // numbers of the used rounds that are complete
	// WithoutRO holds the used rounds that lack the RO against the others.
	WithoutRO []AngleSpread
	Agrees    bool        // every direction, and every angle of WithoutRO, agrees over the used rounds
	Scale     Scale       // how closely the directions are sighted
	Limits    spec.Limits // what the readings are held against
	Limit     reduce.Angle
	// Agreeing lists the largest groups of complete rounds, void and left-out
	// ones not counted, that agree with each other; each has two rounds or more.
	Agreeing [][]int
}

// A TargetSpread is one target's direction over the rounds.
type TargetSpread struct {
	Target     string
	Directions []RoundDirection // of the used rounds that have one
	Spread     reduce.Angle     // largest − smallest
	Agrees     bool             // Spread is within the limit
}

// A RoundDirection is a reduced direction of one round.
type RoundDirection struct {
	Round     int
	Direction reduce.Direction
}

// Compare compares the rounds that are used. A direction seen in one round only
// has no spread and agrees by itself; the verdict counts the rounds.
func Compare(s booking.Setup) Comparison { return comparison(s, usedRounds(s)) }

// Enough tells whether the rounds that are used agree and as many of them as are
// needed are complete. What practice allows needs no further work.
func Enough(s booking.Setup) bool {
	used := usedRounds(s)
	c := compare(s, used, practice(s))
	if !c.Agrees {
		c = comparison(s, used)
	}
	return c.Agrees && len(c.Complete) >= spec.LeastRounds
}

func comparison(s booking.Setup, used []RoundWork) Comparison {
	scale := scaleOf(s, used)
	c := compare(s, used, limitsOf(s, used, scale))
	c.Scale = scale
	return c
}

func compare(s booking.Setup, used []RoundWork, limits spec.Limits) Comparison {
	c := Comparison{Agrees: true, Targets: make([]TargetSpread, 0, len(s.Spec.Targets)), Rounds: used, Limits: limits, Limit: limits.Rounds.Value}
	for _, w := range c.Rounds {
		if w.Complete {
			c.Complete = append(c.Complete, w.Number)
		}
	}
	for i, t := range s.Spec.Targets {
		ts := spreadOf(t, i+1, c.Rounds, c.Limit) // the RO is before them
		c.Agrees = c.Agrees && ts.Agrees
		c.Targets = append(c.Targets, ts)
	}
	c.WithoutRO = withoutRO(c.Rounds, c.Limit)
	for _, a := range c.WithoutRO {
		c.Agrees = c.Agrees && a.Agrees
	}
	c.Agreeing = c.groups(s.Spec.Targets)
	return c
}

func spreadOf(target string, place int, rounds []RoundWork, limit reduce.Angle) TargetSpread {
	ts := TargetSpread{Target: target, Directions: make([]RoundDirection, 0, len(rounds))}
	var lo, hi reduce.Angle
	for i := range rounds {
		w := &rounds[i]
		d, ok := w.direction(target, place)
		if !ok {
			continue
		}
		ts.Directions = append(ts.Directions, RoundDirection{Round: w.Number, Direction: d})
		off := d.Sub(ts.Directions[0].Direction)
		lo, hi = min(lo, off), max(hi, off)
	}
	ts.Spread = hi - lo
	ts.Agrees = ts.Spread <= limit
	return ts
}

// maxGroupRounds bounds the search for agreeing groups, which doubles a round.
const maxGroupRounds = 10

// groups finds the largest groups of complete rounds that agree.
func (c Comparison) groups(targets []string) [][]int {
	var complete []int // their numbers
	dirs := make([][]reduce.Direction, len(targets))
	for k := range c.Rounds {
		w := &c.Rounds[k]
		if !w.Complete || len(complete) == maxGroupRounds {
			continue
		}
		complete = append(complete, w.Number)
		for i, t := range targets {
			d, _ := w.direction(t, i+1)
			dirs[i] = append(dirs[i], d)
		}
	}
	all := uint(1)<<len(complete) - 1
	if len(complete) >= spec.LeastRounds && agree(all, dirs, c.Limit) {
		return [][]int{complete}
	}
	var best [][]int
	size := spec.LeastRounds
	for set := uint(1); set < all; set++ {
		n := bits.OnesCount(set)
		if n < size || !agree(set, dirs, c.Limit) {
			continue
		}
		if n > size {
			best, size = nil, n
		}
		best = append(best, chosen(set, complete))
	}
	slices.SortFunc(best, slices.Compare)
	return best
}

// agree tells whether the rounds of a set agree on every target.
func agree(set uint, dirs [][]reduce.Direction, limit reduce.Angle) bool {
	first := bits.TrailingZeros(set)
	for _, of := range dirs {
		var lo, hi reduce.Angle
		for i, d := range of {
			if set&(1<<i) != 0 {
				off := d.Sub(of[first])
				lo, hi = min(lo, off), max(hi, off)
			}
		}
		if hi-lo > limit {
			return false
		}
	}
	return true
}

// chosen keeps the numbers of a set.
func chosen(set uint, numbers []int) []int {
	var ns []int
	for i, n := range numbers {
		if set&(1<<i) != 0 {
			ns = append(ns, n)
		}
	}
	return ns
}
