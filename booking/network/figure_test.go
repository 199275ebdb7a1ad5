package network

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"

	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/slope"
	"example.org/readback/reduce/traverse"
)

// walkRing books a ring of stations, each sighting the one before and the one
// after; spoil may change what is seen. The last tripod is left standing.
func walkRing(t *testing.T, names []string, spoil func(at string, s *sight)) *crew {
	t.Helper()
	c := newCrew(t)
	c.least = 5 * reduce.Arcsecond
	k := len(names)
	for i, at := range names {
		back, fore := brackenfold.see(at, names[(i+k-1)%k]), brackenfold.see(at, names[(i+1)%k])
		if spoil != nil {
			spoil(at, &back)
			spoil(at, &fore)
		}
		c.occupy(at, i < k-1, back, fore)
	}
	return c
}

var ringNames = []string{"Weir", "Alder", "Quarry", "Mast", "Chapel"}

func TestRing_ClosesAsItIsObserved(t *testing.T) {
	c := walkRing(t, ringNames, nil)
	for n := range c.setups {
		in := c.input()
		in.Setups = in.Setups[:n+1]
		r := Work(in)
		closed := len(r.Figures) == 1 && r.Figures[0].Kind == Ring
		if closed != (n == 4) {
			t.Errorf("after %d setups:\n%s", n+1, Text(r))
		}
		switch n {
		case 0:
			if len(r.Figures) != 0 || len(r.Open) != 1 {
				t.Errorf("one setup:\n%s", Text(r))
			}
		case 1, 2, 3:
			f := r.Figures[0]
			if f.Kind != Open || f.Result.Carried.Control != traverse.Unchecked || len(f.Stations) != n+1 {
				t.Errorf("%d setups:\n%s", n+1, Text(r))
			}
		}
		if n == 3 && !strings.Contains(Text(r), "Chapel is sighted from Weir and Mast; occupied, it would close") {
			t.Errorf("before the last:\n%s", Text(r))
		}
	}
	r := Work(c.input())
	f := r.Figures[0]
	if !f.Met() || !met(r) || f.Result.Carried.Angular.N != 5 || len(r.Open) != 0 {
		t.Error(Text(r))
	}
	if len(r.Lines) != 5 || !r.Lines[0].Distance.Within() || r.Lines[0].Height == nil || r.Figures[0].Heights == nil {
		t.Errorf("%+v", r.Lines)
	}
}

// A degree misread at one station is found while the last tripod stands.
func TestRing_OneAngleExplainsIt(t *testing.T) {
	for _, bad := range ringNames {
		c := walkRing(t, ringNames, func(at string, s *sight) {
			i := map[string]string{"Weir": "Alder", "Alder": "Quarry", "Quarry": "Mast", "Mast": "Chapel", "Chapel": "Weir"}
			if at == bad && s.to == i[at] {
				s.direction += reduce.Degree
			}
		})
		r := Work(c.input())
		f := r.Figures[0]
		if f.Met() || met(r) || f.Search.Verdict != traverse.OneAngle || f.Search.Candidates[0].Name != bad {
			t.Fatalf("%s: %v\n%s", bad, f.Search.Verdict, Text(r))
		}
		text := strings.Join(strings.Fields(Text(r)), " ")
		for _, want := range []string{"does not close", "One angle explains it: the angle at " + bad, "close to whole degrees"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q is not said:\n%s", bad, want, Text(r))
			}
		}
		want := "Go back to " + bad
		if bad == "Chapel" {
			want = "Before this tripod is lifted, observe Mast and Weir again from here."
		}
		if !strings.Contains(text, want) {
			t.Errorf("%s: %q is not said:\n%s", bad, want, Text(r))
		}
	}
}

// A leg a metre long, measured so from both ends.
func TestRing_OneLegExplainsIt(t *testing.T) {
	c := walkRing(t, ringNames, func(at string, s *sight) {
		if at == "Chapel" && s.to == "Mast" || at == "Mast" && s.to == "Chapel" {
			s.length = "229.035" // 228.035
		}
	})
	r := Work(c.input())
	f := r.Figures[0]
	text := strings.Join(strings.Fields(Text(r)), " ")
	if f.Search.Verdict != traverse.OneLeg || !strings.Contains(text, "One leg explains it: Mast–Chapel.") ||
		!strings.Contains(text, "Before this tripod is lifted, measure the distance to Mast again") {
		t.Errorf("%+v\n%s", f.Search, Text(r))
	}
}

