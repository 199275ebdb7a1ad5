package network

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/traverse"
)

// drawPlan draws a plan on a jittered grid: every station sights all others nearer
// than 420 m, some with distances, each setup with its own rounds.
func drawPlan(rng *rand.Rand) (plan []event.PlannedStation, points []event.KnownStation) {
	for i := range 6 + rng.IntN(4) {
		points = append(points, event.KnownStation{Name: string(rune('A' + i)), East: 5000 + 200*float64(i%3) + 60*rng.Float64(), North: 8000 + 200*float64(i/3) + 60*rng.Float64()})
	}
	for i, p := range points {
		s := event.PlannedStation{Station: p.Name, Rounds: 2 + rng.IntN(4), Distances: i < 3 || rng.IntN(3) > 0}
		for _, q := range points {
			if q.Name == p.Name || math.Hypot(p.East-q.East, p.North-q.North) > 420 {
				continue
			}
			if s.RO == "" {
				s.RO = q.Name
				continue
			}
			s.Targets = append(s.Targets, q.Name)
		}
		plan = append(plan, s)
	}
	return plan, points
}

// densely returns the covariances of all points by gonum's dense inverse of the normal
// equations, orientations among the unknowns. Known points carry the standard deviation
// knownSD, or almost none. The partial derivatives are differences of the observations.
func densely(t *testing.T, in Input, plan []event.PlannedStation, points []event.KnownStation, rounds func(event.PlannedStation) int) map[string]traverse.Covariance {
	t.Helper()
	s := in.Settings
	x := make([]float64, 2*len(points))
	at := map[string]int{}
	for i, p := range points {
		at[p.Name], x[2*i], x[2*i+1] = i, p.East, p.North
	}
	size := len(x) + len(plan)
	var rows [][]float64
	add := func(sd float64, orientation int, f func() float64, of ...int) {
		row := make([]float64, size)
		for _, p := range of {
			for j := 2 * p; j < 2*p+2; j++ {
				was := x[j]
				x[j] = was + 1e-3
				up := f()
				x[j] = was - 1e-3
				row[j] = math.Remainder(up-f(), 2*math.Pi) / 2e-3 / sd
				x[j] = was
			}
		}
		if orientation >= 0 {
			row[len(points)*2+orientation] = -1e-5 / sd // in units of 0.00001 radian
		}
		rows = append(rows, row)
	}
	for set, p := range plan {
		a := at[p.Station]
		for _, target := range append([]string{p.RO}, p.Targets...) {
			b := at[target]
			length := func() float64 { return math.Hypot(x[2*b]-x[2*a], x[2*b+1]-x[2*a+1]) }
			across := s.Centring * math.Sqrt2
			add(math.Hypot(s.AngleSD.Radians()/math.Sqrt(float64(rounds(p))), across/length()), set,
				func() float64 { return math.Atan2(x[2*b]-x[2*a], x[2*b+1]-x[2*a+1]) }, a, b)
			if p.Distances {
				add(math.Hypot(math.Hypot(s.LengthSD, s.LengthPPM*1e-6*length()), across), -1, length, a, b)
			}
		}
	}
	for _, k := range in.Known {
		for j := range 2 {
			add(math.Max(s.KnownSD, 1e-7), -1, func() float64 { return x[2*at[k.Name]+j] }, at[k.Name])
		}
	}
	design := mat.NewDense(len(rows), size, nil)
	for i, r := range rows {
		design.SetRow(i, r)
	}
	var normal, q mat.Dense
	normal.Mul(design.T(), design)
	if err := q.Inverse(&normal); err != nil && !strings.Contains(err.Error(), "near-singular") {
		t.Fatal(err)
	}
	out := map[string]traverse.Covariance{}
	for i, p := range points {
		out[p.Name] = traverse.Covariance{EE: q.At(2*i, 2*i), EN: q.At(2*i, 2*i+1), NN: q.At(2*i+1, 2*i+1)}
	}
	return out
}

// eigen returns the larger half axis at 95 % by gonum's eigenvalues and the quantile of
// χ² with two degrees of freedom, −2·ln 0.05.
func eigen(t *testing.T, c traverse.Covariance) float64 {
	t.Helper()
	var e mat.EigenSym
	if !e.Factorize(mat.NewSymDense(2, []float64{c.EE, c.EN, c.EN, c.NN}), false) {
		t.Fatal("no eigenvalues")
	}
	return math.Sqrt(-2 * math.Log(0.05) * e.Values(nil)[1])
}

