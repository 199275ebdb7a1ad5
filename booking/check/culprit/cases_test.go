package culprit_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.org/readback/booking/check/culprit"
	"example.org/readback/booking/check/slip"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"pgregory.net/rapid"
)

// table makes a station of lines "round target face d m s"; a second sight of
// target 0 in a half closes it.
func table(names []string, lc reduce.Angle, rows [][6]int64) culprit.Station {
	s := culprit.Station{Names: names, Unit: reduce.DMS, LeastCount: lc}
	seen := map[[3]int64]bool{}
	for _, r := range rows {
		key := [3]int64{r[0], r[1], r[2]}
		v := reduce.Angle(r[3])*reduce.Degree + reduce.Angle(r[4])*reduce.Arcminute + reduce.Angle(r[5])*reduce.Arcsecond
		s.Readings = append(s.Readings, culprit.Reading{Round: int(r[0]), Target: int(r[1]), Face: faces.Face(r[2]), Closing: seen[key], Value: reduce.DirectionAt(v)})
		seen[key] = true
	}
	return s
}

// Source: surveying handout "Reading, booking and calculating angles", two
// rounds with a large collimation (published.md F24). The rounds agree within
// 10″; 2c runs from −40″ to −70″ because the readings are to 10″.
func TestFind_LargeCollimationIsNoFault(t *testing.T) {
	for _, lc := range []reduce.Angle{5 * reduce.Arcsecond, 10 * reduce.Arcsecond} {
		s := table([]string{"X", "Y", "Z"}, lc, [][6]int64{
			{1, 0, 1, 0, 3, 50}, {1, 1, 1, 17, 22, 10}, {1, 2, 1, 83, 58, 50},
			{1, 2, 2, 264, 0, 0}, {1, 1, 2, 197, 23, 10}, {1, 0, 2, 180, 4, 30},
			{2, 0, 1, 90, 12, 30}, {2, 1, 1, 107, 31, 10}, {2, 2, 1, 174, 7, 30},
			{2, 2, 2, 354, 8, 40}, {2, 1, 2, 287, 32, 10}, {2, 0, 2, 270, 13, 30},
		})
		for _, exceeded := range []bool{false, true} {
			if f := culprit.Find(s, exceeded); len(f.Suspects) != 0 {
				t.Errorf("least count %v, exceeded %v: %+v", lc, exceeded, f.Suspects)
			}
		}
	}
}

// Source: university question bank, "full-circle direction method" (published.md
// F16): a 6″ instrument, rounds up to 48″ apart. Whatever is said of it, no
// single reading is named: none explains it.
func TestFind_RoughRoundsNameNoReading(t *testing.T) {
	s := table([]string{"A", "B", "C", "D"}, 5*reduce.Arcsecond, [][6]int64{
		{1, 0, 1, 0, 2, 30}, {1, 1, 1, 60, 23, 36}, {1, 2, 1, 225, 19, 6}, {1, 3, 1, 290, 14, 54}, {1, 0, 1, 0, 2, 36},
		{1, 0, 2, 180, 2, 42}, {1, 3, 2, 110, 14, 48}, {1, 2, 2, 45, 19, 18}, {1, 1, 2, 240, 23, 42}, {1, 0, 2, 180, 2, 36},
		{2, 0, 1, 90, 3, 30}, {2, 1, 1, 150, 23, 48}, {2, 2, 1, 315, 19, 42}, {2, 3, 1, 20, 15, 6}, {2, 0, 1, 90, 3, 24},
		{2, 0, 2, 270, 3, 18}, {2, 3, 2, 200, 15, 0}, {2, 2, 2, 135, 19, 30}, {2, 1, 2, 330, 23, 30}, {2, 0, 2, 270, 3, 24},
	})
	f := culprit.Find(s, true)
	for _, q := range f.Suspects {
		if q.Face != faces.NoFace && !q.Alike {
			t.Errorf("%+v", q)
		}
	}
}

// Source: surveying exercise answers, table 26 (published.md F17): one round on two
// targets, 2c −18″ and +6″. One comparison speaks against all four readings alike.
func TestFind_OneComparisonNamesNothing(t *testing.T) {
	s := table([]string{"A", "B"}, 5*reduce.Arcsecond, [][6]int64{
		{1, 0, 1, 0, 1, 6}, {1, 1, 1, 69, 20, 30}, {1, 1, 2, 249, 20, 24}, {1, 0, 2, 180, 1, 24},
	})
	if f := culprit.Find(s, true); len(f.Suspects) != 0 {
		t.Errorf("%+v", f.Suspects)
	}
}

