package reduction

import (
	"errors"
	"math"
	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/adjust"
	"example.org/readback/reduce/faces"
)

// A Reduction is all that follows from the standing readings of a setup. Screens,
// sheets and files print the same Reduction.
type Reduction struct {
	Rounds     []RoundWork // every round begun, void and left-out ones too
	Comparison Comparison
	Directions []DirectionResult // of every target that a used round ties to the RO
	Untied     []string          // targets booked in used rounds that no round ties to the RO
	S0         float64           // seconds: standard deviation of one direction, both faces, one round
	Dof        int               // 0: S0 has no meaning
	Low        float64           // what S0 is of the standard deviation of one direction, on average: under 1 where the RO of the rounds is a mean of two sights
	Least      float64           // least redundancy number of a pair: the one a slip hides in best
	TwoC       *Span             // of every pair of the used rounds
	Index      *Span             // of every vertical pair
	Verticals  []VerticalWork
	Heights    HeightOfInstrument
}

// A DirectionResult is the adjusted direction of a target and what its standard
// deviation is.
type DirectionResult struct {
	Target    string
	Direction reduce.Direction // from the RO, clockwise, [0, full circle)
	SD        float64          // seconds: of the angle RO → target; 0 when Dof is 0
	Spread    reduce.Angle     // over the used rounds that reduce it to the RO
	Rounds    int              // used rounds it was seen in
	Compared  int              // those of them that reduce it to the RO: under 2 there is no Spread
	Agrees    bool
}

// A Span is the smallest and the largest of a series, and how many there were.
type Span struct {
	Min, Max reduce.Angle
	N        int
}

// Width returns the largest less the smallest.
func (s Span) Width() reduce.Angle { return s.Max - s.Min }

// With returns the span that holds the value too; a nil span is empty.
func (s *Span) With(a reduce.Angle) *Span {
	if s == nil {
		return &Span{Min: a, Max: a, N: 1}
	}
	return &Span{Min: min(s.Min, a), Max: max(s.Max, a), N: s.N + 1}
}

// Of works the setup.
func Of(s booking.Setup) Reduction {
	r := Reduction{Rounds: workRounds(s), Heights: heightsOf(s)}
	r.Comparison = comparison(s, used(r.Rounds))
	r.TwoC = twoCSpan(r.Comparison.Rounds)
	r.adjust(s.Spec)
	r.Verticals = workVerticals(s)
	for _, v := range r.Verticals {
		for _, p := range v.Pairs {
			r.Index = r.Index.With(p.Index)
		}
	}
	return r
}

// twoCSpan spans the 2c of every pair of the rounds.
func twoCSpan(rounds []RoundWork) *Span {
	var span *Span
	for _, w := range rounds {
		for _, p := range w.Pairs {
			if p.HasPair {
				span = span.With(p.TwoC)
			}
		}
	}
	return span
}

// adjust makes the station adjustment of the used rounds.
func (r *Reduction) adjust(agreed spec.Spec) {
	index := map[string]int{}
	for i, n := range agreed.Names() {
		index[n] = i
	}
	sights, seen := sightsOf(r.Comparison.Rounds, index)
	st, at := adjustTied(sights, len(index))
	if st != nil {
		r.Dof, r.S0, r.Least = st.Dof, st.S0, st.LeastRedundancy()
		r.Low = s0Low(r.Comparison.Rounds, agreed)
	}
	for i, t := range agreed.Targets {
		switch {
		case seen[i+1] == 0:
		case st == nil || at[i+1] < 0:
			r.Untied = append(r.Untied, t)
		default:
			r.Directions = append(r.Directions, r.direction(t, st, at[i+1], seen[i+1]))
		}
	}
}

// s0Low returns what s₀ is of the standard deviation of one direction, on average.
// By the published rule the RO of a closed round counts as one pointing [F16], and
// it is a mean of two sights: then √(1 − 1/(2t)), t with the RO, where all rounds
// are closed.
func s0Low(rounds []RoundWork, agreed spec.Spec) float64 {
	return math.Sqrt(1 - closedShare(rounds, agreed)/(2*float64(len(agreed.Targets)+1)))
}

// closedShare returns the share of the rounds whose RO is a mean of two sights.
func closedShare(rounds []RoundWork, agreed spec.Spec) float64 {
	closed := 0
	for _, w := range rounds {
		for _, p := range w.Pairs {
			if p.Closing && p.Target == agreed.RO && p.HasPair && agreed.ClosingRule != faces.ClosingSpread {
				closed++
			}
		}
	}
	return float64(closed) / float64(max(len(rounds), 1))
}

func (r *Reduction) direction(target string, st *adjust.Station, k, seen int) DirectionResult {
	d := DirectionResult{Target: target, Direction: st.Directions[k], Rounds: seen, Agrees: true}
	if st.Dof > 0 {
		d.SD = st.SD(0, k)
	}
	for _, ts := range r.Comparison.Targets {
		if ts.Target == target {
			d.Spread, d.Agrees, d.Compared = ts.Spread, ts.Agrees, len(ts.Directions)
		}
	}
	return d
}

// sightsOf lists one sight per complete pair; the RO of a closed round counts as
// one pointing. seen counts the rounds of each target.
func sightsOf(rounds []RoundWork, index map[string]int) (sights []adjust.Sight, seen []int) {
	seen = make([]int, len(index))
	sights = make([]adjust.Sight, 0, len(rounds)*len(index))
	for i, w := range rounds {
		if w.HasRO {
			sights = append(sights, adjust.Sight{Round: i, Target: 0, Mean: w.RO})
			seen[0]++
		}
		for _, p := range w.Pairs {
			k := index[p.Target]
			if k == 0 || p.Closing || !p.HasPair {
				continue
			}
			mean := p.Mean
			if p.HasDirection {
				mean = w.RO.Add(p.Direction.Angle())
			}
			sights = append(sights, adjust.Sight{Round: i, Target: k, Mean: mean})
			seen[k]++
		}
	}
	return sights, seen
}

// adjustTied adjusts the station without the targets that no round ties to the
// RO. at gives each target's number in the result, −1 where it is not tied.
func adjustTied(sights []adjust.Sight, targets int) (st *adjust.Station, at []int) {
	tied := make([]bool, targets)
	for i := range tied {
		tied[i] = true
	}
	for {
		kept, rounds, count, at := renumber(sights, tied)
		if len(kept) == 0 || !tied[0] {
			return nil, at
		}
		st, err := adjust.Sights(kept, rounds, count)
		if err == nil {
			return st, at
		}
		var loose *adjust.DisconnectedError
		if !errors.As(err, &loose) || len(loose.Targets) == 0 {
			return nil, at
		}
		for k, n := range at {
			tied[k] = tied[k] && !slices.Contains(loose.Targets, n)
		}
	}
}

// renumber keeps the sights of the tied targets and numbers rounds and targets
// densely. at gives each target's new number, −1 where it is not kept.
func renumber(sights []adjust.Sight, tied []bool) (kept []adjust.Sight, rounds, targets int, at []int) {
	at = make([]int, len(tied))
	last := 0
	for k, ok := range tied {
		at[k] = -1
		if ok {
			at[k] = targets
			targets++
		}
	}
	kept = make([]adjust.Sight, 0, len(sights))
	for _, x := range sights { // those of a round stand together
		if !tied[x.Target] {
			continue
		}
		if len(kept) == 0 || x.Round != last {
			last = x.Round
			rounds++
		}
		kept = append(kept, adjust.Sight{Round: rounds - 1, Target: at[x.Target], Mean: x.Mean})
	}
	return kept, rounds, targets, at
}