// The same slip at one end only: there and back say it at once.
func TestLines_ThereAndBack(t *testing.T) {
	c := walkRing(t, ringNames, func(at string, s *sight) {
		if at == "Chapel" && s.to == "Mast" {
			s.length = "229.035"
		}
	})
	r := Work(c.input())
	text := strings.Join(strings.Fields(Text(r)), " ")
	if met(r) || !strings.Contains(text, "Mast–Chapel: distance 228.035 m from Mast, 229.035 m from Chapel, there and back 1000 mm apart, limit 12 mm.") ||
		!strings.Contains(text, "Before this tripod is lifted, measure the distance to Mast again.") {
		t.Error(Text(r))
	}
}

func TestRing_WithoutDistances(t *testing.T) {
	c := walkRing(t, ringNames, func(at string, s *sight) {
		s.length = ""
		if at == "Alder" && s.to == "Quarry" {
			s.direction += deg(0, 10, 0)
		}
	})
	r := Work(c.input())
	text := strings.Join(strings.Fields(Text(r)), " ")
	if !strings.Contains(text, "Without the distances one station cannot be told from another. The misclosure is close to tens of minutes") ||
		!strings.Contains(text, "Before this tripod is lifted, observe Mast and Weir again from here.") {
		t.Error(Text(r))
	}
}

// Four stations that all sight each other: the outer ring and two triangles
// that do not follow from it.
func TestRings_BracedQuadrilateral(t *testing.T) {
	c := newCrew(t)
	names := ringNames[:4]
	for _, at := range names {
		var ss []sight
		for _, to := range names {
			if to != at {
				ss = append(ss, brackenfold.see(at, to))
			}
		}
		c.occupy(at, true, ss...)
	}
	r := Work(c.input())
	if len(r.Figures) != 3 || len(r.Figures[0].Stations) != 4 || len(r.Figures[1].Stations) != 3 || len(r.Figures[2].Stations) != 3 || !met(r) {
		t.Error(Text(r))
	}
}

// A link between two pairs of known stations, the spire seen from the first.
func TestLink_BetweenKnownStations(t *testing.T) {
	c := newCrew(t)
	see := brackenfold.see
	c.occupy("Weir", true, see("Weir", "Spire"), see("Weir", "Alder"))
	c.occupy("Alder", true, see("Alder", "Weir"), see("Alder", "Quarry"))
	c.occupy("Quarry", true, see("Quarry", "Alder"), see("Quarry", "Mast"))
	c.occupy("Mast", false, see("Mast", "Quarry"), see("Mast", "Spire"))
	in := c.input()
	for _, n := range []string{"Weir", "Mast", "Spire"} {
		in.Known = append(in.Known, event.KnownStation{Name: n, East: brackenfold[n].E, North: brackenfold[n].N})
	}
	r := Work(in)
	if len(r.Figures) != 1 || r.Figures[0].Kind != Link || r.Figures[0].Result.Carried.Control != traverse.AnglesAndLengths || !met(r) {
		t.Fatal(Text(r))
	}
	f := r.Figures[0]
	for i, s := range f.Stations {
		if traverse.Distance(f.Result.Adjusted.Points[i], brackenfold[s]) > 0.005 {
			t.Errorf("%s: %v", s, f.Result.Adjusted.Points[i])
		}
	}
	if !strings.Contains(Text(r), "The bearing carried from Mast to Spire misses the known one by") {
		t.Error(Text(r))
	}
}

// Two known targets from one station: the angle between them is held against
// their coordinates.
func TestKnown_WrongTargetShowsAtOnce(t *testing.T) {
	c := newCrew(t)
	wrong := brackenfold.see("Weir", "Mast")
	wrong.direction += deg(0, 5, 0)
	c.occupy("Weir", false, brackenfold.see("Weir", "Spire"), wrong)
	in := c.input()
	for _, n := range []string{"Weir", "Mast", "Spire"} {
		in.Known = append(in.Known, event.KnownStation{Name: n, East: brackenfold[n].E, North: brackenfold[n].N})
	}
	r := Work(in)
	if len(r.Checks) != 1 || r.Checks[0].Met || met(r) || len(r.Misses()) != 1 {
		t.Error(Text(r))
	}
	lifted := time.Date(2026, 5, 4, 18, 0, 0, 0, time.UTC)
	in.Setups[0].Lifted = &lifted
	in.Setups = append(in.Setups, day.Summary{Setup: 2, Station: "We", RO: "Spire"})
	if m := Work(in).Misses(); len(m) != 0 {
		t.Errorf("it holds the tripod on another station: %q", m)
	}
}

