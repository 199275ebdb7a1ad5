package culprit_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/readback/booking/check/culprit"
	"example.org/readback/booking/check/slip"
	"example.org/readback/reduce"
	"example.org/readback/reduce/adjust"
	"example.org/readback/reduce/faces"
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
		if len(found) != 1 || found[0].Target == "" || found[0].Kind == slip.MovedAfter {
			continue
		}
		alone++
		w, named := normalised(t, s), -1
		is := func(r culprit.Reading) bool {
			x := found[0]
			return (x.Round == 0 || r.Round == x.Round) && (x.Face == faces.NoFace || r.Face == x.Face) && s.Names[r.Target] == x.Target
		}
		for i, r := range s.Readings {
			if is(r) && (named < 0 || w[i] > w[named]) {
				named = i
			}
		}
		for i, r := range s.Readings {
			if !is(r) && w[i] > w[named]-0.99 {
				t.Errorf("%s is named alone at %.2f; %+v has %.2f", found[0].Text, w[named], r, w[i])
			}
		}
	}
	if alone < 30 || beside < 10 {
		t.Errorf("named alone %d, alternatives %d of 150: this shows nothing", alone, beside)
	}
}

// A slow drift too small to stand out seldom has a single reading named alone: the
// reading is the largest of all, the drift is one, and is told beside it. Of 1,000
// stations of two rounds with a drift of 0.5 σ of a reading from sight to sight, 1.5 in
// 100 at most; seeded.
func TestFind_DriftIsSeldomAReadingAlone(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 72))
	wrong, drifts := 0, 0
	for range 1000 {
		s := level(rng)
		slices.Reverse(s.Readings[4:8]) // face right backwards
		slices.Reverse(s.Readings[12:])
		for i := range s.Readings {
			s.Readings[i].Value = s.Readings[i].Value.Add(reduce.FromSeconds(float64(i%8) * s.Noise() / 2))
		}
		found := culprit.Find(s, false).Suspects
		drift := slices.ContainsFunc(found, func(x culprit.Suspect) bool { return x.Kind == slip.Drift })
		if drift {
			drifts++
		} else if len(found) == 1 {
			wrong++
		}
	}
	if t.Logf("drift told in %d, a reading alone in %d", drifts, wrong); wrong > 15 || drifts < 80 {
		t.Error("a reading is named alone too often, or the drift too seldom")
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
				s.Readings = append(s.Readings, culprit.Reading{Round: round, Target: target, Face: faces.FL + faces.Face(f), Value: reduce.DirectionAt(v)})
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
