package network

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/traverse"
	"pgregory.net/rapid"
)

// anyInput draws a book that need not make sense: names used anyhow, directions
// and distances at random, some of it known.
func anyInput(t *rapid.T) Input {
	names := []string{"Weir", "Alder", "Quarry", "Mast", "Chapel", "Spire, the old one on the hill"}
	name := rapid.SampledFrom(names)
	in := Input{Settings: DefaultSettings()}
	if rapid.Bool().Draw(t, "by hand") {
		in.Settings.AngleStep, in.Settings.LengthStep = reduce.Arcsecond, 0.01
	}
	setups := rapid.IntRange(0, 8).Draw(t, "setups")
	for k := range setups {
		m := day.Summary{Setup: k + 1, Station: name.Draw(t, "station"),
			Instrument: spec.Instrument{LeastCount: 5 * reduce.Arcsecond, Unit: rapid.SampledFrom(reduce.Units()).Draw(t, "unit")},
			Figure:     spec.Limit{Value: 10 * reduce.Arcsecond, From: spec.CommonPractice}}
		for _, to := range names {
			if to == m.Station || !rapid.Bool().Draw(t, "sighted") {
				continue
			}
			l := day.SightLine{Target: to, Direction: reduce.DirectionAt(reduce.Angle(rapid.Int64Range(0, int64(reduce.Turn)-1).Draw(t, "direction")))}
			if rapid.Bool().Draw(t, "measured") {
				l.Horizontal = rapid.Float64Range(0.001, 1e5).Draw(t, "distance")
				l.Rise, l.HasRise = rapid.Float64Range(-1e3, 1e3).Draw(t, "rise"), rapid.Bool().Draw(t, "has rise")
			}
			m.Sights = append(m.Sights, l)
		}
		in.Setups = append(in.Setups, m)
	}
	for _, s := range names {
		if rapid.Bool().Draw(t, "known") {
			k := event.KnownStation{Name: s, East: float64(rapid.IntRange(0, 3).Draw(t, "east")), North: float64(rapid.IntRange(0, 3).Draw(t, "north"))}
			if rapid.Bool().Draw(t, "height known") {
				k.Elev = new(float64)
			}
			in.Known = append(in.Known, k)
		}
	}
	if rapid.Bool().Draw(t, "bearing") {
		in.Bearings = []KnownBearing{{From: name.Draw(t, "from"), To: name.Draw(t, "to"), Bearing: reduce.DirectionAt(reduce.Degree)}}
	}
	return in
}

// Whatever stands in the book, the report is made, its lines fit 80 columns and
// its figures are numbers.
func TestWork_AnyBook(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Work(anyInput(t))
		text := Text(r) + strings.Join(r.standing(), "\n")
		if strings.Contains(text, "NaN") || strings.Contains(text, "Inf") || strings.Contains(text, "%!") {
			t.Fatalf("no number:\n%s", text)
		}
		for _, l := range strings.Split(Text(r), "\n") {
			if n := utf8.RuneCountInString(l); n > 80 {
				t.Fatalf("%d columns: %s", n, l)
			}
		}
		for _, p := range r.Places() {
			if math.IsNaN(p.Point.E + p.Point.N) {
				t.Fatalf("%+v", p)
			}
		}
	})
}

// Two known bearings without any coordinates or distances: the angles close.
func TestLink_BearingsOnly(t *testing.T) {
	c := newCrew(t)
	sightOnly := func(from, to string) sight { s := brackenfold.see(from, to); s.length = ""; return s }
	c.occupy("Weir", true, sightOnly("Weir", "Spire"), sightOnly("Weir", "Alder"))
	c.occupy("Alder", true, sightOnly("Alder", "Weir"), sightOnly("Alder", "Quarry"))
	c.occupy("Quarry", true, sightOnly("Quarry", "Alder"), sightOnly("Quarry", "Spire"))
	in := c.input()
	for _, s := range []string{"Weir", "Quarry"} {
		b, _ := traverse.Bearing(brackenfold[s], brackenfold["Spire"])
		in.Bearings = append(in.Bearings, KnownBearing{From: s, To: "Spire", Bearing: b})
	}
	r := Work(in)
	if len(r.Figures) != 1 || r.Figures[0].Result.Carried.Control != traverse.AnglesOnly || !met(r) {
		t.Error(Text(r))
	}
}

// Two known stations in one ring: the ring closes, and so does the link between
// them on its coordinates.
func TestRing_WithTwoKnownStations(t *testing.T) {
	c := walkRing(t, ringNames, nil)
	in := c.input()
	for _, s := range []string{"Weir", "Alder", "Mast"} {
		in.Known = append(in.Known, event.KnownStation{Name: s, East: brackenfold[s].E, North: brackenfold[s].N})
	}
	r := Work(in)
	kinds := ""
	for _, f := range r.Figures {
		kinds += f.Kind.String() + " "
		for i, s := range f.Stations {
			if d := traverse.Distance(f.Result.Adjusted.Points[i], brackenfold[s]); d > 0.01 {
				t.Errorf("%s in the %s is %.3f off", s, f.Kind, d)
			}
		}
	}
	if !strings.HasPrefix(kinds, "ring link") || !met(r) {
		t.Error(Text(r))
	}
}

