package traverse

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"example.org/readback/reduce"
)

// truthRing draws a ring of n stations round a centre, its angles to the
// second and its lengths exact from the coordinates.
func truthRing(t *rapid.T) (Traverse, []Point) {
	n := rapid.IntRange(3, 9).Draw(t, "stations")
	clockwise := rapid.Bool().Draw(t, "clockwise")
	var pts []Point
	for i := range n {
		at := (float64(i) + rapid.Float64Range(0.1, 0.9).Draw(t, "at")) / float64(n)
		if clockwise {
			at = 1 - at
		}
		r := rapid.Float64Range(150, 400).Draw(t, "radius")
		pts = append(pts, polar(reduce.DirectionAt(reduce.FromDegrees(360*(1-at))), r).Add(Point{5000, 3000}))
	}
	return ringOf(pts), pts
}

// ringOf observes a ring without error.
func ringOf(pts []Point) Traverse {
	n := len(pts)
	first, _ := Bearing(pts[0], pts[1])
	tr := Traverse{Ring: true, Start: Known{Point: pts[0], HasPoint: true, Bearing: first, HasBearing: true}}
	for i, p := range pts {
		fore, _ := Bearing(p, pts[(i+1)%n])
		back, _ := Bearing(p, pts[(i+n-1)%n])
		tr.Stations = append(tr.Stations, fmt.Sprintf("P%d", i))
		tr.Angles = append(tr.Angles, StationAngle{Value: fore.From(back), Observed: true})
		tr.Legs = append(tr.Legs, Leg{Length: Distance(p, pts[(i+1)%n])})
	}
	return tr
}

// linkOf observes a walk between two known points with marks at both ends.
func linkOf(pts []Point, startMark, endMark reduce.Angle) Traverse {
	m := len(pts) - 1
	tr := Traverse{Start: Known{Point: pts[0], HasPoint: true, Bearing: reduce.DirectionAt(startMark), HasBearing: true},
		End: Known{Point: pts[m], HasPoint: true, Bearing: reduce.DirectionAt(endMark), HasBearing: true}}
	for i, p := range pts {
		fore, back := reduce.DirectionAt(endMark), reduce.DirectionAt(startMark)
		if i < m {
			fore, _ = Bearing(p, pts[i+1])
			tr.Legs = append(tr.Legs, Leg{Length: Distance(p, pts[i+1])})
		}
		if i > 0 {
			back, _ = Bearing(p, pts[i-1])
		}
		tr.Stations = append(tr.Stations, fmt.Sprintf("P%d", i))
		tr.Angles = append(tr.Angles, StationAngle{Value: fore.From(back), Observed: true})
	}
	return tr
}

func TestRing_TruthRecovered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tr, pts := truthRing(t)
		r, err := Solve(tr, handbookSettings(reduce.Arcsecond))
		if err != nil {
			t.Fatal(err)
		}
		if a := r.Carried.Angular; a.Misclosure.Abs() > 9 || a.Side == Crossing {
			t.Fatalf("angles of a true ring: %+v", *a)
		}
		for i, p := range pts {
			if Distance(p, r.Carried.Points[i]) > 1e-6 || Distance(p, r.Adjusted.Points[i]) > 1e-6 {
				t.Fatalf("station %d: %v, compass %v, least squares %v", i, p, r.Carried.Points[i], r.Adjusted.Points[i])
			}
		}
		if s, err := Locate(tr, handbookSettings(reduce.Arcsecond)); err != nil || s.Verdict != noGrossError {
			t.Fatalf("%v %v", s, err)
		}
	})
}

// disturb adds noise to angles and legs.
func disturb(t *rapid.T, tr Traverse) Traverse {
	for i := range tr.Angles {
		tr.Angles[i].Value += reduce.FromSeconds(rapid.Float64Range(-20, 20).Draw(t, "angle noise"))
	}
	for i := range tr.Legs {
		tr.Legs[i].Length += rapid.Float64Range(-0.02, 0.02).Draw(t, "leg noise")
	}
	return tr
}

