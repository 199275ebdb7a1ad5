package network

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
	"example.org/readback/reduce/slope"
	"example.org/readback/reduce/traverse"
)

// hills are the heights of the stations of the ring, metres.
var hills = map[string]float64{"Weir": 100, "Alder": 112.4, "Quarry": 95.2, "Mast": 131, "Chapel": 104.75}

// climb gives a sight the altitude and the slope distance of its rise, curvature and
// refraction in it; the rise is observed too large by off.
func climb(at string, s *sight, length, off float64) {
	rise := hills[s.to] - hills[at] + off - (1-spec.DefaultRefraction)*length*length/(2*slope.EarthRadius)
	s.altitude = reduce.FromRadians(math.Atan2(rise, length))
	s.length = fmt.Sprintf("%.3f", length)
	s.slope = fmt.Sprintf("%.3f", math.Hypot(length, rise))
}

// offs are rises that are observed wrongly, metres, under "Chapel Mast"; under "Chapel"
// every rise from there.
type offs map[string]float64

func (o offs) hilly(at string, s *sight) {
	climb(at, s, traverse.Distance(brackenfold[at], brackenfold[s.to]), o[at+" "+s.to]+o[at])
}

// metresIn reads the numbers of a sentence in the order of a pattern.
func metresIn(t *testing.T, text, pattern string) []float64 {
	t.Helper()
	numbers := make([]float64, strings.Count(pattern, "%f"))
	to := make([]any, len(numbers))
	for i := range numbers {
		to[i] = &numbers[i]
	}
	if _, err := fmt.Sscanf(strings.ReplaceAll(text, "−", "-"), strings.ReplaceAll(pattern, "−", "-"), to...); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	return numbers
}

func TestEnds_TheHeightsOfTheRing(t *testing.T) {
	const said = "Mast–Chapel: rise %f m from Mast, %f m from Chapel, there and back %f mm apart, limit %f mm. "
	for wrong, c := range map[string]struct {
		pattern string
		want    []float64
	}{
		"Chapel Mast": {said + "With Mast's own %f the heights of the ring close to %f mm, with Chapel's %f to %f mm.", []float64{-26.25, 26.75, 500, 19, -26.25, 0, 26.75, 500}},
		"Mast Chapel": {said + "With Chapel's own %f the heights of the ring close to %f mm, with Mast's %f to %f mm.", []float64{-25.75, 26.25, 500, 19, 26.25, 0, -25.75, 500}},
	} {
		r := Work(walkRing(t, ringNames, offs{wrong: 0.5}.hilly).input())
		got := endsText(t, r, "height", "Mast–Chapel")
		for i, x := range metresIn(t, got, c.pattern) {
			near := 0.006 // the readings are to 5″: 6 mm on 228 m
			if math.Abs(c.want[i]) < 20 || math.Abs(c.want[i]) > 100 {
				near = 12 // millimetres, of a whole ring
			}
			if math.Abs(x-c.want[i]) > near {
				t.Errorf("%s: %g, want %g: %s", wrong, x, c.want[i], got)
			}
		}
		if text := strings.Join(r.Misses(), " "); !strings.Contains(text, got) {
			t.Error("the verdict does not say it: " + text)
		}
	}
}

func TestEnds_HeightsThatCannotTell(t *testing.T) {
	open := walkRing(t, ringNames, offs{"Chapel Mast": 0.5}.hilly).input()
	open.Setups = open.Setups[3:] // no ring any more
	for name, in := range map[string]Input{
		"no ring":                     open,
		"two lines disagree":          walkRing(t, ringNames, offs{"Chapel Mast": 0.5, "Alder Quarry": 0.3}.hilly).input(),
		"the height at Chapel":        walkRing(t, ringNames, offs{"Chapel": 0.2}.hilly).input(),
		"neither is right":            walkRing(t, ringNames, offs{"Chapel Mast": 0.25, "Mast Chapel": 0.25}.hilly).input(),
		"no height back to Chapel":    without(walkRing(t, ringNames, offs{"Chapel": 0.2}.hilly).input(), "Weir", "Chapel"),
		"no height from Chapel there": without(walkRing(t, ringNames, offs{"Chapel Mast": 0.5}.hilly).input(), "Chapel", "Weir"),
	} {
		got := endsText(t, Work(in), "height", "Mast–Chapel")
		if !strings.Contains(got, "m from Mast, ") || !strings.Contains(got, "m from Chapel, ") || strings.Contains(got, "own") {
			t.Errorf("%s: %s", name, got)
		}
	}
	for _, l := range Work(walkRing(t, ringNames, offs{}.hilly).input()).Lines {
		if l.riseSupports != "" || !l.Height.Within() {
			t.Errorf("%s–%s agrees: %s", l.From, l.To, l.riseSupports)
		}
	}
}

