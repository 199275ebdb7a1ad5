package culprit

import (
	"fmt"
	"math"
	"slices"

	"example.org/readback/booking/check/align"
	"example.org/readback/booking/check/slip"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// turned is how far FL and FR of a pair may lie apart, 2c included, and still be
// one direction.
const turned = 10 * reduce.Arcminute

// A pair is a sight on both faces.
type pair struct {
	round, target int
	closing       bool
	dir           reduce.Direction // mean of both faces, on the rough orientation of its round
	twoC          reduce.Angle
}

// A fault is a pair that is wrong as a whole.
type fault struct {
	pair
	kind slip.Kind
	open bool // this pair or another of the target: which cannot be told
}

// whole finds the pairs that are grossly off on both faces alike: another target
// was sighted, or the readings are booked under each other's face. It returns
// them and the station without them. A pair is held against the other pairs of
// its target; where they are as many on either side, against the other targets.
// Of two targets nothing tells which lies wrong.
func whole(s Station, a align.Alignment) ([]Suspect, Station) {
	if len(s.Names) < 3 {
		return nil, s
	}
	pairs := pairsOf(s, a)
	var list []Suspect
	rest := s
	for t := range s.Names {
		for _, p := range odd(s, a, t, pairs) {
			x := Suspect{Round: p.round, Target: s.Name(t), Closing: p.closing, Kind: p.kind, Weight: 1}
			if p.open {
				x.Round, x.Closing = 0, false
			}
			x.Text = wholeSentence(x)
			if !contains(list, x) {
				list = append(list, x)
			}
			rest.Readings = slices.DeleteFunc(slices.Clone(rest.Readings), p.holds)
		}
	}
	return list, rest
}

func (p pair) holds(r Reading) bool {
	return r.Round == p.round && r.Target == p.target && r.Closing == p.closing
}

// agrees tells whether two pairs of one target may be one direction.
func (p pair) agrees(q pair) bool { return q.dir.Sub(p.dir).Abs() <= turned }

// pairsOf lists the pairs whose faces agree in the rough.
func pairsOf(s Station, a align.Alignment) []pair {
	list := make([]pair, 0, len(s.Readings)/2)
	for i, j := range facePairs(s.Readings) {
		l, r := s.Readings[i], s.Readings[j]
		if twoC := faces.TwoC(l.Value, r.Value); twoC.Abs() <= turned {
			dir := faces.PairMean(l.Value, r.Value).Sub(a.Orient[a.Round(l.Round)])
			list = append(list, pair{l.Round, l.Target, l.Closing, reduce.DirectionAt(dir), twoC})
		}
	}
	return list
}

// odd returns the pairs of one target that are wrong as a whole.
func odd(s Station, a align.Alignment, target int, all []pair) []fault {
	first := slices.IndexFunc(all, func(p pair) bool { return p.target == target })
	if first < 0 || !slices.ContainsFunc(all[first:], func(p pair) bool { return p.target == target && !p.agrees(all[first]) }) {
		return nil // one group: nearly always
	}
	var of []pair
	for _, p := range all[first:] {
		if p.target == target {
			of = append(of, p)
		}
	}
	groups := align.Grouped(of, pair.agrees)
	switch {
	case len(groups) < 2:
		return nil
	case len(groups[0]) > len(groups[1]):
		return strays(groups[0][0], groups[1:], a)
	case len(groups) == 2:
		return evenly(s, a, groups[0], groups[1], all)
	}
	return nil
}

// strays returns the pairs that lie opposite the one that most agree with, or
// where another target does.
func strays(sound pair, groups [][]pair, a align.Alignment) []fault {
	var list []fault
	for _, g := range groups {
		switch {
		case together(g[0].dir, sound.dir.Opposite()):
			list = append(list, faulty(g, slip.FaceNotChanged, false)...)
		case elsewhere(g[0], a):
			list = append(list, faulty(g, slip.WrongTarget, false)...)
		}
	}
	return list
}

// evenly decides between two groups of as many pairs.
func evenly(s Station, a align.Alignment, one, other []pair, all []pair) []fault {
	if together(one[0].dir, other[0].dir.Opposite()) {
		d, e := disorder(one[0], a), disorder(other[0], a)
		switch {
		case exchanged(s, one[0], other[0], all):
			return faulty(one, slip.FaceNotChanged, false)
		case exchanged(s, other[0], one[0], all):
			return faulty(other, slip.FaceNotChanged, false)
		case e == 1 && d > 1:
			return faulty(one, slip.FaceNotChanged, false)
		case d == 1 && e > 1:
			return faulty(other, slip.FaceNotChanged, false)
		case len(one) == 1:
			return faulty(append(one, other...), slip.FaceNotChanged, true)
		}
		return nil
	}
	switch o, e := elsewhere(one[0], a), elsewhere(other[0], a); {
	case o && !e:
		return faulty(one, slip.WrongTarget, false)
	case e && !o:
		return faulty(other, slip.WrongTarget, false)
	}
	return nil
}

func faulty(pairs []pair, kind slip.Kind, open bool) []fault {
	var list []fault
	for _, p := range pairs {
		list = append(list, fault{p, kind, open})
	}
	return list
}

func together(a, b reduce.Direction) bool { return a.Sub(b).Abs() <= roughly }

// elsewhere tells whether a pair lies where another target does.
func elsewhere(p pair, a align.Alignment) bool {
	for t, d := range a.Dir {
		if t != p.target && a.Seen[t] && together(p.dir, d) {
			return true
		}
	}
	return false
}

// exchanged tells whether 2c shows that pair p is booked under each other's face
// and pair q is not: then 2c of p has the other sign than that of the other
// targets. It tells nothing where that is hardly larger than its noise.
func exchanged(s Station, p, q pair, all []pair) bool {
	var sum reduce.Angle
	n := 0
	for _, x := range all {
		if x.target != p.target {
			sum, n = sum+x.twoC, n+1
		}
	}
	if n == 0 {
		return false
	}
	m := sum.Div(int64(n))
	if m.Abs().Seconds() < 6*s.Noise() {
		return false
	}
	return (p.twoC+m).Abs() < m.Abs()/2 && (q.twoC-m).Abs() < m.Abs()/2
}

// disorder counts how often the targets, in the order named and with pair p where
// it lies, turn back anticlockwise; 1 for the full circle.
func disorder(p pair, a align.Alignment) int {
	var dirs []reduce.Direction
	for t, d := range a.Dir {
		switch {
		case t == p.target:
			dirs = append(dirs, p.dir)
		case a.Seen[t]:
			dirs = append(dirs, d)
		}
	}
	n := 0
	for i, d := range dirs {
		if dirs[(i+1)%len(dirs)].Angle() < d.Angle() {
			n++
		}
	}
	return n
}

// wholeSentence says what is suspected of a pair.
func wholeSentence(x Suspect) string {
	if x.Kind == slip.FaceNotChanged {
		text := fmt.Sprintf("Both readings of %s look booked under each other's face", place(x))
		if x.Round == 0 {
			text += ": it cannot be told in which round"
		}
		return text + "."
	}
	return fmt.Sprintf("Both faces of %s look like another target: what was sighted?", place(x))
}

// bothFaces returns the two items of h that are the readings of one pair, grossly
// off by the same: one pointing was wrong and not two readings.
func (f *field) bothFaces(h *hypothesis) []int {
	off := func(i int) float64 { return h.delta[i] * f.sigma }
	for i, a := range h.items {
		for j, b := range h.items[:i] {
			p, q := f.list[a], f.list[b]
			x, y := f.s.Readings[p.at], f.s.Readings[q.at]
			if p.form != oneReading || q.form != oneReading || x.Round != y.Round || x.Target != y.Target || x.Closing != y.Closing || x.Face == y.Face {
				continue
			}
			if math.Abs(off(i)) > turned.Seconds() && math.Abs(off(i)-off(j)) < 5*f.sigma {
				return []int{j, i}
			}
		}
	}
	return nil
}