// A turn, a shift, a change of the unit of length and another first station
// leave the misclosures as they are.
func TestRing_MisclosureStays(t *testing.T) {
	s := handbookSettings(reduce.Arcsecond)
	rapid.Check(t, func(t *rapid.T) {
		tr, _ := truthRing(t)
		tr = disturb(t, tr)
		was, err := carry(tr, s)
		if err != nil {
			t.Fatal(err)
		}
		turned, n := tr, len(tr.Stations)
		turned.Start.Bearing = turned.Start.Bearing.Add(reduce.FromDegrees(rapid.Float64Range(0, 360).Draw(t, "turn")))
		turned.Start.Point = Point{-200, 77}
		is, _ := carry(turned, s)
		if is.Angular.Misclosure != was.Angular.Misclosure || math.Abs(is.Linear.Misclosure-was.Linear.Misclosure) > 1e-6 {
			t.Fatalf("turned: %v %v", *is.Linear, *was.Linear)
		}
		k := rapid.Float64Range(0.1, 10).Draw(t, "scale")
		scaled := tr
		scaled.Legs = nil
		for _, l := range tr.Legs {
			scaled.Legs = append(scaled.Legs, Leg{Length: l.Length * k})
		}
		is, _ = carry(scaled, s)
		if math.Abs(is.Linear.Misclosure-k*was.Linear.Misclosure) > 1e-6 {
			t.Fatalf("scaled: %v %v", *is.Linear, *was.Linear)
		}
		// Of a misclosure that is rounding only, the ratio means nothing.
		if was.Linear.Misclosure > 1e-6 && math.Abs(is.Linear.Ratio/was.Linear.Ratio-1) > 1e-4 {
			t.Fatalf("scaled: %v %v", *is.Linear, *was.Linear)
		}
		first := rapid.IntRange(0, n-1).Draw(t, "first")
		other := Traverse{Ring: true, Start: Known{HasBearing: true, Bearing: was.Bearings[first]}}
		for i := range n {
			j := (i + first) % n
			other.Stations = append(other.Stations, tr.Stations[j])
			other.Angles, other.Legs = append(other.Angles, tr.Angles[j]), append(other.Legs, tr.Legs[j])
		}
		is, _ = carry(other, s)
		if is.Angular.Misclosure != was.Angular.Misclosure || is.Angular.Side != was.Angular.Side {
			t.Fatalf("from %d: %+v", first, *is.Angular)
		}
		// The spread angular corrections differ by a rounding of a micro-second.
		if math.Abs(is.Linear.Misclosure-was.Linear.Misclosure) > 1e-6 {
			t.Fatalf("from %d: %v %v", first, is.Linear.Misclosure, was.Linear.Misclosure)
		}
	})
}

func TestCarry_CorrectionsSumExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tr, _ := truthRing(t)
		tr = disturb(t, tr)
		s := handbookSettings(reduce.Arcsecond)
		s.AngleStep = rapid.SampledFrom([]reduce.Angle{0, reduce.Arcsecond, 5 * reduce.Arcsecond}).Draw(t, "step")
		s.LengthStep = rapid.SampledFrom([]float64{0, 0.001, 0.01}).Draw(t, "length step")
		c, err := carry(tr, s)
		if err != nil {
			t.Fatal(err)
		}
		var sum reduce.Angle
		for _, a := range c.Corrections {
			sum += a
		}
		if sum != -c.Angular.Misclosure {
			t.Fatalf("corrections %v of %v", c.Corrections, c.Angular.Misclosure)
		}
		last := c.Points[len(c.Points)-1].Add(c.Rows[len(c.Rows)-1].Adjusted)
		if Distance(last, tr.Start.Point) > 1e-6 {
			t.Fatalf("the adjusted ring ends %v", last)
		}
	})
}

