package sheet

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/page"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
	"example.org/readback/testdata"
	"example.org/readback/testdata/crew"
)

func smallSpec() spec.Spec {
	lc := 5 * reduce.Arcsecond
	return spec.Spec{
		Station: "Weir", RO: "Spire", Targets: []string{"Alder", "Quarry", "Mast"},
		Instrument: spec.Instrument{Name: "T-5", Serial: "4471", LeastCount: lc, Unit: reduce.DMS, Circle: faces.Zenith, Sigma: 2 * reduce.Arcsecond},
		Observer:   "Ines Holm", Booker: "Tam Okoro", Weather: "overcast, light wind", Rounds: 2, Plan: spec.QuarterPlan,
		CloseHalves: true, ClosingRule: faces.ClosingMean, Limits: spec.DefaultLimits(lc),
		Verticals: true, Distances: true, LengthUnit: lengths.Metres, Refraction: spec.DefaultRefraction,
	}
}

// smallSetup is two closed rounds with a strike, a reading booked although
// marked, a void round, a skip, verticals, a distance, remarks and a lift.
func smallSetup(t *testing.T) booking.Setup {
	c := crew.Open(t, 1, smallSpec())
	c.KeyAt(spec.Slot{Quantity: spec.InstrumentHeight}, "1.523")
	c.Key("0 05 10", "45 10 20")
	c.Strike("wrong edge of the mast")
	c.Key("45 10 25", "120 30 00", "250 00 45", "0 05 10")
	c.Key("180 05 15", "70 00 50", "300 30 10", "225 10 35", "180 05 20")
	c.Key("90 05 10", "135 10 20")
	e, err := c.Setup.VoidRound(programme.Expect(c.Setup).Slot, "tripod knocked")
	c.Do(e, err)
	c.Key("90 05 10", "135 10 25", "210 30 00", "340 00 40", "90 05 10")
	c.Key("270 05 20", "160 00 50", "30 30 05")
	c.Is(1, event.ReadingBooked{
		Slot: programme.Expect(c.Setup).Slot, Text: "315 10 30", Value: int64(315*reduce.Degree + 10*reduce.Arcminute + 30*reduce.Arcsecond),
		Confirmed: true, By: "Tam Okoro",
		Findings: []event.Finding{{Code: "two-c", Severity: event.Stop, Text: "2c differs from the others."}},
	})
	c.Key("270 05 15")
	c.Key("88 20 10", "91 02 30", "89 15 00", "86 40 20", "273 19 50", "270 45 10", "268 57 35", "271 40 00")
	c.Key("512.340", "1.600", "230.118", "1.600")
	skip, err := c.Setup.Skip(programme.Expect(c.Setup).Slot, true, "lorry before the rod")
	c.Do(skip, err)
	m, err := c.Setup.Remark(0, "heat shimmer over the quarry")
	c.Do(m, err)
	for programme.Expect(c.Setup).Phase != programme.AtVerdict {
		skip, err := c.Setup.Skip(programme.Expect(c.Setup).Slot, true, "not wanted")
		c.Do(skip, err)
	}
	c.KeyAt(spec.Slot{Quantity: spec.InstrumentHeight, Closing: true}, "1.524")
	lift, err := check.Lift(c.Setup, "the light is going, the office decides")
	c.Do(lift, err)
	return c.Setup
}

// kept are the setups that take long to book, by what they are: several tests ask.
var kept = map[string]booking.Setup{}

func keptAs(name string, book func() booking.Setup) booking.Setup {
	if _, ok := kept[name]; !ok {
		kept[name] = book()
	}
	return kept[name]
}

// longSetup has 10 targets in 4 closed rounds with strikes in each, verticals
// and distances to all of them.
func longSetup(t *testing.T) booking.Setup {
	return keptAs("long", func() booking.Setup {
		agreed := smallSpec()
		agreed.Rounds = 4
		agreed.Targets = []string{"Alder", "Quarry", "Mast", "Chapel", "Brackenfold dam crest pillar north-east", "P5", "P6", "P7", "P8", "P9"}
		c := crew.Open(t, 2, agreed)
		c.KeyAt(spec.Slot{Quantity: spec.InstrumentHeight}, "1.523")
		n := 0
		for programme.Expect(c.Setup).Phase != programme.AtVerdict && len(c.Setup.Rounds) <= 4 {
			p := programme.Expect(c.Setup)
			n++
			if n%17 == 0 {
				c.Key(made(c, p, 40))
				c.Strike("called before the cross-hair was on")
			}
			c.Key(made(c, p, n))
		}
		lift, err := check.Lift(c.Setup, "written on Hold for the test")
		c.Do(lift, err)
		return c.Setup
	})
}