func TestStation_OccupiedTwice(t *testing.T) {
	c := walkRing(t, ringNames, nil)
	moved := brackenfold.see("Alder", "Quarry")
	moved.direction += deg(0, 1, 0)
	c.occupy("Alder", true, brackenfold.see("Alder", "Weir"), moved)
	r := Work(c.input())
	if len(r.Checks) != 1 || r.Checks[0].Met || r.Checks[0].Name != "twice" || r.Figures[0].Setups[1] != 6 {
		t.Error(Text(r))
	}
}

func TestOpen_OneSided(t *testing.T) {
	c := newCrew(t)
	c.occupy("Weir", true, brackenfold.see("Weir", "Spire"), brackenfold.see("Weir", "Alder"))
	c.occupy("Alder", false, brackenfold.see("Alder", "Spire"), brackenfold.see("Alder", "Quarry"))
	text := Text(Work(c.input()))
	for _, want := range []string{"No ring and no link yet.", "Weir sights Alder, but Weir has not been sighted from here yet.", "Spire is sighted from Weir and Alder"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said:\n%s", want, text)
		}
	}
}

func TestText_Width(t *testing.T) {
	c := walkRing(t, ringNames, func(at string, s *sight) {
		if at == "Alder" && s.to == "Quarry" {
			s.direction += reduce.Degree
		}
	})
	text := Text(Work(c.input()))
	for _, l := range strings.Split(text, "\n") {
		if utf8.RuneCountInString(l) > 80 {
			t.Errorf("%d columns: %s", utf8.RuneCountInString(l), l)
		}
	}
	t.Log("\n" + text)
}

// The rings of a net are as many as it has legs beyond a tree (Euler), whatever
// the order of occupation.
func TestRings_AsManyAsTheNetHas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(3, 9).Draw(t, "stations")
		var in Input
		legs, comp := 0, make([]int, k)
		sees := make([][]day.SightLine, k)
		for a := range k {
			comp[a] = a
		}
		for a := range k {
			for b := range a {
				if !rapid.Bool().Draw(t, "leg") {
					continue
				}
				legs++
				sees[a] = append(sees[a], day.SightLine{Target: string(rune('A' + b)), Direction: reduce.DirectionAt(reduce.Angle(b) * reduce.Degree)})
				sees[b] = append(sees[b], day.SightLine{Target: string(rune('A' + a)), Direction: reduce.DirectionAt(reduce.Angle(a) * reduce.Degree)})
				from, to := comp[a], comp[b]
				for i := range comp {
					if comp[i] == from {
						comp[i] = to
					}
				}
			}
		}
		parts := map[int]bool{}
		for _, c := range comp {
			parts[c] = true
		}
		for i := range k {
			in.Setups = append(in.Setups, day.Summary{Setup: i + 1, Station: string(rune('A' + i)), Sights: sees[i]})
		}
		if got, want := len(newNet(in).rings()), min(legs-k+len(parts), mostRings); got != want {
			t.Fatalf("%d rings, the net has %d", got, want)
		}
	})
}

func TestPlaces_OnlyFromFiguresThatClose(t *testing.T) {
	c := walkRing(t, ringNames, nil)
	in := c.input()
	ps := Work(in).Places()
	if len(ps) != 5 || !ps[0].Local {
		t.Errorf("%+v", ps)
	}
	in.Known = []event.KnownStation{{Name: "Weir", East: 1000, North: 2000}}
	b, _ := traverse.Bearing(brackenfold["Weir"], brackenfold["Alder"])
	in.Bearings = []KnownBearing{{From: "Weir", To: "Alder", Bearing: b}}
	for _, p := range Work(in).Places() {
		if p.Local || traverse.Distance(p.Point, brackenfold[p.Name]) > 0.01 {
			t.Errorf("%+v", p)
		}
	}
	bad := walkRing(t, ringNames, func(at string, s *sight) {
		if at == "Alder" && s.to == "Quarry" {
			s.direction += reduce.Degree
		}
	})
	if ps := Work(bad.input()).Places(); len(ps) != 0 {
		t.Errorf("places from a ring that does not close: %+v", ps)
	}
}