// What a plan brings is what gonum's dense inverse of the same normal equations gives:
// standard deviations, ellipses, the setup where one more round helps most, and the
// rounds that a wanted precision takes, that being the fewest.
func TestExpect_AgainstDenseInverse(t *testing.T) {
	rng := rand.New(rand.NewPCG(20260512, 17))
	for trial := range 20 {
		plan, points := drawPlan(rng)
		in := Input{Settings: DefaultSettings(), Known: points[:2+rng.IntN(2)]}
		in.Settings.AngleSD = reduce.Angle(1+rng.IntN(8)) * reduce.Arcsecond
		in.Settings.KnownSD = []float64{0, 0.004}[trial%2]
		isNew := points[len(in.Known):]
		weakest := func(q map[string]traverse.Covariance) (most float64) {
			for _, p := range isNew {
				most = max(most, eigen(t, q[p.Name]))
			}
			return most
		}
		same := func(k int) float64 {
			return weakest(densely(t, in, plan, points, func(event.PlannedStation) int { return k }))
		}
		planned := func(p event.PlannedStation) int { return p.Rounds }
		q := densely(t, in, plan, points, planned)
		want := same(6) * 1.0005
		e, err := Expect(in, Planned{Stations: plan, Near: points, Want: want})
		if err != nil {
			t.Fatal(err)
		}
		close := func(what string, got, want float64) {
			if math.Abs(got-want) > 2e-4*want+2e-6 {
				t.Errorf("plan %d, %s: %.7f, gonum %.7f", trial, what, got, want)
			}
		}
		for i, x := range e.Adjusted.Places {
			c := q[e.Names[i]]
			close("σE of "+e.Names[i], math.Sqrt(x.Covariance.EE), math.Sqrt(c.EE))
			close("σN of "+e.Names[i], math.Sqrt(x.Covariance.NN), math.Sqrt(c.NN))
			close("ellipse of "+e.Names[i], x.Ellipse95().A, eigen(t, c))
		}
		close("the weakest", e.Within, weakest(q))
		best := math.Inf(1)
		for i := range plan {
			best = min(best, weakest(densely(t, in, plan, points, func(p event.PlannedStation) int {
				if p.Station == plan[i].Station {
					return p.Rounds + 1
				}
				return p.Rounds
			})))
		}
		close("one more round", e.MoreTo, best)
		if e.Rounds > 6 || e.Rounds == 0 || same(e.Rounds) > want*1.0003 || e.Rounds > leastRounds && same(e.Rounds-1) < want*0.9997 {
			t.Errorf("plan %d: %d rounds for %.7f; gonum: %.7f, one less %.7f", trial, e.Rounds, want, same(e.Rounds), same(e.Rounds-1))
		}
	}
}

// What rounds can't reach is said, and so are a point without coordinates, two at one
// place, and a point that the plan only sights once.
func TestExpect_WhatCannotBe(t *testing.T) {
	known := []event.KnownStation{{Name: "Weir"}, {Name: "Alder", East: 300}}
	near := []event.KnownStation{{Name: "Mast", East: 120, North: 240}}
	plan := []event.PlannedStation{{Station: "Weir", RO: "Alder", Targets: []string{"Mast"}, Rounds: 2}, {Station: "Alder", RO: "Weir", Targets: []string{"Mast"}, Rounds: 2}}
	in := Input{Settings: DefaultSettings(), Known: known}
	e, err := Expect(in, Planned{Stations: plan, Near: near, Want: 0.0001})
	if err != nil {
		t.Fatal(err)
	}
	said := e.Page().String(TextWidth)
	joined := strings.Join(strings.Fields(said), " ")
	for _, want := range []string{"Datum: 2 known stations.", "not stated", "Weakest place: Mast", fmt.Sprintf("%d rounds at every setup, the most that can be planned", spec.MaxRounds), "rounds alone do not reach it", "Nothing checks: "} {
		if !strings.Contains(joined, want) {
			t.Errorf("%q is not in\n%s", want, said)
		}
	}
	if e.Rounds != 0 || e.Reached <= 0.0001 {
		t.Errorf("rounds %d reach %g", e.Rounds, e.Reached)
	}
	for what, p := range map[string]Planned{
		"Mast has no coordinates": {Stations: plan},
		"stand at one place":      {Stations: plan, Near: []event.KnownStation{{Name: "Mast", East: 300}}},
		"there is no plan":        {Near: near},
	} {
		if _, err := Expect(in, p); err == nil || !strings.Contains(err.Error(), what) {
			t.Errorf("%v, expected %q", err, what)
		}
	}
	e, err = Expect(in, Planned{Stations: plan[:1], Near: near, Want: 0.01})
	if err != nil || len(e.Lost) != 1 || e.Lost[0] != "Mast" || e.Rounds != 0 {
		t.Fatalf("%v %+v", err, e)
	}
	if said := e.Page().String(TextWidth); !strings.Contains(said, "does not fix the place of Mast") {
		t.Error(said)
	}
}
