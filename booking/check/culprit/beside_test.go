package culprit_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/readback/booking/check/culprit"
	"example.org/readback/reduce"
	"example.org/readback/reduce/adjust"
)

// A reading is named alone only where no other normalised residual of the per-face
// model lies within 1.0 of its own (W. Baarda 1968, data snooping: the largest is
// suspected; how far the next must lie below it is ours). One reading of a level
// station is 4 to 6 times its standard deviation off; seeded.
func TestFind_NoCloseReadingIsLeftUnsaid(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 71))
	alone, beside := 0, 0
	for range 150 {
		s := level(rng)
		k := rng.IntN(len(s.Readings))
		s.Readings[k].Value = s.Readings[k].Value.Add(reduce.FromSeconds(s.Noise() * (4 + 2*rng.Float64())))
		found := culprit.Find(s, false).Suspects
		if len(found) > 1 && found[0].Alike {
			beside++
		}
		if len(found) != 1 || found[0].Face == reduce.NoFace || found[0].Kind == "everything after it turned" {
			continue
		}
		alone++
		w, named := normalised(t, s), -1
		for i, r := range s.Readings {
			if r.Round == found[0].Round && r.Face == found[0].Face && s.Names[r.Target] == found[0].Target {
				named = i
			}
		}
		for i := range w {
			if i != named && w[i] > w[named]-0.99 {
				t.Errorf("%s is named alone at %.2f; %+v has %.2f", found[0].Text, w[named], s.Readings[i], w[i])
			}
		}
	}
	if alone < 30 || beside < 10 {
		t.Errorf("named alone %d, alternatives %d of 150: this shows nothing", alone, beside)
	}
}

// level is a sound station of two rounds on four level targets, σ 2″ stated.
func level(rng *rand.Rand) culprit.Station {
	s := culprit.Station{Names: []string{"RO", "A", "B", "C"}, Unit: reduce.DMS, LeastCount: reduce.Arcsecond, Sigma: 2,
		HasAlt: []bool{true, true, true, true}, Altitudes: make([]reduce.Angle, 4)}
	for round := 1; round <= 2; round++ {
		for f := range 2 {
			for target := range 4 {
				v := reduce.Angle(round*89+target*71)*reduce.Degree + reduce.Angle(f)*reduce.HalfTurn
				v += reduce.Angle(math.Round(rng.NormFloat64()*2)) * reduce.Arcsecond
				s.Readings = append(s.Readings, culprit.Reading{Round: round, Target: target, Face: reduce.FL + reduce.Face(f), Value: reduce.DirectionAt(v)})
			}
		}
	}
	return s
}

// normalised returns the residuals of the per-face model over their standard
// deviations.
func normalised(t *testing.T, s culprit.Station) []float64 {
	t.Helper()
	var rs []adjust.Reading
	for _, r := range s.Readings {
		rs = append(rs, adjust.Reading{Round: r.Round - 1, Target: r.Target, Face: r.Face, Value: r.Value})
	}
	a, err := adjust.Readings(rs, 2, len(s.Names))
	if err != nil {
		t.Fatal(err)
	}
	w := make([]float64, len(rs))
	for k, v := range a.Residuals {
		w[k] = math.Abs(v) / math.Sqrt(a.Redundancy[k]) / s.Noise()
	}
	return w
}
