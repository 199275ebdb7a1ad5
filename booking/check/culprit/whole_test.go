package culprit_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/readback/booking/check/culprit"
	"example.org/readback/booking/check/slip"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// The readings of a pair are booked under each other's face (common practice
// knows it, no source): one suspect for the pair, and no sound reading beside it.
// Seeded; two rounds or three, with a collimation that may be too small to show.
func TestFind_UnderEachOthersFace(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 12))
	for range 60 {
		s := scene(rng, 4+rng.IntN(5), 2+rng.IntN(2), 2, 5*reduce.Arcsecond, rng.IntN(2) == 0)
		l, r := pairAt(rng, s)
		s.Readings[l].Value, s.Readings[r].Value = s.Readings[r].Value, s.Readings[l].Value
		onlyPair(t, s, l, slip.FaceNotChanged)
	}
}

// Another target is sighted on both faces of a pair. Beside it something sound is
// named at a risk of 3 in 1,000: once in 60 is chance, twice is not.
func TestFind_WrongTargetOnBothFaces(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 13))
	beside := 0
	for range 60 {
		s := scene(rng, 4+rng.IntN(5), 2+rng.IntN(2), 2, 5*reduce.Arcsecond, rng.IntN(2) == 0)
		l, r := pairAt(rng, s)
		other := (s.Readings[l].Target + 1) % len(s.Names)
		for _, k := range []int{l, r} {
			for _, q := range s.Readings {
				if q.Round == s.Readings[k].Round && q.Face == s.Readings[k].Face && q.Target == other {
					s.Readings[k].Value = q.Value.Add(5 * reduce.Arcsecond * reduce.Angle(rng.IntN(3)-1))
				}
			}
		}
		if f := culprit.Find(s, false); len(f.Suspects) == 2 && f.Suspects[0].Kind == slip.WrongTarget {
			beside++
			continue
		}
		onlyPair(t, s, l, slip.WrongTarget)
	}
	if beside > 1 {
		t.Errorf("beside the wrong pair something was named in %d of 60", beside)
	}
}

// Beside a wrong pair another slip is found as well.
func TestFind_WrongPairAndSlip(t *testing.T) {
	s := scene(rand.New(rand.NewPCG(14, 14)), 6, 2, 2, reduce.Arcsecond, false)
	s.Readings[2].Value, s.Readings[9].Value = s.Readings[9].Value, s.Readings[2].Value
	s.Readings[16].Value = s.Readings[16].Value.Add(reduce.Degree)
	f := culprit.Find(s, true)
	if len(f.Suspects) != 2 || f.Suspects[0].Target != "T2" || f.Suspects[0].Face != faces.NoFace || !names(f.Suspects[1], s, 16) {
		t.Errorf("%+v", f.Suspects)
	}
}

// With as many rounds on either side, no collimation and targets that do not come
// clockwise, nothing tells which of two opposite pairs is wrong.
func TestFind_OppositePairsLeftOpen(t *testing.T) {
	var rows [][6]int64
	for round := int64(1); round <= 2; round++ {
		for face := int64(1); face <= 2; face++ {
			for target, d := range []int64{0, 150, 40, 100} {
				if round == 2 && target == 2 {
					d += 180
				}
				rows = append(rows, [6]int64{round, int64(target), face, (d + 90*(round-1) + 180*(face-1)) % 360, 12, 5 * (d % 3)})
			}
		}
	}
	f := culprit.Find(table([]string{"RO", "A", "B", "C"}, 5*reduce.Arcsecond, rows), true)
	if len(f.Suspects) != 1 || f.Suspects[0].Target != "B" || f.Suspects[0].Round != 0 || f.Suspects[0].Kind != slip.FaceNotChanged {
		t.Fatalf("%+v", f.Suspects)
	}
	if !strings.Contains(f.Suspects[0].Text, "it cannot be told in which round") {
		t.Error(f.Suspects[0].Text)
	}
}

// Both faces of a pair are three degrees off alike, where no target is: one
// pointing was wrong, not two readings. (That the faces agree may be missed by chance.)
func TestFind_OtherPointOnBothFaces(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 15))
	for range 40 {
		s := scene(rng, 4+rng.IntN(4), 3, 2, 5*reduce.Arcsecond, false)
		l, r := pairAt(rng, s)
		for _, k := range []int{l, r} {
			s.Readings[k].Value = s.Readings[k].Value.Add(3 * reduce.Degree)
		}
		onlyPair(t, s, l, slip.Unknown)
	}
}

// pairAt picks a pair that is sighted once in its round.
func pairAt(rng *rand.Rand, s culprit.Station) (l, r int) {
	round, target := 1+rng.IntN(s.Readings[len(s.Readings)-1].Round), 1+rng.IntN(len(s.Names)-1)
	for k, q := range s.Readings {
		switch {
		case q.Round != round || q.Target != target:
		case q.Face == faces.FR:
			r = k
		default:
			l = k
		}
	}
	return l, r
}

// onlyPair checks that the pair is the one suspect, with the kind where one is given.
func onlyPair(t *testing.T, s culprit.Station, l int, kind slip.Kind) {
	t.Helper()
	f, r := culprit.Find(s, true), s.Readings[l]
	if len(f.Suspects) != 1 {
		t.Errorf("%d targets, round %d, target %d: %+v", len(s.Names), r.Round, r.Target, f.Suspects)
		return
	}
	if q := f.Suspects[0]; q.Round != r.Round || q.Target != s.Names[r.Target] || q.Face != faces.NoFace || kind != slip.Unknown && q.Kind != kind {
		t.Errorf("%d targets, round %d, target %d: %+v", len(s.Names), r.Round, r.Target, q)
	}
}
