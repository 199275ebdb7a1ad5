package network

import (
	"math"
	"strings"
	"testing"

	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
)

func arc(d, m, s int64) reduce.Angle {
	return reduce.Angle(d)*reduce.Degree + reduce.Angle(m)*reduce.Arcminute + reduce.Angle(s)*reduce.Arcsecond
}

// P18: B.C. Punmia, Surveying vol. 2 (inputs read in a scan, printed answers from
// memory): S is 5.8 m from A; from S: A 0 00 00, B 132 18 30, C 232 24 06, D 296 06 11;
// AB 3265.5, AC 4022.2, AD 3086.4. From A: B 132 23 00.9, C 232 20 10.4, D 296 00 22.9.
// The centre is the direction 0 of the circle; B is the RO here, so the directions are
// counted from it.
func TestCentre_Punmia(t *testing.T) {
	b := arc(132, 18, 30)
	m := day.Summary{Setup: 1, Station: "A", RO: "B", Instrument: spec.Instrument{Unit: reduce.DMS, LeastCount: reduce.Arcsecond, Sigma: reduce.Arcsecond}, Sights: []day.SightLine{
		{Target: "B"}, {Target: "C", Direction: reduce.DirectionAt(arc(232, 24, 6) - b)}, {Target: "D", Direction: reduce.DirectionAt(arc(296, 6, 11) - b)}}}
	// The distances are those between the marks: they come from other setups.
	far := func(n int, to string, d float64) day.Summary {
		return day.Summary{Setup: n, Station: to, RO: "A", Instrument: m.Instrument, Sights: []day.SightLine{{Target: "A", Horizontal: d}}}
	}
	in := Input{Settings: DefaultSettings(), Setups: []day.Summary{m, far(2, "B", 3265.5), far(3, "C", 4022.2), far(4, "D", 3086.4)},
		Centres: []event.CentreNoted{{Setup: 1, Distance: 5800 * lengths.Millimetre, Angle: -b}}}
	n := newNet(in)
	got := map[string]float64{}
	for _, l := range n.in.Setups[0].Sights {
		got[l.Target] = l.Direction.Angle().Seconds()
	}
	for name, want := range map[string]float64{"B": 0, "C": (232-132)*3600 + (20-23)*60 + 10.4 - 0.9, "D": (296-132)*3600 + (0-23)*60 + 22.9 - 0.9} {
		if math.Abs(got[name]-want) > 0.15 {
			t.Errorf("%s: %.2f″, printed %.2f″", name, got[name], want)
		}
	}
	if len(n.centredSights) != 3 || !strings.Contains(n.centredSights[0].String(), "A to B (setup 1): direction +4′31″") && !strings.Contains(n.centredSights[0].String(), "+0°04′31″") {
		t.Errorf("%v", n.centredSights)
	}
}

// A true triangle, seen from beside a mark and to a target beside its own, comes back to
// the directions and distances between the marks to the micrometre.
func TestCentre_BackToTheMarks(t *testing.T) {
	type point struct{ e, n float64 }
	station, target, ro := point{0, 0}, point{300, 400}, point{-200, 350}
	stood, seen := point{3, -2}, point{300.4, 399.1} // the instrument, and what was sighted of the target
	bearing := func(a, b point) float64 { return math.Atan2(b.e-a.e, b.n-a.n) }
	length := func(a, b point) float64 { return math.Hypot(b.e-a.e, b.n-a.n) }
	angle := func(r float64) reduce.Angle { return reduce.FromRadians(r).Normalize() }
	zero := bearing(stood, ro)
	m := day.Summary{Setup: 1, Station: "W", RO: "R", Refraction: 1, Sights: []day.SightLine{ // in a plane: no curvature
		{Target: "R", Horizontal: length(stood, ro)},
		{Target: "T", Direction: reduce.DirectionAt(angle(bearing(stood, seen) - zero)), Horizontal: length(stood, seen), Rise: 1, HasRise: true}}}
	// At the target the angle is counted from its mark to the station as sighted: the line
	// to the instrument is reduced first, then the target's, so the angle is that between
	// the mark and the station's mark.
	in := Input{Settings: DefaultSettings(), Setups: []day.Summary{m}, Centres: []event.CentreNoted{
		{Setup: 1, Distance: lengths.FromMetres(length(stood, station)), Angle: angle(bearing(stood, station) - zero)},
		{Setup: 1, Target: "T", Distance: lengths.FromMetres(length(seen, target)), Angle: angle(bearing(seen, station) - bearing(seen, target))}}}
	l := newNet(in).in.Setups[0].Sights[1]
	want := angle(bearing(station, target) - bearing(station, ro))
	if off := (l.Direction.Angle() - want).Wrap().Seconds(); math.Abs(off) > 0.001 {
		t.Errorf("direction %.4f″ off", off)
	}
	if math.Abs(l.Horizontal-500) > 1e-6 || l.HasRise {
		t.Errorf("distance %.7f, rise %v", l.Horizontal, l.HasRise)
	}
}