// without takes the rise from one name to another away, as leaving its target height
// out does.
func without(in Input, from, to string) Input {
	for _, m := range in.Setups {
		for i, l := range m.Sights {
			if m.Station == from && l.Target == to {
				m.Sights[i].Rise, m.Sights[i].HasRise = 0, false
			}
		}
	}
	return in
}

func TestEnds_KnownHeightsLevelsAndOtherSetups(t *testing.T) {
	in := walkRing(t, ringNames, offs{"Chapel Mast": 0.5}.hilly).input()
	in.Setups = in.Setups[3:]
	known := in
	for _, name := range []string{"Mast", "Chapel"} {
		height := hills[name]
		known.Known = append(known.Known, event.KnownStation{Name: name, East: brackenfold[name].E, North: brackenfold[name].N, Elev: &height})
	}
	if got := endsText(t, Work(known), "height", "Mast–Chapel"); !strings.Contains(got, "The known heights support Mast's own −26.2") || !strings.HasSuffix(got, "they give −26.250.") {
		t.Error(got)
	}
	levelled := in // from the other end, and it is Chapel's: the sign is turned
	levelled.Levels = []event.LevelledRise{{From: "Chapel", To: "Mast", Rise: lengths.FromMetres(26.75), SD: lengths.Millimetre}}
	if got := endsText(t, Work(levelled), "height", "Mast–Chapel"); !strings.Contains(got, "The levelled line supports Chapel's own +26.7") || !strings.HasSuffix(got, "it gives +26.750.") {
		t.Error(got)
	}
	levelled.Known = known.Known // they contradict each other
	if got := endsText(t, Work(levelled), "height", "Mast–Chapel"); strings.Contains(got, "own") {
		t.Error(got)
	}
	c := newCrew(t)
	back, fore := brackenfold.see("Chapel", "Mast"), brackenfold.see("Chapel", "Weir")
	offs{}.hilly("Chapel", &back)
	offs{}.hilly("Chapel", &fore)
	c.occupy("Chapel", true, back, fore)
	in.Setups = append(c.input().Setups, in.Setups...)
	if got := endsText(t, Work(in), "height", "Chapel–Mast"); !strings.Contains(got, "Setup 1 on Chapel supports Mast's own −26.2") || !strings.Contains(got, "it measured +26.2") {
		t.Error(got)
	}
}

// Rings with noise (3 mm + 2 ppm a distance, 2″ a reading, 2 mm a height) and one wrong
// thing of 20 mm to 1 m: one rise of either end, or the height of the instrument, which
// is in both rises from there. Never is the wrong end supported; from 0.15 m on a single
// rise is nearly always told.
func TestEnds_HeightsAmongNoise(t *testing.T) {
	right, wrong, large, told := 0, 0, 0, 0
	const rings = 60
	for seed := range uint64(rings) {
		rng := rand.New(rand.NewPCG(seed, 1733))
		off := math.Copysign(0.02*math.Pow(50, rng.Float64()), rng.Float64()-0.5)
		bad := []string{"Chapel Mast", "Mast Chapel", "Chapel"}[seed%3]
		o := offs{bad: off}
		c := newCrew(t)
		c.least = reduce.Arcsecond
		c.noise = func() reduce.Angle { return reduce.FromSeconds(2 * rng.NormFloat64()) }
		for i, at := range ringNames {
			sights := []sight{brackenfold.see(at, ringNames[(i+4)%5]), brackenfold.see(at, ringNames[(i+1)%5])}
			hi := 0.002 * rng.NormFloat64()
			for k, s := range sights {
				length := traverse.Distance(brackenfold[at], brackenfold[s.to]) + 0.0034*rng.NormFloat64()
				climb(at, &sights[k], length, o[at+" "+s.to]+o[at]+hi+0.002*rng.NormFloat64())
			}
			c.occupy(at, i < 4, sights...)
		}
		r := Work(c.input())
		text := endsText(t, r, "height", "Mast–Chapel")
		mast, chapel := strings.Contains(text, "With Mast's own"), strings.Contains(text, "With Chapel's own")
		if bad == "Chapel" { // its own are wrong on both lines
			both := endsText(t, r, "height", "Weir–Chapel")
			chapel = chapel || strings.Contains(both, "With Chapel's own")
			mast = mast || strings.Contains(both, "With Weir's own")
		}
		isLarge := math.Abs(off) >= 0.15 && bad != "Chapel"
		if isLarge {
			large++
		}
		switch ok := mast && bad != "Mast Chapel" || chapel && bad == "Mast Chapel"; {
		case ok:
			right++
			if isLarge {
				told++
			}
		case mast || chapel:
			wrong++
			t.Logf("seed %d, %s %.3f m: %s", seed, bad, off, text)
		}
	}
	t.Logf("right %d, wrong %d of %d; large ones told %d of %d", right, wrong, rings, told, large)
	if wrong > 0 || told < large-1 || right < rings/4 {
		t.Errorf("right %d, wrong %d of %d; large ones told %d of %d", right, wrong, rings, told, large)
	}
}
