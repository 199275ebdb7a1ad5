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
)

// A crew books made-up setups for the tests.
type crew struct {
	t   *testing.T
	s   booking.Setup
	seq uint64
	at  time.Time
}

func newCrew(t *testing.T, number int, spec spec.Spec) *crew {
	t.Helper()
	c := &crew{t: t, at: time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)}
	open, err := booking.Open(spec)
	if err != nil {
		t.Fatal(err)
	}
	c.s.Number = 0
	c.seq = uint64(number) * 1000
	c.doAs(number, open)
	return c
}

func (c *crew) doAs(number int, e event.Event) {
	c.t.Helper()
	c.seq++
	c.at = c.at.Add(20 * time.Second)
	n, err := c.s.Apply(event.Entry{Seq: c.seq, At: c.at, Setup: number, Event: e})
	if err != nil {
		c.t.Fatal(err)
	}
	c.s = n
}

func (c *crew) do(e event.Event, err error) {
	c.t.Helper()
	if err != nil {
		c.t.Fatal(err)
	}
	c.doAs(c.s.Number, e)
}

// key books texts at the pointings that are called.
func (c *crew) key(texts ...string) {
	c.t.Helper()
	for _, text := range texts {
		c.at1(programme.Expect(c.s).Slot, text)
	}
}

// at1 books a text at a slot.
func (c *crew) at1(slot spec.Slot, text string) {
	c.t.Helper()
	e, err := check.Read(c.s, slot, text, true, check.Known{})
	c.do(e, err)
}

// strike strikes the reading booked last.
func (c *crew) strike(reason string) {
	c.t.Helper()
	last, _ := c.s.Last()
	e, err := c.s.Strike(last.Seq, reason)
	c.do(e, err)
}

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
	c := newCrew(t, 1, smallSpec())
	c.at1(spec.Slot{Quantity: spec.InstrumentHeight}, "1.523")
	c.key("0 05 10", "45 10 20")
	c.strike("wrong edge of the mast")
	c.key("45 10 25", "120 30 00", "250 00 45", "0 05 10")
	c.key("180 05 15", "70 00 50", "300 30 10", "225 10 35", "180 05 20")
	c.key("90 05 10", "135 10 20")
	e, err := c.s.VoidRound(programme.Expect(c.s).Slot, "tripod knocked")
	c.do(e, err)
	c.key("90 05 10", "135 10 25", "210 30 00", "340 00 40", "90 05 10")
	c.key("270 05 20", "160 00 50", "30 30 05")
	c.doAs(1, event.ReadingBooked{
		Slot: programme.Expect(c.s).Slot, Text: "315 10 30", Value: int64(315*reduce.Degree + 10*reduce.Arcminute + 30*reduce.Arcsecond),
		Confirmed: true, By: "Tam Okoro",
		Findings: []event.Finding{{Code: "two-c", Severity: event.Stop, Text: "2c differs from the others."}},
	})
	c.key("270 05 15")
	c.key("88 20 10", "91 02 30", "89 15 00", "86 40 20", "273 19 50", "270 45 10", "268 57 35", "271 40 00")
	c.key("512.340", "1.600", "230.118", "1.600")
	skip, err := c.s.Skip(programme.Expect(c.s).Slot, true, "lorry before the rod")
	c.do(skip, err)
	m, err := c.s.Remark(0, "heat shimmer over the quarry")
	c.do(m, err)
	for programme.Expect(c.s).Phase != programme.AtVerdict {
		skip, err := c.s.Skip(programme.Expect(c.s).Slot, true, "not wanted")
		c.do(skip, err)
	}
	c.at1(spec.Slot{Quantity: spec.InstrumentHeight, Closing: true}, "1.524")
	lift, err := check.Lift(c.s, "the light is going, the office decides")
	c.do(lift, err)
	return c.s
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
		c := newCrew(t, 2, agreed)
		c.at1(spec.Slot{Quantity: spec.InstrumentHeight}, "1.523")
		n := 0
		for programme.Expect(c.s).Phase != programme.AtVerdict && len(c.s.Rounds) <= 4 {
			p := programme.Expect(c.s)
			n++
			if n%17 == 0 {
				c.key(c.made(p, 40))
				c.strike("called before the cross-hair was on")
			}
			c.key(c.made(p, n))
		}
		lift, err := check.Lift(c.s, "written on Hold for the test")
		c.do(lift, err)
		return c.s
	})
}

// sized is a setup of so many targets and rounds with verticals and distances,
// every strikes-th reading struck first.
func sized(t *testing.T, targets, rounds, strikes int) booking.Setup {
	return keptAs(fmt.Sprint(targets, rounds, strikes), func() booking.Setup {
		agreed := smallSpec()
		agreed.Rounds = rounds
		agreed.Targets = []string{"Alder", "Quarry", "Mast", "Chapel", "Kiln", "Heron", "Sluice", "Beacon", "Larch", "Ford", "Gantry"}[:targets]
		c := newCrew(t, 4, agreed)
		c.at1(spec.Slot{Quantity: spec.InstrumentHeight}, "1.523")
		struck := 0
		for n := 1; programme.Expect(c.s).Phase != programme.AtVerdict && len(c.s.Rounds) <= rounds; n++ {
			p := programme.Expect(c.s)
			if p.Slot.Quantity == spec.InstrumentHeight {
				c.at1(p.Slot, "1.524")
				continue
			}
			if n%9 == 0 && struck < strikes {
				c.key(c.made(p, 40))
				c.strike("wrong edge of the mast")
				struck++
			}
			if p.Slot.Face == faces.FR { // only one face is noisy: the rounds agree
				c.key(c.made(p, 7))
				continue
			}
			c.key(c.made(p, n))
		}
		lift, err := check.Lift(c.s, "blasting at nine, the bank is cleared")
		c.do(lift, err)
		return c.s
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
		c := newCrew(t, 3, agreed)
		for n := 0; programme.Expect(c.s).Phase == programme.InRounds && len(c.s.Rounds) <= 8; n++ {
			c.key(c.made(programme.Expect(c.s), n))
			if n%97 == 96 {
				c.strike(strings.Repeat("verylongreason", 12))
			}
		}
		return c.s
	})
}

// made makes a reading that the instrument could show: a fixed direction with
// small departures in steps of the least count.
func (c *crew) made(p programme.Prompt, n int) string {
	if p.Slot.Quantity == spec.Slope {
		return "345.678"
	}
	if p.Slot.Quantity == spec.TargetHeight {
		return "1.600"
	}
	k := 0
	for i, name := range c.s.Spec.Names() {
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
	d := reduce.Angle(p.Slot.Round-1)*reduce.QuarterTurn + 5*reduce.Arcminute + reduce.Angle(k)*(330*reduce.Degree+70*reduce.Arcminute).Div(int64(len(c.s.Spec.Targets)))
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
