package network

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/reduce/slope"
	"example.org/readback/reduce/traverse"
)

// The scale of a strip with 0.9996 on its middle meridian: that by definition, 1 about 180
// km beside it (common practice, no source), and everywhere that of the sphere, k₀·cosh u.
func TestGridScale(t *testing.T) {
	s := Settings{GridScale: 0.9996, GridEast: 500e3}
	if k := s.gridScale(500e3); k != 0.9996 {
		t.Error(k)
	}
	if k := s.gridScale(680e3); math.Abs(k-1) > 5e-6 || s.gridScale(320e3) != k {
		t.Error(k)
	}
	for e := 200e3; e <= 800e3; e += 50e3 {
		want := 0.9996 * math.Cosh((e-500e3)/(0.9996*slope.EarthRadius))
		if k := s.gridScale(e); math.Abs(k-want) > 1e-9 {
			t.Errorf("%.0f: %.10f, want %.10f", e, k, want)
		}
	}
}

// groundLength is what a tape would measure of a line of the grid: the sum of its short
// pieces, each over the scale where it lies (10,000 pieces; no rule of three points).
func groundLength(a, b traverse.Point, k func(east float64) float64) float64 {
	const pieces = 10000
	sum, whole := 0.0, traverse.Distance(a, b)
	for i := range pieces {
		sum += whole / pieces / k(a.E+(b.E-a.E)*(float64(i)+0.5)/pieces)
	}
	return sum
}

// A link of kilometres on a grid, its distances as they are on the ground: brought to the
// grid along each line its places come out where they are; without it the link misses by
// decimetres.
func TestGrid_LinkOfKilometres(t *testing.T) {
	ground := plot{"Hill": {E: 300000, N: 50000}, "Weir": {E: 303000, N: 50500}, "Alder": {E: 308000, N: 51000}, "Quarry": {E: 312500, N: 49000}, "Mast": {E: 316000, N: 52000}, "Far": {E: 320000, N: 50000}}
	names := []string{"Weir", "Alder", "Quarry", "Mast"}
	real := func(e float64) float64 { return 0.9996 * math.Cosh((e-500e3)/(0.9996*slope.EarthRadius)) }
	see := func(from, to string) sight {
		s := ground.see(from, to)
		s.length = fmt.Sprintf("%.4f", groundLength(ground[from], ground[to], real))
		return s
	}
	c := newCrew(t)
	walk := append(append([]string{"Hill"}, names...), "Far")
	for i := 1; i < len(walk)-1; i++ {
		c.occupy(walk[i], true, see(walk[i], walk[i-1]), see(walk[i], walk[i+1]))
	}
	in := c.input()
	for i := range in.Setups {
		in.Setups[i].Refraction = 1 // the ground is flat here: no heights
	}
	for _, n := range []string{"Hill", "Weir", "Mast", "Far"} {
		in.Known = append(in.Known, event.KnownStation{Name: n, East: ground[n].E, North: ground[n].N})
	}
	in.Settings.GridScale, in.Settings.GridEast = 0.9996, 500e3
	r := Work(in)
	for _, name := range names {
		p, ok := r.Together.place(name)
		if off := traverse.Distance(p.At, ground[name]); !ok || off > 0.003 {
			t.Errorf("%s is off by %.4f m", name, off)
		}
	}
	if r.Together.Failed || len(r.Grid.Lines) != 5 || len(r.Grid.Above) != 4 {
		t.Errorf("%+v\n%s", r.Grid, Text(r))
	}
	for _, l := range r.Grid.Lines {
		// P29 of the checks: the factor of a line lies between those of its ends.
		a, b := real(ground[l.From].E), real(ground[l.To].E)
		if l.Scale < min(a, b) || l.Scale > max(a, b) {
			t.Errorf("%+v does not lie between %.8f and %.8f", l, a, b)
		}
	}
	if text := Text(r); !strings.Contains(text, "Distances brought to the grid") || !strings.Contains(text, "Not brought to sea level before it: setups 1, 2, 3, 4.") {
		t.Error(text)
	}

	in.Settings.GridScale = 0
	if r := Work(in); r.Grid != nil || !r.Together.Failed {
		t.Errorf("without a grid: %s", r.Together.Verdict())
	}
	in.Settings.GridScale = 0.9996
	in.Setups[1].Scaled = new(true)
	if r := Work(in); len(r.Grid.Keyed) != 1 {
		t.Errorf("%+v", r.Grid)
	}
	in.Known, in.Settings.GridEast = nil, 500e3
	if r := Work(in); r.Grid.Placed || len(r.Grid.Lines) != 0 || !strings.Contains(Text(r), "no known station says where") {
		t.Errorf("%+v", r.Grid)
	}
	in.Known, in.Settings.GridEast = known("Weir", "Mast"), 5e6
	if r := Work(in); !r.Grid.Far {
		t.Error(Text(r))
	}
}