// The dense design matrix solved by gonum's QR, from numeric derivatives at the
// adjusted places: no step may be left, and the cofactors must agree.
func TestAdjust_AgainstDenseQR(t *testing.T) {
	s := handbookSettings(2 * reduce.Arcsecond)
	rapid.Check(t, func(t *rapid.T) {
		_, pts := truthRing(t)
		a, b := reduce.FromDegrees(rapid.Float64Range(0, 360).Draw(t, "a")), reduce.FromDegrees(rapid.Float64Range(0, 360).Draw(t, "b"))
		tr := s.fill(disturb(t, linkOf(pts, a, b)))
		got, err := adjust(tr, s)
		if err != nil {
			t.Fatal(err)
		}
		n := 2 * (len(pts) - 2)
		if n == 0 {
			return
		}
		residuals := func(x []float64) []float64 { return linkResiduals(tr, x) }
		var x []float64
		for _, p := range got.Points[1 : len(pts)-1] {
			x = append(x, p.E, p.N)
		}
		at := residuals(x)
		design := mat.NewDense(len(at), n, nil)
		for j := range x {
			up, down := append([]float64(nil), x...), append([]float64(nil), x...)
			up[j] += 1e-3
			down[j] -= 1e-3
			for i, v := range residuals(up) {
				design.Set(i, j, (v-residuals(down)[i])/2e-3)
			}
		}
		var qr mat.QR
		qr.Factorize(design)
		var step mat.VecDense
		if err := qr.SolveVecTo(&step, false, mat.NewVecDense(len(at), at)); err != nil {
			t.Fatal(err)
		}
		var ata, inv mat.Dense
		ata.Mul(design.T(), design)
		if err := inv.Inverse(&ata); err != nil {
			t.Fatal(err)
		}
		for k := range len(pts) - 2 {
			if math.Abs(step.AtVec(2*k))+math.Abs(step.AtVec(2*k+1)) > 1e-6 {
				t.Fatalf("a step of %v, %v is left", step.AtVec(2*k), step.AtVec(2*k+1))
			}
			c := got.Covariances[k+1]
			for _, p := range [][2]float64{{c.EE, inv.At(2*k, 2*k)}, {c.NN, inv.At(2*k+1, 2*k+1)}, {c.EN, inv.At(2*k, 2*k+1)}} {
				if math.Abs(p[0]-p[1]) > 1e-5*(c.EE+c.NN) {
					t.Fatalf("covariance %v, dense %v", p[0], p[1])
				}
			}
		}
		if want := 3; got.Dof != want {
			t.Fatalf("dof %d", got.Dof)
		}
	})
}

// linkResiduals is a second writing of the observation equations, weighted.
func linkResiduals(tr Traverse, x []float64) []float64 {
	pts := []Point{tr.Start.Point}
	for i := 0; i < len(x); i += 2 {
		pts = append(pts, Point{x[i], x[i+1]})
	}
	pts = append(pts, tr.End.Point)
	var out []float64
	m := len(pts) - 1
	for i, a := range tr.Angles {
		fore, back := tr.End.Bearing.Radians(), tr.Start.Bearing.Radians()
		if i < m {
			fore = math.Atan2(pts[i+1].E-pts[i].E, pts[i+1].N-pts[i].N)
		}
		if i > 0 {
			back = math.Atan2(pts[i-1].E-pts[i].E, pts[i-1].N-pts[i].N)
		}
		v := math.Remainder(fore-back-a.Value.Radians(), 2*math.Pi)
		out = append(out, v/(reduce.Arcsecond.Radians()*a.SD))
	}
	for i, l := range tr.Legs {
		out = append(out, (Distance(pts[i], pts[i+1])-l.Length)/l.SD)
	}
	return out
}