// In a single round only 2c speaks: it names the target, not the face.
func TestFind_SingleRoundNamesTheTarget(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	s := scene(rng, 6, 1, 2, reduce.Arcsecond, false)
	s.Readings[3].Value = s.Readings[3].Value.Add(47 * reduce.Arcsecond)
	f := culprit.Find(s, true)
	if len(f.Suspects) != 1 || f.Suspects[0].Target != "T3" || f.Suspects[0].Face != faces.NoFace {
		t.Errorf("%+v", f.Suspects)
	}
	if f.Remedy.Target != "T3" || f.Remedy.Round != 1 {
		t.Errorf("%+v", f.Remedy)
	}
}

// In one round a whole degree is as good a slip on either face: the wrong one is
// never named alone. Seeded.
func TestFind_SingleRoundNamesNoWrongFace(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 16))
	for range 100 {
		s := scene(rng, 4+rng.IntN(5), 1, 2, 5*reduce.Arcsecond, rng.IntN(2) == 0)
		k := rng.IntN(len(s.Readings))
		r := &s.Readings[k]
		r.Value = r.Value.Add(reduce.Degree)
		for _, q := range culprit.Find(s, true).Suspects {
			if !q.Alike && (q.Target != s.Names[r.Target] || q.Face != faces.NoFace && !names(q, s, k)) {
				t.Errorf("reading %d of %d: %+v", k, len(s.Readings), q)
			}
		}
	}
}

// Face left has two minute digits exchanged: the geometry of one round leaves
// the face open, the slip does not.
func TestFind_SlipDecidesTheFace(t *testing.T) {
	s := table([]string{"RO", "A", "B", "C"}, reduce.Arcsecond, [][6]int64{
		{1, 0, 1, 0, 12, 3}, {1, 1, 1, 62, 41, 18}, {1, 2, 1, 133, 25, 44}, {1, 3, 1, 287, 33, 1},
		{1, 3, 2, 107, 33, 6}, {1, 2, 2, 313, 52, 47}, {1, 1, 2, 242, 41, 22}, {1, 0, 2, 180, 12, 8},
	})
	f := culprit.Find(s, true)
	if len(f.Suspects) != 1 || f.Suspects[0].Target != "B" || f.Suspects[0].Kind != slip.DigitsExchanged || f.Suspects[0].Part != slip.Minutes {
		t.Fatalf("%+v", f.Suspects)
	}
}