func TestSmall_Units(t *testing.T) {
	for _, c := range []struct {
		a    reduce.Angle
		u    reduce.Unit
		want string
	}{{-12 * reduce.Arcsecond, reduce.DMS, "−12″"}, {deg(1, 0, 5), reduce.DMS, "+1°00′05″"}, {22_400_000, reduce.DMS, "+22.4″"}, {3 * reduce.Milligon, reduce.GonUnit, "+3 mgon"}, {-reduce.Milligon / 4, reduce.GonUnit, "−0.3 mgon"}} {
		if got := withSign(c.a, c.u); got != c.want {
			t.Errorf("%v: %s, expected %s", c.a, got, c.want)
		}
	}
}

func TestStanding_SaysWhatToDoHere(t *testing.T) {
	c := walkRing(t, ringNames, nil)
	if r := Work(c.input()); !strings.HasSuffix(r.State()[0].Text, "closes.") || len(r.Misses()) != 0 || strings.Contains(said(r), "again") {
		t.Error(said(r))
	}
	c = walkRing(t, ringNames, func(at string, s *sight) {
		if at == "Chapel" && s.to == "Mast" || at == "Mast" && s.to == "Chapel" {
			s.length = "229.035"
		}
	})
	r := Work(c.input())
	for _, want := range []string{"does not close.", "1 in 990", "before this tripod is lifted, measure the distance to Mast again", "One leg explains it: Mast–Chapel."} {
		if !strings.Contains(said(r), want) {
			t.Errorf("%q is not said: %s", want, said(r))
		}
	}
	if m := r.Misses(); len(m) != 1 || !strings.Contains(m[0], "1 in 990") {
		t.Errorf("%q", m)
	}
}

// said is what a report says of how the figures stand, in one line.
func said(r Report) string {
	var b strings.Builder
	for _, c := range r.State() {
		b.WriteString(c.Text + " " + c.Again + " ")
	}
	return b.String()
}

// After every setup it is said what is closed and what is still open.
func TestStanding_AfterEverySetup(t *testing.T) {
	c := walkRing(t, ringNames, nil)
	lifted := time.Date(2026, 5, 4, 18, 0, 0, 0, time.UTC)
	for n, want := range [][2]string{
		{"", "Weir is tied to no other station yet."},
		{"Weir–Alder: distance 184.391 m, there and back 0 mm apart", "Open traverse Weir–Alder: nothing checks it yet."},
		{"Quarry: distance 206.155 m, there and back", "Open traverse Weir–Alder–Quarry: nothing checks it yet."},
		{"Chapel is sighted from Weir and Mast; occupied, it would close a figure.", "Chapel is sighted from Weir and Mast"},
		{"Ring Weir–Alder–Quarry–Mast–Chapel–Weir: closes.", "Ring Weir–Alder–Quarry–Mast–Chapel–Weir: closes."},
	} {
		in := c.input()
		in.Setups = in.Setups[:n+1]
		for k, up := range []bool{true, false} {
			in.Setups[n].Lifted = &lifted
			if up {
				in.Setups[n].Lifted = nil
			}
			if got := said(Work(in)); want[k] == "" && got != "" || !strings.Contains(got, want[k]) {
				t.Errorf("after %d setups, up %v: %q is not said: %s", n+1, up, want[k], got)
			}
		}
	}
}