// Normal noise of the stated size: s₀² has the mean 1, and the points lie in
// their 95 % ellipses at that rate.
func TestAdjust_StatedRates(t *testing.T) {
	const seed, runs = 20261125, 2000
	rng := rand.New(rand.NewPCG(seed, 1))
	pts := []Point{{0, 0}, {180, 40}, {260, 230}, {120, 330}, {-60, 190}}
	s := handbookSettings(3 * reduce.Arcsecond)
	truth, inside, sum := s.fill(ringOf(pts)), 0, 0.0
	for range runs {
		tr := s.fill(truth)
		for i := range tr.Angles {
			tr.Angles[i].Value += reduce.FromSeconds(rng.NormFloat64() * tr.Angles[i].SD)
			tr.Legs[i].Length += rng.NormFloat64() * tr.Legs[i].SD
		}
		a, err := adjust(tr, s)
		if err != nil {
			t.Fatal(err)
		}
		sum += a.S0 * a.S0
		if a.Covariances[2].fit(a.Points[2].Sub(pts[2])) < Ellipse95 {
			inside++
		}
	}
	if rate, mean := float64(inside)/runs, sum/runs; math.Abs(rate-0.95) > 0.015 || math.Abs(mean-1) > 0.06 {
		t.Errorf("seed %d: %.4f inside the 95 %% ellipse, mean s0² %.3f", seed, rate, mean)
	}
}

func TestTraverse_WhatCannotBeWorked(t *testing.T) {
	good := ringOf([]Point{{0, 0}, {100, 0}, {50, 80}})
	cases := map[string]func(*Traverse){
		"two stations":   func(tr *Traverse) { tr.Stations = tr.Stations[:2] },
		"angles short":   func(tr *Traverse) { tr.Angles = tr.Angles[:2] },
		"legs short":     func(tr *Traverse) { tr.Legs = tr.Legs[:2] },
		"angle missing":  func(tr *Traverse) { tr.Angles[1].Observed = false },
		"negative leg":   func(tr *Traverse) { tr.Legs[1].Length = -1 },
		"leg not number": func(tr *Traverse) { tr.Legs[1].Length = math.NaN() },
		"negative sd":    func(tr *Traverse) { tr.Angles[0].SD = -1 },
		"infinite point": func(tr *Traverse) { tr.Start.Point.E = math.Inf(1) },
	}
	for name, spoil := range cases {
		tr := good
		tr.Angles = append([]StationAngle(nil), good.Angles...)
		tr.Legs = append([]Leg(nil), good.Legs...)
		spoil(&tr)
		for _, f := range []func() error{
			func() error { _, err := Solve(tr, Settings{}); return err },
			func() error { _, err := Locate(tr, Settings{}); return err },
			func() error { _, err := adjust(tr, Settings{}); return err },
		} {
			var in *inputError
			if err := f(); !errors.As(err, &in) {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

func TestWalk_ShowsTheGap(t *testing.T) {
	tr := ringOf(fivePoints)
	tr.Legs[2].Length += 3
	w := walked(tr)
	if len(w) != 6 || math.Abs(Distance(w[0], w[5])-3) > 1e-6 {
		t.Errorf("%v", w)
	}
	tr.Legs[0].Length = 0
	if walked(tr) != nil {
		t.Error("a leg without a length was walked")
	}
}

func TestOpen_NothingChecksIt(t *testing.T) {
	tr := linkOf([]Point{{0, 0}, {100, 10}, {210, -30}}, 0, 0)
	tr.End = Known{}
	r, err := Solve(tr, handbookSettings(reduce.Arcsecond))
	if err != nil {
		t.Fatal(err)
	}
	if r.Carried.Control != Unchecked || r.Carried.Angular != nil || r.Carried.Linear != nil || r.Adjusted.Dof != 0 {
		t.Errorf("%+v", r.Carried)
	}
	if got := r.Carried.Control.String(); got != "Open: nothing checks this traverse." {
		t.Error(got)
	}
	if s, err := Locate(tr, handbookSettings(reduce.Arcsecond)); err != nil || s.Verdict != noCheck {
		t.Errorf("%v %v", s, err)
	}
	if Distance(r.Carried.Points[2], Point{210, -30}) > 1e-6 {
		t.Errorf("carried to %v", r.Carried.Points[2])
	}
}

// walked returns the places of the stations carried from the start with nothing
// spread, and last where the walk ends: one more than there are legs. The gap of a ring
// is between its last place and its first. It returns nil where a length is missing
// or the traverse cannot be worked.
func walked(t Traverse) []Point {
	if t.check() != nil || !t.measured() {
		return nil
	}
	_, points := t.walk(t.bearings(nil))
	return points
}
