package align_test

import (
	"testing"

	"example.org/readback/booking/check/align"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// station reads four targets in two rounds without any error.
func station() align.Station {
	s := align.Station{Names: []string{"RO", "A", "B", "C"}, Unit: reduce.DMS, LeastCount: reduce.Arcsecond}
	for round := 1; round <= 2; round++ {
		for f := range 2 {
			for t := range 4 {
				v := reduce.Angle(round*89+t*71)*reduce.Degree + reduce.Angle(f)*reduce.HalfTurn
				s.Readings = append(s.Readings, align.Reading{Round: round, Target: t, Face: faces.FL + faces.Face(f), Value: reduce.DirectionAt(v)})
			}
		}
	}
	return s
}

// Whatever one reading says, the others keep their rough values.
func TestAlign_OneSlipDoesNotMatter(t *testing.T) {
	sound := station()
	for k := range sound.Readings {
		for _, off := range []reduce.Angle{reduce.Arcminute * 5, reduce.Degree, reduce.QuarterTurn, reduce.HalfTurn} {
			s := station()
			s.Readings[k].Value = s.Readings[k].Value.Add(off)
			a := align.Align(s)
			for _, r := range sound.Readings {
				if got := a.Expected(r.Round, r.Target, r.Face); got.Sub(r.Value).Abs() > reduce.Arcminute {
					t.Fatalf("reading %d off by %v: %v expected for %+v", k, off, got, r)
				}
			}
		}
	}
}

func TestStation_StepAndNoise(t *testing.T) {
	s := station()
	s.LeastCount = 5 * reduce.Arcsecond
	if s.Step() != 5*reduce.Arcsecond {
		t.Error("whole degrees are no coarser step than the least count allows")
	}
	s.Readings[0].Value = s.Readings[0].Value.Add(3 * reduce.Arcsecond)
	s.Readings[1].Value = s.Readings[1].Value.Add(10 * reduce.Arcsecond)
	if s.Step() != reduce.Arcsecond {
		t.Errorf("step %v", s.Step())
	}
	if n := s.Noise(); n < 2 || n > 2.1 {
		t.Errorf("noise %v″ at a least count of 5″ and readings to 1″", n)
	}
}