// Heights carried round the ring close; one read wrongly there and back does not.
func TestHeights_CloseRoundTheRing(t *testing.T) {
	height := map[string]float64{"Weir": 100, "Alder": 112.4, "Quarry": 95.2, "Mast": 131, "Chapel": 104.75}
	in := func(wrong float64) Input {
		c := walkRing(t, ringNames, func(at string, s *sight) {
			length := traverse.Distance(brackenfold[at], brackenfold[s.to])
			rise := height[s.to] - height[at]
			if at == "Alder" && s.to == "Quarry" || at == "Quarry" && s.to == "Alder" {
				rise += math.Copysign(wrong, rise)
			}
			s.altitude = reduce.FromRadians(math.Atan2(rise, length))
			s.slope = fmt.Sprintf("%.3f", math.Hypot(length, rise))
		})
		in := c.input()
		in.Known = []event.KnownStation{{Name: "Quarry", East: 1260, North: 2230, Elev: new(float64)}}
		*in.Known[0].Elev = 95.2
		return in
	}
	r := Work(in(0))
	h := r.Figures[0].Heights
	if h == nil || !h.Closed || !h.Within() || h.Local || !met(r) || len(r.Lines) != 5 || r.Lines[0].Height == nil {
		t.Fatal(Text(r))
	}
	for i, s := range r.Figures[0].Stations {
		if math.Abs(h.Points[i]-height[s]) > 0.005 {
			t.Errorf("%s: %.4f", s, h.Points[i])
		}
	}
	for _, p := range r.Places() {
		if p.Elev == nil || math.Abs(*p.Elev-height[p.Name]) > 0.005 {
			t.Errorf("%+v", p)
		}
	}
	if r = Work(in(0.5)); met(r) || !strings.Contains(Text(r), "The heights miss by 499 mm, limit 20 mm.") {
		t.Error(Text(r))
	}
}

func TestOrientation_FromKnownStations(t *testing.T) {
	c := newCrew(t)
	c.occupy("Weir", false, brackenfold.see("Weir", "Alder"), brackenfold.see("Weir", "Mast"), brackenfold.see("Weir", "Spire"))
	in := c.input()
	for _, n := range []string{"Weir", "Mast", "Spire"} {
		in.Known = append(in.Known, event.KnownStation{Name: n, East: brackenfold[n].E, North: brackenfold[n].N})
	}
	r := Work(in)
	want, _ := traverse.Bearing(brackenfold["Weir"], brackenfold["Alder"])
	if len(r.Bearings) != 1 || r.Bearings[0].Bearing.Sub(want).Abs() > reduce.Arcsecond || len(r.Bearings[0].From) != 2 || !r.Checks[0].Met {
		t.Error(Text(r))
	}
	if n := newNet(in); true {
		if m, ok := n.mark("Weir", "Alder", ""); !ok || m.name != "Spire" {
			t.Errorf("the farthest mark is the spire: %v", m)
		}
	}
}

// Rings with ordinary noise (2″ a reading, 1 mm centring left out) and one slip
// of ten minutes in both rounds: counted by what the search says. Never may it
// accuse a wrong station alone.
func TestRing_SlipAmongNoise(t *testing.T) {
	const seed, runs = 20261125, 60
	rng := rand.New(rand.NewPCG(seed, 2))
	counts := map[string]int{}
	for k := range runs {
		bad := ringNames[k%len(ringNames)]
		c := newCrew(t)
		c.least = 5 * reduce.Arcsecond
		c.noise = func() reduce.Angle { return reduce.FromSeconds(2 * rng.NormFloat64()) }
		for i, at := range ringNames {
			back, fore := brackenfold.see(at, ringNames[(i+4)%5]), brackenfold.see(at, ringNames[(i+1)%5])
			if at == bad {
				fore.direction += deg(0, 10, 0)
			}
			c.occupy(at, true, back, fore)
		}
		f := Work(c.input()).Figures[0]
		switch {
		case f.Search.Verdict == traverse.OneAngle && f.Search.Candidates[0].Name == bad:
			counts["right"]++
		case f.Search.Verdict == traverse.CannotTell || f.Search.Verdict == traverse.NothingFits:
			counts["not told"]++
		default:
			counts["wrong"]++
		}
	}
	t.Logf("seed %d, %d rings: %v", seed, runs, counts)
	if counts["wrong"] > 0 || counts["right"] < runs*9/10 {
		t.Errorf("seed %d: %v", seed, counts)
	}
}

