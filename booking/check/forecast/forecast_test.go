package forecast_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/readback/booking/check/align"
	"example.org/readback/booking/check/forecast"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// truth is a seeded station whose readings can be asked for one by one.
type truth struct {
	rng      *rand.Rand
	start    []float64
	dir, e   []float64
	c, sigma float64
}

func newTruth(rng *rand.Rand, targets, rounds int, sigma float64) truth {
	w := truth{rng: rng, c: rng.NormFloat64() * 20, sigma: sigma}
	for i := range rounds {
		w.start = append(w.start, float64(i)*90+rng.Float64())
	}
	for j := range targets {
		w.dir = append(w.dir, 350*float64(j)/float64(targets))
		w.e = append(w.e, rng.NormFloat64()*1)
	}
	return w
}

func (w truth) read(round, target int, face faces.Face) align.Reading {
	e := w.c + w.e[target]
	v := reduce.FromDegrees(w.start[round-1] + w.dir[target])
	if face == faces.FR {
		v, e = v+reduce.HalfTurn, -e
	}
	v += reduce.FromSeconds(e + w.rng.NormFloat64()*w.sigma)
	return align.Reading{Round: round, Target: target, Face: face, Value: reduce.DirectionAt(v)}
}

// The standard deviation given is what the differences have: their mean square
// over it is 1 within the spread of its own chance.
func TestForecast_SaysHowClose(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	sum, n, worst := 0.0, 0, 0.0
	for range 150 {
		w := newTruth(rng, 5, 3, 2)
		s := align.Station{Unit: reduce.DMS, LeastCount: reduce.Arcsecond / 10, Sigma: 2, Names: make([]string, 5)}
		for round := 1; round <= 3; round++ {
			for k := range 10 {
				target, face := k, faces.FL
				if k >= 5 {
					target, face = 9-k, faces.FR
				}
				r := w.read(round, target, face)
				for _, e := range forecast.New(s, forecast.Before{}).Reading(round, target, face) {
					if e.SD < 10 {
						d := r.Value.Sub(e.Reading).Seconds() / e.SD
						sum, n, worst = sum+d*d, n+1, math.Max(worst, math.Abs(d))
					}
				}
				s.Readings = append(s.Readings, r)
			}
		}
	}
	if q := sum / float64(n); q < 0.85 || q > 1.15 || worst > 5 {
		t.Errorf("seed 4: mean square %.3f over %d, worst %.1f", q, n, worst)
	}
}

// A slip that got through does not carry the expectation away: from the second
// round the reading that fits is still expected.
func TestForecast_StandsAgainstASlip(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	w := newTruth(rng, 4, 3, 2)
	s := align.Station{Unit: reduce.DMS, LeastCount: reduce.Arcsecond, Sigma: 2, Names: make([]string, 4)}
	for round := 1; round <= 2; round++ {
		for j := range 4 {
			s.Readings = append(s.Readings, w.read(round, j, faces.FL))
		}
		for j := 3; j >= 0; j-- {
			s.Readings = append(s.Readings, w.read(round, j, faces.FR))
		}
	}
	s.Readings[2].Value = s.Readings[2].Value.Add(reduce.Degree)
	s.Readings = append(s.Readings, w.read(3, 0, faces.FL))
	es := forecast.New(s, forecast.Before{}).Reading(3, 2, faces.FL)
	r := w.read(3, 2, faces.FL)
	if len(es) != 1 || r.Value.Sub(es[0].Reading).Abs() > 15*reduce.Arcsecond {
		t.Errorf("%v expected, %v read", es, r.Value)
	}
	// In the first round either face may be the one that is wrong.
	s.Readings = s.Readings[:8]
	s.Readings = append(s.Readings, w.read(2, 0, faces.FL))
	if es := forecast.New(s, forecast.Before{}).Reading(2, 2, faces.FL); len(es) != 2 {
		t.Errorf("%v", es)
	}
}

func TestForecast_KnownDirection(t *testing.T) {
	s := align.Station{Unit: reduce.DMS, LeastCount: reduce.Arcsecond, Sigma: 2, Names: make([]string, 3)}
	ro := align.Reading{Round: 1, Value: reduce.DirectionAt(350 * reduce.Degree)}
	s.Readings = []align.Reading{ro}
	known := []forecast.Known{{Target: 2, Direction: reduce.DirectionAt(20 * reduce.Degree), SD: 3}}
	es := forecast.New(s, forecast.Before{Directions: known}).Reading(1, 2, faces.FL)
	if len(es) != 1 || es[0].Reading.Angle() != 10*reduce.Degree || es[0].SD < 4 || es[0].SD > 6 {
		t.Errorf("%+v", es)
	}
	if es := forecast.New(s, forecast.Before{Directions: known}).Reading(1, 1, faces.FL); es != nil {
		t.Errorf("nothing is known of target 1: %+v", es)
	}
}

func BenchmarkNew(b *testing.B) {
	w := newTruth(rand.New(rand.NewPCG(6, 6)), 11, 4, 2)
	s := align.Station{Unit: reduce.DMS, LeastCount: reduce.Arcsecond, Sigma: 2}
	for j := range 11 {
		s.Names = append(s.Names, fmt.Sprint(j))
	}
	for round := 1; round <= 4; round++ {
		for j := range 11 {
			s.Readings = append(s.Readings, w.read(round, j, faces.FL), w.read(round, j, faces.FR))
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		forecast.New(s, forecast.Before{}).Reading(4, 3, faces.FR)
	}
}
