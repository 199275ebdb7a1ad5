package reduction

import (
	"example.org/readback/reduce"
)

// An AngleSpread holds a round without its reference object against another one.
// Such a round has no reduced directions, and it still moves the means: its
// angles from target to target must agree with those of the other rounds.
type AngleSpread struct {
	Round, Other int          // Round lacks the RO
	From, To     string       // the two targets whose angle differs most
	Spread       reduce.Angle // by so much, without a sign
	Agrees       bool         // Spread is within the limit
}

// withoutRO holds every round that lacks the RO against the round that it
// differs from most. A round with nothing in common with another is left out.
func withoutRO(rounds []RoundWork, limit reduce.Angle) []AngleSpread {
	var out []AngleSpread
	for i, w := range rounds {
		if w.HasRO {
			continue
		}
		var worst AngleSpread
		for j, other := range rounds {
			if i == j || !other.HasRO && j > i {
				continue // two rounds without the RO are held against each other once
			}
			if a, ok := anglesBetween(w, other); ok && (worst.Round == 0 || a.Spread > worst.Spread) {
				worst = a
			}
		}
		if worst.Round > 0 {
			worst.Agrees = worst.Spread <= limit
			out = append(out, worst)
		}
	}
	return out
}

// anglesBetween finds the two targets, seen in both rounds, whose angle differs
// most. ok is false where the rounds have less than two targets in common.
func anglesBetween(w, other RoundWork) (a AngleSpread, ok bool) {
	a = AngleSpread{Round: w.Number, Other: other.Number}
	var first, lo, hi reduce.Angle
	common := 0
	for _, p := range w.Pairs {
		mean, seen := other.meanOf(p.Target)
		if !p.HasPair || p.Closing || !seen {
			continue
		}
		off := p.Mean.Sub(mean)
		if common++; common == 1 {
			first, a.From, a.To = off, p.Target, p.Target
		}
		switch off = (off - first).Wrap(); {
		case off < lo:
			lo, a.From = off, p.Target
		case off > hi:
			hi, a.To = off, p.Target
		}
	}
	a.Spread = hi - lo
	return a, common > 1
}

// meanOf returns the mean of a target in this round, with what the closing rule
// takes off it.
func (w RoundWork) meanOf(target string) (reduce.Direction, bool) {
	for _, p := range w.Pairs {
		switch {
		case p.Target != target || p.Closing || !p.HasPair:
		case p.HasDirection:
			return w.RO.Add(p.Direction.Angle()), true
		default:
			return p.Mean, true
		}
	}
	return reduce.Direction{}, false
}