// A ring booked in gon prints gon.
func TestText_Gon(t *testing.T) {
	var in Input
	in.Settings = DefaultSettings()
	names := []string{"Weir", "Alder", "Quarry"}
	i := spec.Instrument{LeastCount: reduce.Milligon, Unit: reduce.GonUnit}
	for k, at := range names {
		in.Setups = append(in.Setups, day.Summary{Setup: k + 1, Station: at, Instrument: i, Figure: spec.Limit{Value: 2 * reduce.Milligon, From: spec.CommonPractice},
			Sights: []day.SightLine{{Target: names[(k+2)%3]}, {Target: names[(k+1)%3], Direction: reduce.DirectionAt(reduce.Turn - 200*reduce.Gon/3 - 5*reduce.Milligon)}}})
	}
	text := Text(Work(in))
	if !strings.Contains(text, "The 3 exterior angles miss 1000 gon by −15 mgon, limit 3.5 mgon.") {
		t.Error(text)
	}
}

// A book of 2,000 stations in rings of ten.
func BenchmarkWork_LongBook(b *testing.B) {
	var in Input
	for k := range 2000 {
		ring, at := k/10, k%10
		name := func(i int) string { return fmt.Sprintf("R%d-%d", ring, (i+10)%10) }
		in.Setups = append(in.Setups, day.Summary{Setup: k + 1, Station: name(at), Sights: []day.SightLine{
			{Target: name(at - 1)}, {Target: name(at + 1), Direction: reduce.DirectionAt(144 * reduce.Degree)}}})
	}
	for b.Loop() {
		if r := Work(in); len(r.Figures) != 200 {
			b.Fatal(len(r.Figures))
		}
	}
}

// A season of separate setups: of stations of their own that see marks of their own,
// and of stations that all see the same six, known and unknown. Both grow with the
// number of setups.
func BenchmarkWork_Season(b *testing.B) {
	for _, same := range []bool{false, true} {
		for _, setups := range []int{1_250, 12_500} {
			in := seasonOf(setups, same)
			b.Run(fmt.Sprintf("%d setups, the same marks %v", setups, same), func(b *testing.B) {
				for b.Loop() {
					if r := Work(in); r.Together == nil {
						b.Fatal("nothing adjusted")
					}
				}
			})
		}
	}
}

// seasonOf makes setups of six sights each, one distance.
func seasonOf(setups int, same bool) Input {
	in := Input{Settings: DefaultSettings()}
	for k := range setups {
		m := day.Summary{Setup: k + 1, Station: fmt.Sprint("S", k), Instrument: spec.Instrument{LeastCount: reduce.Arcsecond, Sigma: 2 * reduce.Arcsecond, Unit: reduce.DMS}}
		for t := range 6 {
			name := fmt.Sprintf("T%d-%d", k, t)
			if same {
				name = fmt.Sprintf("T%d", t)
			}
			l := day.SightLine{Target: name, Direction: reduce.DirectionAt(reduce.Angle(t) * 55 * reduce.Degree), Rounds: 2}
			if t == 0 {
				l.Horizontal = 100
			}
			m.Sights = append(m.Sights, l)
		}
		in.Setups = append(in.Setups, m)
	}
	return in
}

func TestWork_NothingAtAll(t *testing.T) {
	if text := Text(Work(Input{Settings: DefaultSettings()})); text != "No ring and no link yet.\n" {
		t.Error(text)
	}
}

// Two rises of one long line, worked without any refraction, that miss each
// other by what a refraction of 0.2 bends both sights: k·HD²/R. (reduce.Reciprocal;
// published.md F13)
func TestLine_RefractionOfThePair(t *testing.T) {
	const hd = 3000.0
	bend := 0.2 * hd * hd / (2 * slope.EarthRadius)
	at := func(n int, from, to string, rise float64) day.Summary {
		return day.Summary{Setup: n, Station: from, RO: to, Instrument: spec.Instrument{LeastCount: reduce.Arcsecond, Sigma: reduce.Arcsecond},
			Sights: []day.SightLine{{Target: to, Horizontal: hd, Rise: rise + bend, HasRise: true}}}
	}
	in := Input{Settings: DefaultSettings(), Setups: []day.Summary{at(1, "Weir", "Spire", 40), at(2, "Spire", "Weir", -40)}}
	r := Work(in)
	if len(r.Lines) != 1 || math.Abs(r.Lines[0].K-0.2) > 1e-8 || math.Abs(r.Lines[0].KSD-0.0146) > 0.001 {
		t.Fatalf("%+v", r.Lines)
	}
	if text := strings.Join(strings.Fields(Text(r)), " "); !strings.Contains(text, "The pair shows a refraction k of 0.20, standard deviation 0.0") {
		t.Error(text)
	}
}
