package places

import (
	"math"

	"example.org/readback/reduce/traverse"
)

// A starter finds places to start from. What a newly placed point or a newly turned
// set may help to place is noted as pending, and nothing else is looked at again: the
// work grows with what was observed, not with its square.
type starter struct {
	n        *Network
	placed   []bool
	oriented []bool
	orient   []float64
	at       []int              // of each set its station, −1: none
	inSets   [][]int            // of each set its directions
	setsAt   [][]int            // of each point the sets observed there
	sighted  [][]int            // of each point what ends there: its directions, then bearings and angles
	seenFrom [][]int            // of each point the sets that sight it
	seen     []int              // of each set how many of its targets are placed
	rays     []int              // of each point how many rays may end there: of turned sets, of bearings and angles
	circles  []int              // of each point how many placed ones have a distance to it
	leaving  [][]int            // of each point the bearings from it, and the angles at it or counted from it
	near     [][]int            // of each point those with a distance to it
	length   map[[2]int]float64 // both ways
	bearings map[[2]int][]int   // of two points, the lesser first

	turn, carry, stands pending // sets
	cross, arc          pending // points
	angle               pending // observations

	aside      []bool // sets that are not to be turned; nil: none
	placedNow  []int  // since the last reset
	turnedNow  []int
	frames     []*frame
	framesOf   map[int][]int // of each point the frames that have it
	frame      pending
	haveFrames bool
}

// Start fills in the places the adjustment starts from, from what was observed:
// known points stay; directions and distances are carried from station to station,
// rays are intersected, instruments placed by three marks, and what stands on its
// own is laid onto the known points by two common ones. Without two known points
// or a bearing the first station gets the bearing 0. It tells which points got a
// place.
func Start(n *Network) []bool {
	s := newStarter(n)
	known := len(s.placedNow)
	for s.grow() || s.lay() {
	}
	if known < 2 && len(s.turnedNow) == 0 {
		s.begin()
		for s.grow() || s.lay() {
		}
	}
	return s.placed
}

// newStarter places what has known coordinates.
func newStarter(n *Network) *starter {
	points, sets := len(n.Points), n.sets()
	s := &starter{
		n: n, placed: make([]bool, points), oriented: make([]bool, sets), orient: make([]float64, sets),
		at: make([]int, sets), inSets: make([][]int, sets), setsAt: make([][]int, points), sighted: make([][]int, points), seenFrom: make([][]int, points), seen: make([]int, sets),
		rays: make([]int, points), circles: make([]int, points),
		leaving: make([][]int, points), near: make([][]int, points), length: map[[2]int]float64{}, bearings: map[[2]int][]int{},
		framesOf: map[int][]int{},
	}
	for _, p := range []*pending{&s.turn, &s.carry, &s.stands} {
		p.in = make([]bool, sets)
	}
	s.cross.in, s.arc.in, s.angle.in = make([]bool, points), make([]bool, points), make([]bool, len(n.Observations))
	for k := range s.at {
		s.at[k] = -1
	}
	coordinate := make([]int, points)
	for i, o := range n.Observations {
		s.index(i, o, coordinate)
	}
	for k, m := range s.inSets {
		if len(m) > 0 {
			s.setsAt[s.at[k]] = append(s.setsAt[s.at[k]], k)
		}
		for _, i := range m {
			to := n.Observations[i].To
			s.sighted[to], s.seenFrom[to] = append(s.sighted[to], i), append(s.seenFrom[to], k)
		}
	}
	for i, o := range n.Observations {
		if o.Kind == Bearing || o.Kind == Angle {
			s.sighted[o.To] = append(s.sighted[o.To], i)
		}
	}
	for p := range n.Points {
		if n.Points[p].Fixed || coordinate[p] == 3 {
			s.put(p, n.Points[p].At)
		}
	}
	return s
}

