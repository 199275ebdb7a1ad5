package booking

import (
	"slices"

	"example.org/readback/reduce"
)

// A Comparison holds the rounds that are used against each other.
type Comparison struct {
	Rounds   []RoundWork // used rounds, in order
	Targets  []TargetSpread
	Complete []int // numbers of the used rounds that are complete
	// WithoutRO holds the used rounds that lack the RO against the others.
	WithoutRO []AngleSpread
	Agrees    bool   // every direction, and every angle of WithoutRO, agrees over the used rounds
	Scale     Scale  // how closely the directions are sighted
	Limits    Limits // what the readings are held against
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
func (s Setup) Compare() Comparison { return s.comparison(s.usedRounds()) }

func (s Setup) comparison(used []RoundWork) Comparison {
	scale := s.scaleOf(used)
	c := s.compare(used, s.limitsOf(used, scale))
	c.Scale = scale
	return c
}

func (s Setup) compare(used []RoundWork, limits Limits) Comparison {
	c := Comparison{Agrees: true, Rounds: used, Limits: limits, Limit: limits.Rounds.Value}
	for _, w := range c.Rounds {
		if w.Complete {
			c.Complete = append(c.Complete, w.Number)
		}
	}
	for _, t := range s.Spec.Targets {
		ts := spreadOf(t, c.Rounds, c.Limit)
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

func spreadOf(target string, rounds []RoundWork, limit reduce.Angle) TargetSpread {
	ts := TargetSpread{Target: target}
	var lo, hi reduce.Angle
	for _, w := range rounds {
		d, ok := w.Direction(target)
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
	var complete []RoundWork
	for _, w := range c.Rounds {
		if w.Complete && len(complete) < maxGroupRounds {
			complete = append(complete, w)
		}
	}
	var best [][]int
	size := LeastRounds
	for set := 1; set < 1<<len(complete); set++ {
		var group []RoundWork
		for i, w := range complete {
			if set&(1<<i) != 0 {
				group = append(group, w)
			}
		}
		if len(group) < size || !agree(group, targets, c.Limit) {
			continue
		}
		if len(group) > size {
			best, size = nil, len(group)
		}
		best = append(best, numbers(group))
	}
	slices.SortFunc(best, slices.Compare)
	return best
}

func agree(group []RoundWork, targets []string, limit reduce.Angle) bool {
	for _, t := range targets {
		if !spreadOf(t, group, limit).Agrees {
			return false
		}
	}
	return true
}

func numbers(ws []RoundWork) []int {
	var ns []int
	for _, w := range ws {
		ns = append(ns, w.Number)
	}
	return ns
}