// A triangle observed in whole degrees and hundreds of metres, as it prints.
func ExampleText() {
	var in Input
	in.Settings = DefaultSettings()
	names := []string{"Weir", "Alder", "Quarry"}
	for k, at := range names {
		back, fore := names[(k+2)%3], names[(k+1)%3]
		in.Setups = append(in.Setups, day.Summary{Setup: k + 1, Station: at, RO: back,
			Instrument: spec.Instrument{Name: "T-5", LeastCount: 5 * reduce.Arcsecond, Unit: reduce.DMS},
			Figure:     spec.Limit{Value: 10 * reduce.Arcsecond, From: spec.CommonPractice},
			Sights: []day.SightLine{{Target: back, Horizontal: 100},
				{Target: fore, Direction: reduce.DirectionAt(300*reduce.Degree + 2*reduce.Arcsecond), Horizontal: 100}}})
	}
	in.Known = []event.KnownStation{{Name: "Weir", East: 1000, North: 2000}}
	in.Bearings = []KnownBearing{{From: "Weir", To: "Alder"}}
	fmt.Print(Text(Work(in)))
	// Output:
	// Ring Weir–Alder–Quarry–Weir: closes.
	//   + The 3 exterior angles miss 900°00′00″ by +6″, limit 17.3″. (10″ × √3,
	//     common practice)
	//   + The coordinates close to the millimetre in 300.000 m; the limit is 1 in
	//     5000. (WAC 332-130-090)
	//   From the known station Weir, with the known bearing to Alder.
	//
	//   Station                    Angle     Corr.      Bearing on    Length m
	//   Weir                  300°00′02″       −2″        0°00′00″     100.000
	//   Alder                 300°00′02″       −2″      120°00′00″     100.000
	//   Quarry                300°00′02″       −2″      240°00′00″     100.000
	//
	//   Leg              Departure    mm   Latitude    mm  Bearing adj. Length adj.
	//   Weir–Alder           0.000     0    100.000     0      0°00′00″     100.000
	//   Alder–Quarry        86.603     0    −50.000     0    120°00′00″     100.000
	//   Quarry–Weir        −86.603     0    −50.000     0    240°00′00″     100.000
	//
	//                      Compass rule E, N      Least squares E, N     Ellipse mm
	//   Weir            1000.000    2000.000    1000.000    2000.000          given
	//   Alder           1000.000    2100.000    1000.000    2100.000   1.8 0.0   0°
	//   Quarry          1086.603    2050.000    1086.603    2050.000   2.4 1.5 179°
	//   Least squares: s₀ 0.23 with 3 degrees of freedom; ellipses are standard ones
	//   (39 %; × 2.45 for 95 %).
	//
	// Distances there and back (limits: common practice, no source)
	//   + Weir–Alder: distance 100.000 m, there and back 0 mm apart, limit 11 mm.
	//   + Weir–Quarry: distance 100.000 m, there and back 0 mm apart, limit 11 mm.
	//   + Alder–Quarry: distance 100.000 m, there and back 0 mm apart, limit 11 mm.
	//
	// Everything together, by least squares
	//   + The network agrees: s₀² 0.02, limits 0.21 and 2.41 with 6 more
	//     observations than needed; the standard deviations are stated larger than
	//     they are. (χ² at 5 %, single observations at 0.1 % risk)
	//   Datum: one known station and a known bearing.
	//
	//   Place                       E m            N m          Ellipse 95 % mm
	//   Weir                   1000.000       2000.000                     held
	//   Quarry                 1086.603       2050.000             7.2 4.9   2°
	//   Alder                  1000.000       2100.000             5.6 0.1   0°
	//   The σ of directions is not stated and the rounds are too few to say it: it
	//   is taken from the least count.
	//   σ: one direction of one round as stated, or from the rounds; distances 3.0
	//   mm + 2 ppm where none is stated; centring 2.0 mm; known stations held; known
	//   bearings 5″.
	//
	//   Observation                           v       w      r   slip that shows
	//   Weir Quarry                        1.0″    0.28   0.31             47.2″
	//   Weir–Quarry                      0.0 mm    0.00   0.69           20.5 mm
	//   Weir Alder                        −1.0″    0.28   0.31             47.2″
	//   Weir–Alder                       0.0 mm    0.00   0.69           20.5 mm
	//   Alder Weir                         1.0″    0.28   0.31             47.2″
	//   Alder–Weir                       0.0 mm    0.00   0.69           20.5 mm
	//   Alder Quarry                      −1.0″    0.28   0.31             47.2″
	//   Alder–Quarry                     0.0 mm    0.00   0.69           20.5 mm
	//   Quarry Alder                       1.0″    0.28   0.31             47.2″
	//   Quarry–Alder                     0.0 mm    0.00   0.69           20.5 mm
	//   Quarry Weir                       −1.0″    0.28   0.31             47.2″
	//   Quarry–Weir                      0.0 mm    0.00   0.69           20.5 mm
	//   Weir Alder known                   0.0″       –   0.00        none shows
	//   v adjusted − observed; w beyond 3.29 does not fit; r the part of a slip that
	//   shows.
	//
	// Orientation
	//   At Weir (setup 1) the RO Quarry bears 59°59′58″, from Alder.
	//   At Alder (setup 2) the RO Weir bears 180°00′00″, from Weir.
}

// standing is State in sentences.
func (r Report) standing() []string {
	var out []string
	for _, c := range r.State() {
		out = append(out, c.Text)
		if c.Again != "" {
			out = append(out, upper(c.Again)+".")
		}
	}
	return out
}
