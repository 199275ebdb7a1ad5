package traverse

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/readback/reduce"
)

var fivePoints = []Point{{0, 0}, {180, 40}, {260, 230}, {120, 330}, {-60, 190}}

// NAVEDTRA 14071, fig. 7-41: a slip of ten degrees at one station; the
// perpendicular bisector of the line of linear misclosure points at it. The
// page gives no lengths, so the ring is ours.
func TestLocate_TenDegreesAtOneStation(t *testing.T) {
	for k := range fivePoints {
		tr := ringOf(fivePoints)
		tr.Angles[k].Value += 10 * reduce.Degree
		s, err := Locate(tr, handbookSettings(5*reduce.Arcsecond))
		if err != nil {
			t.Fatal(err)
		}
		if s.Verdict != OneAngle || s.Candidates[0].Index != k || s.Candidates[0].Angle != 10*reduce.Degree {
			t.Errorf("station %d: %v %+v", k, s.Verdict, s.Candidates)
		}
		if k == 0 {
			continue // the bisector points at no station: then it is the first one
		}
		_, pts := tr.walk(tr.bearings(nil))
		end, start := pts[len(pts)-1], pts[0]
		if d := Distance(pts[k], end) - Distance(pts[k], start); math.Abs(d) > 1e-3 {
			t.Errorf("station %d is %.4f off the bisector", k, d)
		}
	}
}

// Carried backward and forward, the coordinates agree at the faulty station
// and nowhere else (common practice).
func TestLocate_ForwardAndBackwardAgree(t *testing.T) {
	const k = 3
	tr := ringOf(fivePoints)
	tr.Angles[k].Value += deg(1, 0, 0)
	_, fore := tr.walk(tr.bearings(nil))
	back := Traverse{Ring: true, Stations: tr.Stations, Start: tr.Start}
	n := len(fivePoints)
	last, _ := Bearing(fivePoints[0], fivePoints[n-1])
	back.Start.Bearing = last
	for i := range n {
		j := (n - i) % n
		back.Angles = append(back.Angles, StationAngle{Value: -tr.Angles[j].Value, Observed: true})
		back.Legs = append(back.Legs, tr.Legs[(n-1-i)%n])
	}
	_, aft := back.walk(back.bearings(nil))
	for i := 1; i < n; i++ {
		apart := Distance(fore[i], aft[n-i])
		if (apart < 0.001) != (i == k) {
			t.Errorf("station %d: %.3f apart", i, apart)
		}
	}
}

func TestLocate_OneLeg(t *testing.T) {
	for k := range fivePoints {
		for _, slip := range []float64{10, -1, 0.5} {
			tr := ringOf(fivePoints)
			tr.Legs[k].Length += slip
			s, err := Locate(tr, handbookSettings(5*reduce.Arcsecond))
			if err != nil {
				t.Fatal(err)
			}
			c := s.Candidates[0]
			if s.Verdict != OneLeg || c.Index != k || math.Abs(c.Long-slip) > 1e-6 {
				t.Errorf("leg %d %+v: %v %+v", k, slip, s.Verdict, s.Candidates)
			}
		}
	}
}

// In a rectangle two legs are parallel: which one is too long cannot be told.
func TestLocate_ParallelLegs(t *testing.T) {
	tr := ringOf([]Point{{0, 0}, {300, 0}, {300, 200}, {0, 200}})
	tr.Legs[1].Length += 1
	s, err := Locate(tr, handbookSettings(5*reduce.Arcsecond))
	if err != nil {
		t.Fatal(err)
	}
	if s.Verdict != CannotTell || len(s.Best()) != 2 || s.Best()[0].Name != "P1-P2" && s.Best()[1].Name != "P1-P2" {
		t.Errorf("%v %+v", s.Verdict, s.Best())
	}
}

func TestLocate_TwoWrong(t *testing.T) {
	tr := ringOf(fivePoints)
	tr.Angles[1].Value += reduce.Degree
	tr.Legs[3].Length += 20
	s, err := Locate(tr, handbookSettings(5*reduce.Arcsecond))
	if err != nil {
		t.Fatal(err)
	}
	if s.Verdict != NothingFits || len(s.Candidates) != 5 {
		t.Errorf("%v %+v", s.Verdict, s.Candidates)
	}
}

