package align

import (
	"slices"

	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// An Alignment holds rough values of the unknowns that a few gross slips do not
// draw away: what most of the readings say.
type Alignment struct {
	Rounds []int              // numbers of the rounds, in order
	Orient []reduce.Direction // of each round
	Dir    []reduce.Direction // of each target, relative to the first used half
	Seen   []bool

	scratch []reduce.Direction
}

// tolerance is how far two readings may lie apart and still say the same.
const tolerance = 2 * reduce.Arcminute

// Align finds rough orientations and directions by majority.
func Align(s Station) Alignment {
	a := Alignment{Dir: make([]reduce.Direction, len(s.Names)), Seen: make([]bool, len(s.Names)), scratch: make([]reduce.Direction, 0, len(s.Readings))}
	for _, r := range s.Readings {
		if !slices.Contains(a.Rounds, r.Round) {
			a.Rounds = append(a.Rounds, r.Round)
		}
	}
	a.Orient = make([]reduce.Direction, len(a.Rounds))
	halves := a.halves(s.Readings)
	by := a.byTarget(halves)
	at := make([]reduce.Direction, len(halves))
	votes := make([]int, len(halves))
	for pass := 0; pass < 3; pass++ {
		for h, half := range halves {
			at[h], votes[h] = a.orientation(half, h == firstFull(halves))
			if pass == 0 {
				a.learn(half, at[h])
			}
		}
		a.directions(by, at)
	}
	for i := range a.Orient {
		a.Orient[i] = at[2*i]
		if votes[2*i+1] > votes[2*i] {
			a.Orient[i] = at[2*i+1]
		}
	}
	return a
}

// halves sorts the readings by round and face, face left first.
func (a *Alignment) halves(rs []Reading) [][]Reading {
	place := func(r Reading) int {
		h := 2 * a.Round(r.Round)
		if r.Face == faces.FR {
			h++
		}
		return h
	}
	return Sorted(rs, 2*len(a.Rounds), place, func(k int) Reading { return rs[k] })
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

// Round returns the place of a round, −1 where it has no reading.
func (a *Alignment) Round(number int) int { return slices.Index(a.Rounds, number) }

// orientation returns the orientation of a half that most of its readings of
// known targets agree on. Without any it is that of its first reading.
func (a *Alignment) orientation(half []Reading, reference bool) (reduce.Direction, int) {
	ds := a.scratch[:0]
	for _, r := range half {
		if a.Seen[r.Target] {
			ds = append(ds, reduce.DirectionAt(onLeft(r).Sub(a.Dir[r.Target])))
		}
	}
	if len(ds) == 0 {
		if len(half) > 0 && !reference {
			return onLeft(half[0]), 0
		}
		return reduce.Direction{}, 0
	}
	return majority(ds)
}

// learn takes over the directions of targets not yet known.
func (a *Alignment) learn(half []Reading, orient reduce.Direction) {
	for _, r := range half {
		if !a.Seen[r.Target] {
			a.Seen[r.Target] = true
			a.Dir[r.Target] = reduce.DirectionAt(onLeft(r).Sub(orient))
		}
	}
}

// directions takes the direction of every target that most halves agree on; by
// lists what each half says of each target.
func (a *Alignment) directions(by [][]shown, at []reduce.Direction) {
	for t, list := range by {
		ds := a.scratch[:0]
		for _, x := range list {
			ds = append(ds, reduce.DirectionAt(x.left.Sub(at[x.half])))
		}
		if len(ds) > 0 {
			a.Dir[t], _ = majority(ds)
		}
	}
}

// shown is a reading of a target, turned to face left.
type shown struct {
	half int
	left reduce.Direction
}

// byTarget sorts the readings of the halves by target.
func (a *Alignment) byTarget(halves [][]Reading) [][]shown {
	count, n := make([]int, len(a.Dir)), 0
	for _, half := range halves {
		for i := range half {
			count[half[i].Target]++
		}
		n += len(half)
	}
	all, by := make([]shown, n), make([][]shown, len(a.Dir))
	for t, n := range count {
		by[t], all = all[:0:n], all[n:]
	}
	for h, half := range halves {
		for _, r := range half {
			by[r.Target] = append(by[r.Target], shown{h, onLeft(r)})
		}
	}
	return by
}

// majority returns the value that the most others lie near, the first of equals,
// and how many lie near it, itself included.
func majority(ds []reduce.Direction) (reduce.Direction, int) {
	best, votes := ds[0], 0
	for _, d := range ds {
		n := 0
		for _, e := range ds {
			if d.Sub(e).Abs() <= tolerance {
				n++
			}
		}
		if n > votes {
			best, votes = d, n
		}
		if 2*votes > len(ds) {
			break
		}
	}
	return best, votes
}

// onLeft returns the reading turned to face left.
func onLeft(r Reading) reduce.Direction {
	if r.Face == faces.FR {
		return r.Value.Opposite()
	}
	return r.Value
}

// Expected returns the rough reading of a target in a round on a face.
func (a *Alignment) Expected(round, target int, face faces.Face) reduce.Direction {
	e := a.Orient[a.Round(round)].Add(a.Dir[target].Angle())
	if face == faces.FR {
		return e.Opposite()
	}
	return e
}
