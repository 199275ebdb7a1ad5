package network

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"example.org/readback/booking/event"
	"example.org/readback/reduce"
)

// The standard deviations that heights will have are those of gonum's dense inverse of the
// normal equations of all planned rises, each weighted by altitude and heights of
// instrument and target (σ² = (D·σ_α)² + 2σ_h²).
func TestExpect_HeightsAgainstDenseInverse(t *testing.T) {
	rng := rand.New(rand.NewPCG(20260512, 41))
	for trial := range 10 {
		plan, points := drawPlan(rng)
		for i := range plan {
			plan[i].Distances, plan[i].Verticals = true, true
		}
		in := Input{Settings: DefaultSettings(), Known: points[:2]}
		in.Settings.AngleSD = 3 * reduce.Arcsecond
		height := 12.5
		in.Known[0].Elev = &height
		e, err := Expect(in, Planned{Stations: plan, Near: points})
		if err != nil {
			t.Fatal(err)
		}
		column, n := map[string]int{}, 0
		for _, p := range points[1:] {
			column[p.Name] = n
			n++
		}
		at := map[string]event.KnownStation{}
		for _, p := range points {
			at[p.Name] = p
		}
		normal := mat.NewSymDense(n, nil)
		add := func(i, j int, w float64) { normal.SetSym(i, j, normal.At(i, j)+w) }
		for _, s := range plan {
			for _, target := range append([]string{s.RO}, s.Targets...) {
				a, b := at[s.Station], at[target]
				d := math.Hypot(a.East-b.East, a.North-b.North)
				w := 1 / (math.Pow(d*in.Settings.AltitudeSD.Radians(), 2) + 2*math.Pow(in.Settings.HeightSD, 2))
				i, ok := column[a.Name]
				j, too := column[b.Name]
				if ok {
					add(i, i, w)
				}
				if too {
					add(j, j, w)
				}
				if ok && too {
					add(i, j, -w)
				}
			}
		}
		var q mat.Dense
		if err := q.Inverse(normal); err != nil {
			t.Fatal(err)
		}
		seen := 0
		for i, name := range e.HeightNames {
			want := 0.0
			if c, ok := column[name]; ok {
				want = math.Sqrt(q.At(c, c))
			}
			if got := e.Heights.SD[i]; math.Abs(got-want) > 1e-9 {
				t.Errorf("plan %d, height of %s: σ %.7f, gonum %.7f", trial, name, got, want)
			}
			seen++
		}
		if text := e.Page().String(TextWidth); seen != len(points) || !strings.Contains(text, "σ of heights: ") {
			t.Errorf("%d heights\n%s", seen, text)
		}
		in.Known[0].Elev = nil
		if e, err = Expect(in, Planned{Stations: plan, Near: points}); err != nil || !strings.Contains(e.Page().String(TextWidth), "No height is known: A is given one.") {
			t.Errorf("%v\n%s", err, e.Page().String(TextWidth))
		}
	}
}

// A point without coordinates is foreseen from the place the book gives it by now.
func TestExpect_PlacedAlready(t *testing.T) {
	in := walkRing(t, ringNames, nil).input()
	in.Known = known("Weir", "Alder")
	plan := []event.PlannedStation{{Station: "Quarry", RO: "Alder", Targets: []string{"Mast"}, Rounds: 4, Distances: true}, {Station: "Alder", RO: "Weir", Targets: []string{"Quarry"}, Rounds: 4, Distances: true}}
	e, err := Expect(in, Planned{Stations: plan})
	if err != nil || e.Weakest != "Mast" {
		t.Fatal(err)
	}
	for i, p := range e.Adjusted.Places {
		if want := brackenfold[e.Names[i]]; math.Hypot(p.At.E-want.E, p.At.N-want.N) > 0.02 {
			t.Errorf("%s at %+v, drawn at %+v", e.Names[i], p.At, want)
		}
	}
	in.Known = known("Weir") // one known station turns with any bearing
	if _, err := Expect(in, Planned{Stations: plan}); err == nil || !strings.Contains(err.Error(), "has no coordinates") {
		t.Error(err)
	}
}

// The net of a book, worked without its known stations, is laid onto them: a known
// coordinate 50 mm off shows there, and at the station that has it.
func TestOnto_OwnKnownStations(t *testing.T) {
	in := walkRing(t, ringNames, nil).input()
	in.Known = known(ringNames...)
	in.Known[2].East += 0.05
	laid, err := Onto(in, nil, true)
	if err != nil || len(laid.Common) != 5 {
		t.Fatal(err)
	}
	for _, c := range laid.Common {
		if off := math.Hypot(c.Residual.E, c.Residual.N); (off > 0.03) != (c.Name == "Quarry") {
			t.Errorf("%s is off by %.4f m", c.Name, off)
		}
	}
	in.Known = known("Weir")
	if _, err := Onto(in, nil, true); err == nil || !strings.Contains(err.Error(), "two or more") {
		t.Error(err)
	}
}
