package culprit

import (
	"iter"
	"math"

	"example.org/readback/reduce/faces"
)

// form is what kind of fault an item supposes.
type form uint8

const (
	oneReading form = iota // a single reading
	onePair                // a pointing on both faces
	roRound                // all sights of the RO in a round
	movedFrom              // everything in the round from one reading on
	drifting               // every reading further off than the one before it in its round
)

// An item is one supposed fault: the readings it puts off by one common error, or
// by so many times it.
type item struct {
	form form
	at   int       // the first reading concerned
	of   []int     // all readings concerned
	by   []float64 // how many times the common error each is off; nil: once
}

// A hypothesis is up to three items.
type hypothesis struct {
	items []int // places in the list of items
	delta [3]float64
	sd    [3]float64 // both in units of sigma
	ss    float64    // what remains of the misfit
	score float64    // logarithm of its weight
}

// Assumed rates, conditional on a station that is looked into.
const (
	faults   = 0.3  // expected number of wrong readings in a station
	pairRate = 0.03 // of a pair or a round's RO, against a single reading
	moveRate = 0.03 // of a circle or tripod that moved

	// Degrees of freedom the standard deviation is worth, stated or not.
	nuStated, nuTaken = 8, 3
)

// items lists the faults a station can have.
func (f *field) items() []item {
	list := make([]item, 0, 3*f.n)
	each := make([]int, f.n)
	for k := range f.s.Readings {
		each[k] = k
		list = append(list, item{form: oneReading, at: k, of: each[k : k+1 : k+1]})
	}
	pairs := make([]int, 0, f.n)
	for k, l := range facePairs(f.s.Readings) {
		pairs = append(pairs, k, l)
		list = append(list, item{form: onePair, at: k, of: pairs[len(pairs)-2 : len(pairs) : len(pairs)]})
	}
	f.inRound = gathered(f.s.Readings, len(f.a.Rounds), func(r Reading) int { return f.a.Round(r.Round) })
	for _, all := range f.inRound {
		list = f.roundItems(list, all)
	}
	if f.n >= leastDrift {
		list = append(list, f.drift())
	}
	return list
}

// facePairs goes through the pairs of readings of one sight, face left and face
// right, in the order of the former. It looks at all for each: that is quicker than
// any table for as many as a setup has.
func facePairs(rs []Reading) iter.Seq2[int, int] {
	return func(yield func(left, right int) bool) {
		for k := range rs {
			r := &rs[k]
			if r.Face == faces.FR {
				continue
			}
			for l := range rs {
				q := &rs[l]
				if q.Face == faces.FR && q.Target == r.Target && q.Round == r.Round && q.Closing == r.Closing && !yield(k, l) {
					return
				}
			}
		}
	}
}

// leastDrift is how many readings are needed to tell a drift from other faults.
const leastDrift = 8

// drift is that of all rounds: the circle is set, or the tripod looked at, between
// them.
func (f *field) drift() item {
	a := item{form: drifting, of: make([]int, f.n), by: make([]float64, f.n)}
	place := make([]int, len(f.a.Rounds))
	for k, r := range f.s.Readings {
		i := f.a.Round(r.Round)
		a.of[k], a.by[k] = k, float64(place[i])
		place[i]++
	}
	return a
}

// weight returns how many times the common error the reading at place i of an item
// is off.
func (a item) weight(i int) float64 {
	if a.by == nil {
		return 1
	}
	return a.by[i]
}

// roundItems adds the faults of a whole round: its RO where it is closed, and
// everything from one pointing on. The two cuts at each end are single readings.
func (f *field) roundItems(list []item, all []int) []item {
	var ro []int
	closed := false
	for _, k := range all {
		if r := f.s.Readings[k]; r.Target == 0 {
			ro = append(ro, k)
			closed = closed || r.Closing
		}
	}
	if closed && len(ro) > 2 {
		list = append(list, item{form: roRound, at: ro[0], of: ro})
	}
	for i := 2; i+1 < len(all); i++ {
		list = append(list, item{form: movedFrom, at: all[i], of: all[i:]})
	}
	return list
}

// invert inverts a positive definite matrix of order n ≤ 3 by elimination.
func invert(m [3][3]float64, n int) (inv [3][3]float64, det float64, ok bool) {
	det = 1
	for i := 0; i < n; i++ {
		inv[i][i] = 1
	}
	for c := 0; c < n; c++ {
		pivot := m[c][c]
		if pivot < leastRedundancy {
			return inv, 0, false
		}
		det *= pivot
		for j := 0; j < n; j++ {
			m[c][j] /= pivot
			inv[c][j] /= pivot
		}
		for r := 0; r < n; r++ {
			if r == c {
				continue
			}
			k := m[r][c]
			for j := 0; j < n; j++ {
				m[r][j] -= k * m[c][j]
				inv[r][j] -= k * inv[c][j]
			}
		}
	}
	return inv, det, true
}

// fit returns the logarithm of the weight of what is left of the misfit.
func (f *field) fit(ss float64) float64 {
	return -(f.nu0 + float64(f.dof)) / 2 * math.Log(f.nu0+ss)
}

// prior returns the logarithm of how common an item of a form is.
func (f *field) prior(x form) float64 {
	rate := faults / float64(f.n)
	switch x {
	case onePair, roRound:
		rate *= pairRate * 2
	case movedFrom, drifting:
		rate *= moveRate
	}
	return math.Log(rate)
}