func TestFind_Forms(t *testing.T) {
	shift := func(s *culprit.Station, d reduce.Angle, ok func(int, culprit.Reading) bool) {
		for k := range s.Readings {
			if ok(k, s.Readings[k]) {
				s.Readings[k].Value = s.Readings[k].Value.Add(d)
			}
		}
	}
	cases := []struct {
		name   string
		rounds int
		closed bool
		by     reduce.Angle
		which  func(int, culprit.Reading) bool
		want   culprit.Suspect
	}{
		{"RO pair in three rounds", 3, false, 35 * reduce.Arcsecond,
			func(_ int, r culprit.Reading) bool { return r.Round == 2 && r.Target == 0 },
			culprit.Suspect{Round: 2, Target: "T0", Kind: slip.DirectionDiffers}},
		{"RO pair in two rounds", 2, false, 35 * reduce.Arcsecond,
			func(_ int, r culprit.Reading) bool { return r.Round == 2 && r.Target == 0 },
			culprit.Suspect{Target: "T0", Kind: slip.DirectionDiffers}},
		{"closed RO in three rounds", 3, true, 35 * reduce.Arcsecond,
			func(_ int, r culprit.Reading) bool { return r.Round == 2 && r.Target == 0 },
			culprit.Suspect{Round: 2, Target: "T0", Kind: slip.DirectionDiffers}},
		{"pair in three rounds", 3, false, 35 * reduce.Arcsecond,
			func(_ int, r culprit.Reading) bool { return r.Round == 1 && r.Target == 3 },
			culprit.Suspect{Round: 1, Target: "T3", Kind: slip.DirectionDiffers}},
		{"moved after the fourth sight of round 2", 2, false, 50 * reduce.Arcsecond,
			func(k int, r culprit.Reading) bool { return r.Round == 2 && k >= 16 },
			culprit.Suspect{Round: 2, Face: faces.FL, Target: "T4", Kind: slip.MovedAfter}},
		{"half a turn", 2, false, reduce.HalfTurn,
			func(_ int, r culprit.Reading) bool { return r.Round == 2 && r.Target == 2 && r.Face == faces.FR },
			culprit.Suspect{Round: 2, Face: faces.FR, Target: "T2", Kind: slip.FaceNotChanged}},
		{"RO first reading, half a turn", 2, false, reduce.HalfTurn,
			func(k int, r culprit.Reading) bool { return k == 0 },
			culprit.Suspect{Round: 1, Face: faces.FL, Target: "T0", Kind: slip.FaceNotChanged}},
		{"RO first reading, quarter turn", 2, true, reduce.QuarterTurn,
			func(k int, r culprit.Reading) bool { return k == 0 },
			culprit.Suspect{Round: 1, Face: faces.FL, Target: "T0", Kind: slip.DigitAdded, Part: slip.Degrees}},
		{"whole degree", 2, true, reduce.Degree,
			func(_ int, r culprit.Reading) bool { return r.Round == 1 && r.Target == 5 && r.Face == faces.FR },
			culprit.Suspect{Round: 1, Face: faces.FR, Target: "T5", Kind: slip.WholeDegree, Part: slip.Degrees}},
	}
	for _, c := range cases {
		s := scene(rand.New(rand.NewPCG(5, 6)), 6, c.rounds, 2, reduce.Arcsecond, c.closed)
		shift(&s, c.by, c.which)
		f := culprit.Find(s, true)
		if len(f.Suspects) != 1 {
			t.Errorf("%s: %+v", c.name, f.Suspects)
			continue
		}
		q := f.Suspects[0]
		if q.Round != c.want.Round || q.Face != c.want.Face || q.Target != c.want.Target || q.Kind != c.want.Kind || q.Part != c.want.Part {
			t.Errorf("%s: %+v", c.name, q)
		}
		t.Log(q.Text, f.Remedy.Text)
	}
}

// The same station in gon names the same reading.
func TestFind_Gon(t *testing.T) {
	s := scene(rand.New(rand.NewPCG(8, 8)), 5, 2, 2, reduce.Milligon/2, true)
	s.Unit = reduce.GonUnit
	k := 7
	s.Readings[k].Value = s.Readings[k].Value.Add(20 * reduce.Milligon)
	f := culprit.Find(s, false)
	r := s.Readings[k]
	if len(f.Suspects) != 1 || f.Suspects[0].Round != r.Round || f.Suspects[0].Target != s.Names[r.Target] || f.Suspects[0].Face != r.Face {
		t.Errorf("%+v for %+v", f.Suspects, r)
	}
}

// Nothing panics on what checks nothing, and targets tied to nothing are left
// aside.
func TestFind_LittleToGoOn(t *testing.T) {
	full := scene(rand.New(rand.NewPCG(8, 8)), 4, 2, 2, reduce.Arcsecond, false)
	for n := range full.Readings {
		s := full
		s.Readings = full.Readings[:n]
		culprit.Find(s, true)
		culprit.Likeliest(s)
		culprit.LargestResidual(s)
	}
	loose := full
	loose.Readings = nil
	for _, r := range full.Readings {
		if !(r.Round == 2 && r.Target < 3) && !(r.Round == 1 && r.Target == 3) {
			loose.Readings = append(loose.Readings, r)
		}
	}
	loose.Readings[1].Value = loose.Readings[1].Value.Add(reduce.Degree)
	if f := culprit.Find(loose, true); len(f.Suspects) != 1 || f.Suspects[0].Target != "T1" {
		t.Errorf("%+v", f.Suspects)
	}
}