// index notes where an observation begins and ends.
func (s *starter) index(i int, o Observation, coordinate []int) {
	switch o.Kind {
	case Direction:
		s.at[o.Set] = o.From
		s.inSets[o.Set] = append(s.inSets[o.Set], i)
	case Distance:
		if s.length[[2]int{o.From, o.To}] == 0 {
			s.near[o.From], s.near[o.To] = append(s.near[o.From], o.To), append(s.near[o.To], o.From)
		}
		s.length[[2]int{o.From, o.To}], s.length[[2]int{o.To, o.From}] = o.Value, o.Value
	case Bearing:
		s.leaving[o.From] = append(s.leaving[o.From], i)
		k := [2]int{min(o.From, o.To), max(o.From, o.To)}
		s.bearings[k] = append(s.bearings[k], i)
	case Angle:
		for _, p := range []int{o.From, o.Back, o.To} {
			s.leaving[p] = append(s.leaving[p], i)
		}
	case East:
		s.n.Points[o.From].At.E = o.Value
		coordinate[o.From] |= 1
	case North:
		s.n.Points[o.From].At.N = o.Value
		coordinate[o.From] |= 2
	}
}

// begin places the station of the largest set, at 0, 0 where nothing is known, and
// gives it the bearing 0.
func (s *starter) begin() {
	best, most := -1, -1
	for k, m := range s.inSets {
		if len(m) > 0 {
			if w := s.worth(k); w > most {
				best, most = k, w
			}
		}
	}
	if best < 0 {
		s.chord()
		return
	}
	s.put(s.at[best], s.point(s.at[best]))
	s.setTurn(best, 0)
}

// worth prefers a set at a known station, then one with many distances.
func (s *starter) worth(k int) int {
	w := 0
	if s.placed[s.at[k]] {
		w += 1000
	}
	for _, i := range s.inSets[k] {
		o := s.n.Observations[i]
		if s.length[[2]int{o.From, o.To}] > 0 {
			w++
		}
	}
	return w
}

// chord places two points of a network of distances only.
func (s *starter) chord() {
	for _, o := range s.n.Observations {
		if o.Kind == Distance && !s.placed[o.From] && !s.placed[o.To] {
			s.put(o.From, s.point(o.From))
			s.put(o.To, traverse.Point{N: o.Value})
			return
		}
	}
}

func (s *starter) point(p int) traverse.Point { return s.n.Points[p].At }

func (s *starter) bearing(from, to int) float64 {
	d := s.point(to).Sub(s.point(from))
	return math.Atan2(d.E, d.N)
}

// put places a point, and notes what may follow from it.
func (s *starter) put(p int, at traverse.Point) {
	s.n.Points[p].At = at
	if s.placed[p] {
		return
	}
	s.placed[p] = true
	s.placedNow = append(s.placedNow, p)
	for _, k := range s.setsAt[p] {
		s.turn.add(k)
	}
	for _, k := range s.seenFrom[p] {
		s.seen[k]++
		switch {
		case s.placed[s.at[k]]:
			s.turn.add(k)
		case s.seen[k] > 1:
			s.stands.add(k)
		}
	}
	for _, i := range s.leaving[p] {
		o := s.n.Observations[i]
		s.addRay(o.To)
		if o.Kind == Angle {
			s.angle.add(i)
		}
	}
	for _, q := range s.near[p] {
		if s.circles[q]++; s.circles[q] > 2 && !s.placed[q] {
			s.arc.add(q)
		}
	}
	for _, f := range s.framesOf[p] {
		s.frame.add(f)
	}
}

// setTurn turns a set, and notes what may follow from it.
func (s *starter) setTurn(k int, orientation float64) {
	s.orient[k], s.oriented[k] = orientation, true
	s.turnedNow = append(s.turnedNow, k)
	s.carry.add(k)
	for _, i := range s.inSets[k] {
		s.addRay(s.n.Observations[i].To)
	}
}

// addRay counts a ray that ends at a point; two may meet there.
func (s *starter) addRay(p int) {
	if s.rays[p]++; s.rays[p] > 1 && !s.placed[p] {
		s.cross.add(p)
	}
}
