package network

import (
	"strings"
	"testing"

	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/traverse"
)

// A foot is 0.3048 m exactly (international yard and pound agreement, 1959): a triangle
// of 914.4, 1219.2 and 1524 m has sides of 3000, 4000 and 5000 ft. The print says which
// foot; without being asked it is in metres.
func TestPage_InFeet(t *testing.T) {
	at := map[string]traverse.Point{"Weir": {}, "Alder": {N: 914.4}, "Mast": {E: 1219.2, N: 914.4}}
	in := Input{Settings: DefaultSettings(), Known: []event.KnownStation{{Name: "Weir"}, {Name: "Alder", North: 914.4}}}
	for i, x := range [][3]string{{"Weir", "Alder", "Mast"}, {"Alder", "Mast", "Weir"}, {"Mast", "Weir", "Alder"}} {
		m := day.Summary{Setup: i + 1, Station: x[0], RO: x[1], Targets: x[2:], State: day.StateLifted, Figure: spec.Limit{Value: 10 * reduce.Arcsecond},
			Instrument: spec.Instrument{LeastCount: reduce.Arcsecond, Unit: reduce.DMS}}
		ro, _ := traverse.Bearing(at[x[0]], at[x[1]])
		for _, to := range x[1:] {
			b, _ := traverse.Bearing(at[x[0]], at[to])
			m.Sights = append(m.Sights, day.SightLine{Target: to, Rounds: 2, SD: 1, Direction: reduce.DirectionAt(b.Sub(ro)), Horizontal: traverse.Distance(at[x[0]], at[to])})
		}
		in.Setups = append(in.Setups, m)
	}
	r := Work(in)
	say := func(feet bool) string {
		r.Feet = feet
		return strings.Join(strings.Fields(Text(r)), " ")
	}
	said := say(true)
	for _, want := range []string{"international feet (1 ft = 0.3048 m exactly)", "Length ft", "Length adj.", " 3000.000", " 4000.000", " 5000.000", "Ellipse mft", "4000.000 3000.000 4000.000 3000.000"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not in\n%s", want, Text(r))
		}
	}
	if metric := say(false); strings.Contains(metric, "5000.000") || strings.Contains(metric, "feet") || !strings.Contains(metric, "Length m") || !strings.Contains(metric, "1524.000") {
		t.Error(metric)
	}
	feet := lengthsIn(true)
	for metres, want := range map[float64]string{0.3048: "+1000", -0.03048: "−100", 0: "0", 4: ">9 ft"} {
		if got := feet.thousandths(metres); got != want {
			t.Errorf("%g m: %s, expected %s", metres, got, want)
		}
	}
}