// A round whose circle counts anticlockwise is named as a whole, also where there
// is only one other to hold it against.
func TestFind_Anticlockwise(t *testing.T) {
	for _, wrong := range []int{1, 2} {
		s := scene(rand.New(rand.NewPCG(9, 9)), 5, 2, 2, reduce.Arcsecond, true)
		for k, r := range s.Readings {
			if r.Round == wrong {
				s.Readings[k].Value = reduce.DirectionAt(-r.Value.Angle())
			}
		}
		f := culprit.Find(s, true)
		if len(f.Suspects) != 1 || f.Suspects[0].Round != wrong || f.Suspects[0].Kind != slip.Anticlockwise {
			t.Errorf("round %d: %+v", wrong, f.Suspects)
		}
	}
}

// Whatever the readings are, nothing panics and what is named exists.
func TestFind_AnyReadings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := []string{"RO", "A", "B", "C", "D"}[:rapid.IntRange(1, 5).Draw(t, "targets")]
		s := culprit.Station{Names: names, Unit: reduce.DMS, LeastCount: 5 * reduce.Arcsecond}
		rounds := rapid.IntRange(1, 3).Draw(t, "rounds")
		gross := rapid.SampledFrom([]reduce.Angle{0, reduce.Arcminute, reduce.Degree, reduce.HalfTurn, reduce.QuarterTurn})
		for i := 1; i <= rounds; i++ {
			for f := range 2 {
				for j := range names {
					if rapid.IntRange(0, 9).Draw(t, "gap") == 0 {
						continue
					}
					v := reduce.Angle(i*90+j*50)*reduce.Degree + reduce.Angle(f)*reduce.HalfTurn + reduce.Angle(rapid.IntRange(-3, 3).Draw(t, "noise"))*5*reduce.Arcsecond
					if rapid.IntRange(0, 7).Draw(t, "slip") == 0 {
						v += gross.Draw(t, "gross")
					}
					s.Readings = append(s.Readings, culprit.Reading{Round: i, Target: j, Face: faces.FL + faces.Face(f), Value: reduce.DirectionAt(v)})
				}
			}
		}
		for _, q := range culprit.Find(s, rapid.Bool().Draw(t, "exceeded")).Suspects {
			known := q.Target == "" || slices.Contains(names, q.Target)
			if !known || q.Round < 0 || q.Round > rounds || q.Text == "" || q.Weight < 0 || q.Weight > 1.0001 {
				t.Fatalf("%+v", q)
			}
		}
	})
}

// A half that turned as a whole is one finding: of two rounds nothing tells in which
// it was, of three 2c does. (Plain geometry: only 2c of one round against another
// shows it.)
func TestFind_WholeHalfIsOneFinding(t *testing.T) {
	for rounds := 2; rounds <= 3; rounds++ {
		s := scene(rand.New(rand.NewPCG(5, uint64(rounds))), 5, rounds, 2, reduce.Arcsecond, true)
		for k, r := range s.Readings {
			if r.Round == 2 && r.Face == faces.FR {
				s.Readings[k].Value = r.Value.Add(40 * reduce.Arcsecond)
			}
		}
		f := culprit.Find(s, false)
		if len(f.Suspects) != 1 || f.Suspects[0].Kind != slip.MovedAfter || !strings.Contains(f.Suspects[0].Text, "face right as a whole") {
			t.Fatalf("%d rounds: %+v", rounds, f.Suspects)
		}
		if want := []int{0, 2}[rounds-2]; f.Suspects[0].Round != want {
			t.Errorf("%d rounds: round %d", rounds, f.Suspects[0].Round)
		}
	}
}

// A circle that turns evenly is told as that, with about how fast, and from where on
// the means suffer. The means of both faces, sighted in opposite order, don't.
func TestFind_Drift(t *testing.T) {
	for _, stated := range []bool{true, false} {
		s := scene(rand.New(rand.NewPCG(6, 6)), 6, 2, 2, reduce.Arcsecond, stated)
		place := map[int]int{}
		for k, r := range s.Readings {
			s.Readings[k].Value = r.Value.Add(4 * reduce.Arcsecond * reduce.Angle(place[r.Round]))
			place[r.Round]++
		}
		f := culprit.Find(s, false)
		if len(f.Suspects) != 1 || f.Suspects[0].Kind != slip.Drift || math.Abs(f.Suspects[0].Size-4) > 1 || !strings.Contains(f.Suspects[0].Text, "from sight to sight") {
			t.Errorf("stated %v: %+v", stated, f.Suspects)
		}
	}
}
