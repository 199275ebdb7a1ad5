package culprit

import (
	"slices"

	"example.org/readback/reduce"
)

// alignment holds rough values of the unknowns that a few gross slips do not
// draw away: what most of the readings say.
type alignment struct {
	rounds []int          // numbers of the rounds, in order
	orient []reduce.Angle // of each round
	dir    []reduce.Angle // of each target, relative to the first used half
	seen   []bool
}

// tolerance is how far two readings may lie apart and still say the same.
const tolerance = 2 * reduce.Arcminute

// align finds rough orientations and directions by majority.
func align(s Station) alignment {
	a := alignment{dir: make([]reduce.Angle, len(s.Names)), seen: make([]bool, len(s.Names))}
	for _, r := range s.Readings {
		if !slices.Contains(a.rounds, r.Round) {
			a.rounds = append(a.rounds, r.Round)
		}
	}
	a.orient = make([]reduce.Angle, len(a.rounds))
	halves := make([][]Reading, 2*len(a.rounds))
	for _, r := range s.Readings {
		h := 2 * a.round(r.Round)
		if r.Right {
			h++
		}
		halves[h] = append(halves[h], r)
	}
	at := make([]reduce.Angle, len(halves))
	votes := make([]int, len(halves))
	for pass := 0; pass < 3; pass++ {
		for h, half := range halves {
			at[h], votes[h] = a.orientation(half, h == firstFull(halves))
			if pass == 0 {
				a.learn(half, at[h])
			}
		}
		a.directions(halves, at)
	}
	for i := range a.orient {
		a.orient[i] = at[2*i]
		if votes[2*i+1] > votes[2*i] {
			a.orient[i] = at[2*i+1]
		}
	}
	return a
}

// firstFull returns the half with the most readings, the first of them.
func firstFull(halves [][]Reading) int {
	best := 0
	for h := range halves {
		if len(halves[h]) > len(halves[best]) {
			best = h
		}
	}
	return best
}

func (a *alignment) round(number int) int { return slices.Index(a.rounds, number) }

// orientation returns the orientation of a half that most of its readings of
// known targets agree on. Without any it is that of its first reading.
func (a *alignment) orientation(half []Reading, reference bool) (reduce.Angle, int) {
	var ds []reduce.Angle
	for _, r := range half {
		if a.seen[r.Target] {
			ds = append(ds, (onLeft(r) - a.dir[r.Target]).Normalize())
		}
	}
	if len(ds) == 0 {
		if len(half) > 0 && !reference {
			return onLeft(half[0]), 0
		}
		return 0, 0
	}
	return majority(ds)
}

// learn takes over the directions of targets not yet known.
func (a *alignment) learn(half []Reading, orient reduce.Angle) {
	for _, r := range half {
		if !a.seen[r.Target] {
			a.seen[r.Target] = true
			a.dir[r.Target] = (onLeft(r) - orient).Normalize()
		}
	}
}

// directions takes the direction of every target that most halves agree on.
func (a *alignment) directions(halves [][]Reading, at []reduce.Angle) {
	for t := range a.dir {
		var ds []reduce.Angle
		for h, half := range halves {
			for _, r := range half {
				if r.Target == t {
					ds = append(ds, (onLeft(r) - at[h]).Normalize())
				}
			}
		}
		if len(ds) > 0 {
			a.dir[t], _ = majority(ds)
		}
	}
}

// majority returns the value that the most others lie near, the first of equals,
// and how many lie near it, itself included.
func majority(ds []reduce.Angle) (reduce.Angle, int) {
	best, votes := ds[0], 0
	for _, d := range ds {
		n := 0
		for _, e := range ds {
			if (d - e).Wrap().Abs() <= tolerance {
				n++
			}
		}
		if n > votes {
			best, votes = d, n
		}
	}
	return best, votes
}

// onLeft returns the reading turned to face left.
func onLeft(r Reading) reduce.Angle {
	if r.Right {
		return (r.Value - reduce.HalfTurn).Normalize()
	}
	return r.Value
}

// expected returns the rough reading of a target in a round on a face.
func (a *alignment) expected(round, target int, right bool) reduce.Angle {
	e := a.orient[a.round(round)] + a.dir[target]
	if right {
		e += reduce.HalfTurn
	}
	return e.Normalize()
}
