package completion

import "example.org/readback/reduce"

// A Band is the stretch of the circle a reading is expected in: Centre ± Half,
// both ends included. It may lie across 0°. A Half of half a turn or more is
// the whole circle.
type Band struct {
	Centre, Half reduce.Angle
}

// An interval is a closed stretch of readings, 0 ≤ Lo ≤ Hi < 360°.
type interval struct {
	Lo, Hi reduce.Angle
}

// A Set is what an entry can still become: at most six intervals of complete
// readings, all at multiples of the least count. The zero Set is empty.
type Set struct {
	step reduce.Angle
	n    int
	in   [6]interval
}

// Intervals returns the number of intervals.
func (s *Set) Intervals() int { return s.n }

// Only returns the one reading that the entry can still become, where it is one.
func (s *Set) Only() (a reduce.Angle, ok bool) {
	return s.in[0].Lo, s.n == 1 && s.in[0].Lo == s.in[0].Hi
}

// Meets tells whether the entry can still become a reading inside the band.
func (s *Set) Meets(b Band) bool {
	if b.Half >= reduce.HalfTurn {
		return s.n > 0
	}
	c := b.Centre.Normalize()
	for i := 0; i < s.n; i++ {
		for _, turn := range [3]reduce.Angle{-reduce.Turn, 0, reduce.Turn} {
			lo := max(s.in[i].Lo, c-b.Half+turn)
			hi := min(s.in[i].Hi, c+b.Half+turn)
			if lo <= hi && ceil(lo, s.step) <= hi {
				return true
			}
		}
	}
	return false
}

// MeetsAny tells whether the entry can still fall into one of the bands. With
// no bands nothing is expected and everything is allowed.
func (s *Set) MeetsAny(bs []Band) bool {
	for i := range bs {
		if s.Meets(bs[i]) {
			return true
		}
	}
	return len(bs) == 0
}

// add puts the readings from lo up to but not including end into the set.
func (s *Set) add(lo, end reduce.Angle) {
	end = min(end, reduce.Turn)
	lo = ceil(lo, s.step)
	hi := (end - 1) / s.step * s.step
	if end <= 0 || lo > hi || s.n == len(s.in) {
		return
	}
	s.in[s.n] = interval{lo, hi}
	s.n++
}

// ceil returns the least multiple of step that is not under a; a is not negative.
func ceil(a, step reduce.Angle) reduce.Angle {
	if a <= 0 {
		return 0
	}
	return (a + step - 1) / step * step
}