// sized is a setup of so many targets and rounds with verticals and distances,
// every strikes-th reading struck first.
func sized(t *testing.T, targets, rounds, strikes int) booking.Setup {
	return keptAs(fmt.Sprint(targets, rounds, strikes), func() booking.Setup {
		agreed := smallSpec()
		agreed.Rounds = rounds
		agreed.Targets = []string{"Alder", "Quarry", "Mast", "Chapel", "Kiln", "Heron", "Sluice", "Beacon", "Larch", "Ford", "Gantry"}[:targets]
		c := crew.Open(t, 4, agreed)
		c.KeyAt(spec.Slot{Quantity: spec.InstrumentHeight}, "1.523")
		struck := 0
		for n := 1; programme.Expect(c.Setup).Phase != programme.AtVerdict && len(c.Setup.Rounds) <= rounds; n++ {
			p := programme.Expect(c.Setup)
			if p.Slot.Quantity == spec.InstrumentHeight {
				c.KeyAt(p.Slot, "1.524")
				continue
			}
			if n%9 == 0 && struck < strikes {
				c.Key(made(c, p, 40))
				c.Strike("wrong edge of the mast")
				struck++
			}
			if p.Slot.Face == faces.FR { // only one face is noisy: the rounds agree
				c.Key(made(c, p, 7))
				continue
			}
			c.Key(made(c, p, n))
		}
		lift, err := check.Lift(c.Setup, "blasting at nine, the bank is cleared")
		c.Do(lift, err)
		return c.Setup
	})
}

// crowdedSetup has the most that a sheet is asked to hold: many targets with long
// names, and more rounds than stand side by side.
func crowdedSetup(t *testing.T) booking.Setup {
	return keptAs("crowded", func() booking.Setup {
		agreed := smallSpec()
		agreed.Station = strings.Repeat("Brackenfold", 12)
		agreed.Rounds, agreed.Targets, agreed.Distances = 8, nil, false
		agreed.KeyedAfterwards = &spec.KeyedAfterwards{File: "paper.csv"} // a setup from paper is not bounded
		for i := range testdata.Times(18, 36) {
			agreed.Targets = append(agreed.Targets, fmt.Sprintf("P%d", i+1))
		}
		agreed.Targets[3], agreed.Targets[4] = strings.Repeat("longname", 16), strings.Repeat("many short words ", 8)
		c := crew.Open(t, 3, agreed)
		for n := 0; programme.Expect(c.Setup).Phase == programme.InRounds && len(c.Setup.Rounds) <= 8; n++ {
			c.Key(made(c, programme.Expect(c.Setup), n))
			if n%97 == 96 {
				c.Strike(strings.Repeat("verylongreason", 12))
			}
		}
		return c.Setup
	})
}

// made makes a reading that the instrument could show: a fixed direction with
// small departures in steps of the least count.
func made(c *crew.Crew, p programme.Prompt, n int) string {
	if p.Slot.Quantity == spec.Slope {
		return "345.678"
	}
	if p.Slot.Quantity == spec.TargetHeight {
		return "1.600"
	}
	k := 0
	for i, name := range c.Setup.Spec.Names() {
		if name == p.Slot.Target {
			k = i
		}
	}
	noise := reduce.Angle(n*n*31%7%3-1) * 5 * reduce.Arcsecond
	if p.Slot.Quantity == spec.Vertical {
		v := 88*reduce.Degree + reduce.Angle(k)*7*reduce.Arcminute + noise
		if p.Slot.Face == faces.FR {
			v = reduce.Turn - v
		}
		return keyed(v)
	}
	d := reduce.Angle(p.Slot.Round-1)*reduce.QuarterTurn + 5*reduce.Arcminute + reduce.Angle(k)*(330*reduce.Degree+70*reduce.Arcminute).Div(int64(len(c.Setup.Spec.Targets)))
	if k == 2 {
		d -= 31 * reduce.Degree // two targets close together
	}
	if p.Slot.Face == faces.FR {
		d += reduce.HalfTurn + 10*reduce.Arcsecond
	}
	return keyed((d + noise).Round(5 * reduce.Arcsecond).Normalize())
}

func keyed(a reduce.Angle) string {
	return fmt.Sprintf("%d %02d %02d", a/reduce.Degree, a%reduce.Degree/reduce.Arcminute, a%reduce.Arcminute/reduce.Arcsecond)
}

// leavesOf are the leaves of a binder.
func leavesOf(t *testing.T, b Binder) (list []page.Leaf) {
	t.Helper()
	for l, err := range b.document().Leaves {
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, l)
	}
	return list
}

func binder(name string, setups ...booking.Setup) Binder {
	b := Binder{
		Name: name, Program: "test", Printed: time.Date(2026, 5, 4, 17, 30, 0, 0, time.UTC),
	}
	book := day.Book{Job: "Brackenfold dam", Program: "test"}
	for _, s := range setups {
		b.Sheets = append(b.Sheets, Sheet{Book: book, Name: name, Setup: s, Hash: "3f786850e387550fdab836ed7e6dc881de23001b3f786850e387550fdab836ed"})
	}
	return b
}
