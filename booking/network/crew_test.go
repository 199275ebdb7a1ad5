package network

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/event"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
	"example.org/readback/reduce/traverse"
)

// A sight is what a crew in a test sees of a target.
type sight struct {
	to        string
	direction reduce.Angle // any frame
	length    string       // horizontal distance as keyed; empty: none
	altitude  reduce.Angle
	slope     string // slope distance as keyed, where it is not the horizontal one
}

// A crew books setups through events, as the program does.
type crew struct {
	t      *testing.T
	seq    uint64
	at     time.Time
	unit   lengths.Unit
	least  reduce.Angle
	limit  reduce.Angle // figure limit per angle, 0: default
	setups []booking.Setup
	noise  func() reduce.Angle // of one circle reading; nil: none
}

func newCrew(t *testing.T) *crew {
	return &crew{t: t, at: time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC), unit: lengths.Metres, least: reduce.Arcsecond}
}

// occupy books two rounds on a station, the first sight being the RO, vertical
// circles and distances where there are any, and lifts the tripod.
func (c *crew) occupy(station string, lift bool, sights ...sight) {
	c.t.Helper()
	agreed := spec.Spec{
		Station: station, RO: sights[0].to,
		Instrument: spec.Instrument{Name: "T-5", Serial: "4471", LeastCount: c.least, Unit: reduce.DMS, Circle: faces.Zenith},
		Observer:   "Ines Holm", Booker: "Tam Okoro", Rounds: 2, Plan: spec.QuarterPlan,
		ClosingRule: faces.ClosingMean, Limits: spec.DefaultLimits(c.least), LengthUnit: c.unit, Refraction: spec.DefaultRefraction,
	}
	if c.limit > 0 {
		agreed.Limits.Figure = spec.Limit{Value: c.limit, From: spec.SetByCrew}
	}
	byName := map[string]sight{}
	for i, s := range sights {
		byName[s.to] = s
		if i > 0 {
			agreed.Targets = append(agreed.Targets, s.to)
		}
		agreed.Distances = agreed.Distances || s.length != ""
	}
	agreed.Verticals = agreed.Distances
	open, err := booking.Open(agreed)
	if err != nil {
		c.t.Fatal(err)
	}
	s := c.do(booking.Setup{}, len(c.setups)+1, open)
	if agreed.Distances {
		e, err := check.Read(s, spec.Slot{Quantity: spec.InstrumentHeight}, "1.500", true, check.Known{})
		if err != nil {
			c.t.Fatal(err)
		}
		s = c.do(s, s.Number, e)
	}
	for {
		p := programme.Expect(s)
		if p.Phase != programme.InRounds && p.Phase != programme.InVerticals && p.Phase != programme.InDistances {
			break
		}
		text := c.called(p.Slot, sights[0], byName[p.Slot.Target])
		if text == "" {
			skip, err := s.Skip(p.Slot, true, "no distance wanted")
			if err != nil {
				c.t.Fatal(err)
			}
			s = c.do(s, s.Number, skip)
			continue
		}
		e, err := check.Read(s, p.Slot, text, true, check.Known{})
		if err != nil {
			c.t.Fatalf("%s, %s: %v", p.Slot, text, err)
		}
		s = c.do(s, s.Number, e)
	}
	if lift {
		despite := ""
		if !check.Judge(s).Lift && c.noise != nil {
			despite = "the noise of the test"
		}
		e, err := check.Lift(s, despite)
		if err != nil {
			c.t.Fatalf("%s: %v %v", station, err, check.Judge(s).Reasons())
		}
		s = c.do(s, s.Number, e)
	}
	c.setups = append(c.setups, s)
}

// called is what the observer calls for a slot.
func (c *crew) called(k spec.Slot, ro, s sight) string {
	reading := func(a reduce.Angle) string {
		if c.noise != nil {
			a += c.noise()
		}
		a = a.Round(c.least).Normalize()
		return fmt.Sprintf("%d %02d %02d", a/reduce.Degree, a%reduce.Degree/reduce.Arcminute, a%reduce.Arcminute/reduce.Arcsecond)
	}
	switch k.Quantity {
	case spec.Horizontal:
		a := s.direction - ro.direction + reduce.Angle(k.Round-1)*reduce.QuarterTurn + 5*reduce.Arcminute
		if k.Face == faces.FR {
			a += reduce.HalfTurn
		}
		return reading(a)
	case spec.Vertical:
		if k.Face == faces.FR {
			return reading(270*reduce.Degree + s.altitude)
		}
		return reading(90*reduce.Degree - s.altitude)
	case spec.Slope:
		if s.slope != "" {
			return s.slope
		}
		return s.length
	case spec.InstrumentHeight, spec.TargetHeight:
		if s.length != "" || k.Quantity == spec.InstrumentHeight {
			return "1.500"
		}
	}
	return ""
}

// do encodes, decodes and applies an event.
func (c *crew) do(s booking.Setup, setup int, e event.Event) booking.Setup {
	c.t.Helper()
	c.seq++
	c.at = c.at.Add(20 * time.Second)
	kind, version, body, err := event.Encode(e)
	if err != nil {
		c.t.Fatal(err)
	}
	back, err := event.Decode(kind, version, body)
	if err != nil {
		c.t.Fatal(err)
	}
	n, err := s.Apply(event.Entry{Seq: c.seq, At: c.at, Setup: setup, Event: back})
	if err != nil {
		c.t.Fatal(err)
	}
	return n
}

// input gathers the summaries.
func (c *crew) input() Input {
	in := Input{Settings: DefaultSettings()}
	for _, s := range c.setups {
		in.Setups = append(in.Setups, check.Summarize(s))
	}
	return in
}

// A plot is a piece of ground with stations on it, for a crew to observe.
type plot map[string]traverse.Point

// see returns what a crew sees from one station of another, its length to the
// millimetre.
func (p plot) see(from, to string) sight {
	b, err := traverse.Bearing(p[from], p[to])
	if err != nil {
		panic(err)
	}
	return sight{to: to, direction: b.Angle(), length: fmt.Sprintf("%.3f", traverse.Distance(p[from], p[to]))}
}

// brackenfold is the invented dam survey.
var brackenfold = plot{
	"Weir": {E: 1000, N: 2000}, "Alder": {E: 1180, N: 2040}, "Quarry": {E: 1260, N: 2230},
	"Mast": {E: 1120, N: 2330}, "Chapel": {E: 940, N: 2190}, "Spire": {E: 700, N: 2600},
}

func printed(t *testing.T, what string, got float64, want string) {
	t.Helper()
	half := 0.5
	if _, dec, ok := strings.Cut(want, "."); ok {
		half = 0.5 * math.Pow10(-len(dec))
	}
	var w float64
	if _, err := fmt.Sscan(want, &w); err != nil {
		t.Fatal(err)
	}
	if math.Abs(got-w) > half+1e-9 {
		t.Errorf("%s: %.5f, printed %s", what, got, want)
	}
}

func deg(d, m, s int) reduce.Angle {
	return reduce.Angle(d)*reduce.Degree + reduce.Angle(m)*reduce.Arcminute + reduce.Angle(s)*reduce.Arcsecond
}

// met tells whether every figure, line and check keeps its limits; an open traverse is
// not held against it.
func met(r Report) bool {
	missed := func(c check.Check) bool { return !c.Met }
	return !slices.ContainsFunc(r.Figures, func(f Figure) bool { return f.Kind != Open && !f.Met() }) &&
		!slices.ContainsFunc(r.LineChecks(), missed) && !slices.ContainsFunc(r.Checks, missed)
}