func TestLocate_WithoutLengths(t *testing.T) {
	tr := ringOf(fivePoints)
	tr.Angles[1].Value += reduce.Degree
	for i := range tr.Legs {
		tr.Legs[i].Length = 0
	}
	if s, err := Locate(tr, handbookSettings(5*reduce.Arcsecond)); err != nil || s.Verdict != NeedsLengths {
		t.Errorf("%v %v", s, err)
	}
}

// A link whose bearings do not close: both kinds are tried.
func TestLocate_CoordinatesOnly(t *testing.T) {
	pts := []Point{{0, 0}, {180, 40}, {260, 230}, {520, 250}, {640, 60}}
	for k := range pts[:4] {
		tr := linkOf(pts, 0, 0)
		tr.End.HasBearing = false
		tr.Angles[k].Value += deg(0, 20, 0)
		s, err := Locate(tr, handbookSettings(5*reduce.Arcsecond))
		if err != nil {
			t.Fatal(err)
		}
		best := s.Best()
		if len(best) == 0 || best[0].Leg || best[0].Index != k || (best[0].Angle-deg(0, 20, 0)).Abs() > 10 {
			t.Errorf("station %d: %v %+v", k, s.Verdict, s.Candidates)
		}
	}
}

// A link that closes on both: a slip in any of its angles, the first and the
// last too, or in any of its legs.
func TestLocate_LinkThatCloses(t *testing.T) {
	pts := []Point{{0, 0}, {180, 40}, {260, 230}, {520, 250}, {640, 60}}
	for k := range pts {
		tr := linkOf(pts, deg(200, 0, 0), deg(10, 0, 0))
		tr.Angles[k].Value += deg(0, 20, 0)
		s, err := Locate(tr, handbookSettings(5*reduce.Arcsecond))
		if err != nil || s.Verdict != OneAngle || s.Candidates[0].Index != k {
			t.Errorf("angle %d: %v %+v", k, err, s)
		}
		if k == len(pts)-1 {
			continue
		}
		tr = linkOf(pts, deg(200, 0, 0), deg(10, 0, 0))
		tr.Legs[k].Length -= 2
		s, err = Locate(tr, handbookSettings(5*reduce.Arcsecond))
		if err != nil || s.Verdict != OneLeg || s.Candidates[0].Index != k {
			t.Errorf("leg %d: %v %+v", k, err, s)
		}
	}
}

// Whatever was booked, the traverse is worked or refused with a sentence.
func TestSolve_AnyReadings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tr, _ := truthRing(t)
		for i := range tr.Angles {
			if rapid.Bool().Draw(t, "spoil") {
				tr.Angles[i].Value = reduce.FromDegrees(rapid.Float64Range(-400, 400).Draw(t, "angle"))
				tr.Legs[i].Length = rapid.Float64Range(0, 1e6).Draw(t, "leg")
			}
		}
		r, err := Solve(tr, handbookSettings(reduce.Arcsecond))
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range r.Carried.Points {
			if badPoint(p) {
				t.Fatalf("%+v", r.Carried)
			}
		}
		if _, err := Locate(tr, handbookSettings(reduce.Arcsecond)); err != nil {
			t.Fatal(err)
		}
	})
}

// One slip among ordinary noise: the right one always fits, and where exactly
// one fits it is the right one.
func TestLocate_AmongNoise(t *testing.T) {
	s := handbookSettings(5 * reduce.Arcsecond)
	rapid.Check(t, func(t *rapid.T) {
		tr, _ := truthRing(t)
		for i := range tr.Angles {
			tr.Angles[i].Value += reduce.FromSeconds(rapid.Float64Range(-5, 5).Draw(t, "angle noise"))
			tr.Legs[i].Length += rapid.Float64Range(-0.003, 0.003).Draw(t, "leg noise")
		}
		k := rapid.IntRange(0, len(tr.Stations)-1).Draw(t, "faulty")
		leg := rapid.Bool().Draw(t, "leg")
		if leg {
			tr.Legs[k].Length += rapid.SampledFrom([]float64{-10, -1, 1, 10}).Draw(t, "slip")
		} else {
			tr.Angles[k].Value += rapid.SampledFrom([]reduce.Angle{deg(0, 1, 0), deg(0, 10, 0), deg(1, 0, 0), -deg(10, 0, 0)}).Draw(t, "slip")
		}
		got, err := Locate(tr, s)
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, c := range got.Best() {
			found = found || c.Leg == leg && c.Index == k
		}
		if !found {
			t.Fatalf("slip at %d (leg %v) not among %+v", k, leg, got.Candidates)
		}
	})
}
