package season

import (
	"fmt"
	"math"
	"math/rand/v2"

	"example.org/readback/booking"
	"example.org/readback/reduce"
)

// A Site is what a season's stations are like.
type Site struct {
	Sigma      float64      // seconds: noise of one reading on one face
	Stated     float64      // seconds: the same as the crew states it; 0: not stated
	LeastCount reduce.Angle // of the instrument
	Limits     reduce.Angle // the least count whose default limits are taken; 0: that of the instrument
	Targets    [2]int       // least and most, the RO not counted
	Rounds     [2]int
	Verticals  bool
}

// fiveSecond is an instrument that reads to 5″ with a standard deviation of 2″
// for one reading.
func fiveSecond() Site {
	return Site{Sigma: 2, Stated: 2, LeastCount: 5 * reduce.Arcsecond, Targets: [2]int{3, 10}, Rounds: [2]int{2, 4}, Verticals: true}
}

// truth is a station as it is.
type truth struct {
	rng        *rand.Rand
	site       Site
	spec       booking.Spec
	dir, alt   map[string]float64 // degrees
	c, tilt, e float64            // seconds: collimation, tilt, index error
	start      map[int]float64    // degrees: circle reading of the RO in each round
}

// newTruth draws a station.
func newTruth(rng *rand.Rand, site Site) *truth {
	t := &truth{rng: rng, site: site, dir: map[string]float64{}, alt: map[string]float64{}, start: map[int]float64{}}
	n := site.Targets[0] + rng.IntN(site.Targets[1]-site.Targets[0]+1)
	names := []string{"Spire"}
	for i := range n {
		names = append(names, fmt.Sprintf("Mark %c", 'A'+i))
	}
	gap := 360 / float64(n+1)
	for i, name := range names {
		t.alt[name] = rng.NormFloat64() * 4
		if i > 0 {
			t.dir[name] = gap * (float64(i) + 0.8*rng.Float64() - 0.4)
		}
	}
	t.c, t.tilt, t.e = rng.NormFloat64()*15, rng.NormFloat64()*5, rng.NormFloat64()*10
	t.spec = t.specOf(names)
	return t
}

func (t *truth) specOf(names []string) booking.Spec {
	lc := t.site.LeastCount
	spec := booking.Spec{
		Station: "Weir", RO: names[0], Targets: names[1:], Observer: "Ines Holm", Booker: "Tam Okoro",
		Instrument: booking.Instrument{
			Name: "T-5", Serial: "4471", LeastCount: lc, Unit: reduce.DMS, Circle: reduce.Zenith,
			Sigma: reduce.FromSeconds(t.site.Stated / math.Sqrt2), // of both faces together
		},
		Rounds: t.site.Rounds[0] + t.rng.IntN(t.site.Rounds[1]-t.site.Rounds[0]+1), Plan: booking.QuarterPlan,
		CloseHalves: t.rng.IntN(2) == 0, ClosingRule: reduce.ClosingMean, Limits: booking.DefaultLimits(lc),
		Verticals: t.site.Verticals, LengthUnit: reduce.Metres, Refraction: booking.DefaultRefraction,
	}
	if t.site.Limits > 0 {
		spec.Limits = booking.DefaultLimits(t.site.Limits)
	}
	return spec
}

// setCircle sets the circle for a round.
func (t *truth) setCircle(p booking.Prompt) {
	if p.SetCircle {
		t.start[p.Slot.Round] = p.From.Degrees() + 0.02 + 0.96*t.rng.Float64()
	}
}

// read observes a pointing.
func (t *truth) read(slot booking.Slot) reduce.Angle {
	if slot.Quantity == booking.Vertical {
		return t.vertical(slot)
	}
	h := t.alt[slot.Target] * math.Pi / 180
	e := t.c/math.Cos(h) + t.tilt*math.Tan(h)
	v := reduce.FromDegrees(t.start[slot.Round] + t.dir[slot.Target])
	if slot.Face == booking.FR {
		v, e = v+reduce.HalfTurn, -e
	}
	return t.noisy(v, e)
}

func (t *truth) vertical(slot booking.Slot) reduce.Angle {
	v := 90 - t.alt[slot.Target]
	if slot.Face == booking.FR {
		v = 270 + t.alt[slot.Target]
	}
	return t.noisy(reduce.FromDegrees(v), t.e)
}

func (t *truth) noisy(v reduce.Angle, e float64) reduce.Angle {
	v += reduce.FromSeconds(e + t.rng.NormFloat64()*t.site.Sigma)
	return v.Round(t.site.LeastCount).Normalize()
}

// keyed writes a reading as a run of digits.
func keyed(a reduce.Angle) string {
	d, m, s := a/reduce.Degree, a%reduce.Degree/reduce.Arcminute, a%reduce.Arcminute/reduce.Arcsecond
	return fmt.Sprintf("%d%02d%02d", d, m, s)
}