// Without any distance a sight beside its mark can't be reduced: it is left out, and told.
func TestCentre_WithoutDistance(t *testing.T) {
	m := day.Summary{Setup: 1, Station: "W", RO: "R", Sights: []day.SightLine{{Target: "R"}, {Target: "T", Direction: reduce.DirectionAt(arc(90, 0, 0))}}}
	r := Work(Input{Settings: DefaultSettings(), Setups: []day.Summary{m}, Centres: []event.CentreNoted{{Setup: 1, Target: "T", Distance: lengths.Metre}}})
	if text := strings.Join(strings.Fields(Text(r)), " "); !strings.Contains(text, "The sight from W to T (setup 1) is left out") {
		t.Error(text)
	}
}

// P33: level net of nine differences (Polish course work, zanotowane.pl 14/4329), keyed
// as levelled: H 231.3197, 232.5595, 232.5793. With s₀ 6.08 mm and 1 mm said for each
// the test fails; the worst is L5, −11.7 mm. A rise of the tripod that stands holds it.
func TestLevels_PolishNet(t *testing.T) {
	levels, err := ParseLevels([]byte("from,to,rise,sd\nH4,1,.934,1\n1,H5,.337,1\nH4,2,2.170,1\n2,H6,2.505,1\nH5,3,.935,1\n3,H6,2.488,1\n1,2,1.243,1\n1,3,1.257,1\n3,2,-.017,1\n"))
	if err != nil {
		t.Fatal(err)
	}
	known := func(name string, h float64) event.KnownStation { return event.KnownStation{Name: name, Elev: &h} }
	in := Input{Settings: DefaultSettings(), Levels: levels, Known: []event.KnownStation{known("H4", 230.387), known("H5", 231.656), known("H6", 235.061)},
		Setups: []day.Summary{{Setup: 1, Station: "W", RO: "V", Sights: []day.SightLine{{Target: "V"}}}}}
	together := Work(in).Together
	want := map[string]float64{"1": 231.3197, "2": 232.5595, "3": 232.5793}
	for i, h := range together.Heights.Heights {
		if x, ok := want[together.HeightNames[i]]; ok && math.Abs(h-x) > 0.00005 {
			t.Errorf("height of %s: %.5f, printed %.4f", together.HeightNames[i], h, x)
		}
	}
	if math.Abs(together.Heights.S0-6.08) > 0.005 || !together.heightsFailed() || !strings.Contains(together.heightsVerdict(), "the rise H5–3 (levelled)") {
		t.Errorf("s₀ %.3f: %s", together.Heights.S0, together.heightsVerdict())
	}
	if _, ok := together.heightCheck(); ok {
		t.Error("a tripod is held that took no part in it")
	}
	for _, bad := range []string{"", "a,b\n", "from,to,rise,sd\nA,A,1,1\n", "from,to,rise,sd\nA,B,x,1\n", "from,to,rise,sd\nA,B,1,0\n", "from,to,rise,sd\nA,B,1\n"} {
		if _, err := ParseLevels([]byte(bad)); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
}

// A rise 0.2 m wrong, measured from the tripod that stands, holds it and says what to
// measure again; levelled and trigonometric differences are one network.
func TestHeights_HoldTheTripod(t *testing.T) {
	sight := func(rise float64) []day.SightLine {
		return []day.SightLine{{Target: "V", Horizontal: 100, Rise: rise, HasRise: true, Rounds: 2}}
	}
	in := Input{Settings: DefaultSettings(), Levels: []event.LevelledRise{{From: "W", To: "V", Rise: 2 * lengths.Metre, SD: lengths.Millimetre}},
		Setups: []day.Summary{{Setup: 1, Station: "W", RO: "V", Instrument: spec.Instrument{LeastCount: reduce.Arcsecond}, Sights: sight(2.2)}}}
	r := Work(in)
	if c, ok := r.Together.heightCheck(); !ok || !strings.Contains(c.Again, "both heights to V again") {
		t.Errorf("%v %+v", ok, c)
	}
	if misses := strings.Join(r.Misses(), " "); !strings.Contains(misses, "Heights together do not agree") {
		t.Error(misses)
	}
	in.Setups[0].Sights = sight(2.001)
	if misses := Work(in).Misses(); len(misses) > 0 {
		t.Error(misses)
	}
}

// Every setting can be set by its name and is listed with it; what a book has recorded
// lies over the defaults and keeps its place until it is taken back.
func TestSettings_ByName(t *testing.T) {
	s := DefaultSettings()
	for _, x := range s.List(nil) {
		value := x.Value/2 + 0.01
		if x.Name == "bearing-zero" { // north or south, nothing between
			value = 180
		}
		if x.Name == "bearing-quadrants" { // yes or no
			value = 1
		}
		if x.Name == "grid-scale" { // near 1, or none
			value = 0.9996
		}
		got, err := s.With(x.Name, value, "the test")
		if err != nil {
			t.Fatal(err)
		}
		for _, y := range got.List(nil) {
			if y.Name == x.Name && math.Abs(y.Value-value) > 1e-6 || y.Name != x.Name && y.Value != valueOf(s, y.Name) {
				t.Errorf("%s set to %g: %s is %g", x.Name, value, y.Name, y.Value)
			}
		}
		if _, err := s.With(x.Name, -1, ""); err == nil || !strings.Contains(err.Error(), "--"+x.Name) {
			t.Error(err)
		}
	}
	half := 0.5
	got, err := s.Recorded([]event.FigureValue{{Name: "centring", Value: &half}, {Name: "risk"}})
	if err != nil || got.Centring != 0.5 || got.Limits != s.Limits {
		t.Errorf("%+v, %v", got, err)
	}
	if _, err := s.Recorded([]event.FigureValue{{Name: "nothing", Value: &half}}); err == nil {
		t.Error("a setting of no name is taken")
	}
}

func valueOf(s Settings, name string) float64 {
	for _, x := range s.List(nil) {
		if x.Name == name {
			return x.Value
		}
	}
	return math.NaN()
}

// A book whose places are local is laid onto three known points: the square of 100 m,
// turned by a quarter clockwise and shifted, one corner 3 mm off in the file. The fit
// spreads the 3 mm (worked by hand: the mean shift is a third of it).
func TestOnto_LocalSquare(t *testing.T) {
	at := map[string][2]float64{"A": {0, 0}, "B": {100, 0}, "C": {100, 100}, "D": {0, 100}}
	var in Input
	in.Settings = DefaultSettings()
	names := []string{"A", "B", "C", "D"}
	for i, from := range names {
		m := day.Summary{Setup: i + 1, Station: from, RO: names[(i+1)%4], Instrument: spec.Instrument{LeastCount: reduce.Arcsecond, Sigma: reduce.Arcsecond, Unit: reduce.DMS}}
		zero := math.Atan2(at[m.RO][0]-at[from][0], at[m.RO][1]-at[from][1])
		for k := 1; k < 4; k++ {
			to := names[(i+k)%4]
			de, dn := at[to][0]-at[from][0], at[to][1]-at[from][1]
			m.Sights = append(m.Sights, day.SightLine{Target: to, Rounds: 2, Horizontal: math.Hypot(de, dn), Direction: reduce.DirectionAt(reduce.FromRadians(math.Atan2(de, dn) - zero).Normalize())})
		}
		in.Setups = append(in.Setups, m)
	}
	// Turned clockwise by 90°: E' = n, N' = −e.
	onto := []event.KnownStation{{Name: "A", East: 1000, North: 2000}, {Name: "B", East: 1000, North: 1900}, {Name: "C", East: 1100.003, North: 1900}, {Name: "Elsewhere", East: 5, North: 5}}
	laid, err := Onto(in, onto, true)
	if err != nil {
		t.Fatal(err)
	}
	var sumE, sumN float64
	for _, c := range laid.Common {
		sumE, sumN = sumE+c.Residual.E, sumN+c.Residual.N
	}
	if len(laid.Common) != 3 || len(laid.Places) != 4 || math.Abs(sumE) > 1e-9 || math.Abs(sumN) > 1e-9 || math.Abs(laid.Scale()-1) > 1e-12 {
		t.Errorf("%+v", laid)
	}
	for _, p := range laid.Places {
		if p.Name == "D" && math.Hypot(p.At.E-1100.001, p.At.N-2000) > 0.003 {
			t.Errorf("D at %v", p.At)
		}
	}
	if text := laid.Page().String(TextWidth); !strings.Contains(text, "Laid onto 3 known stations") || !strings.Contains(text, "off in E") {
		t.Error(text)
	}
	if _, err := Onto(in, onto[3:], true); err == nil || !strings.Contains(err.Error(), "0 of the book's 4 places") {
		t.Error(err)
	}
}
