package landxml

import (
	"iter"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/day"
	"example.org/readback/booking/page/sheet"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
	"example.org/readback/testdata/crew"
)

var made = time.Date(2026, 5, 4, 17, 30, 0, 0, time.UTC)

func weirSpec() spec.Spec {
	lc := 5 * reduce.Arcsecond
	return spec.Spec{
		Station: "Weir", RO: "Spire", Targets: []string{"Alder", "Quarry"},
		Instrument: spec.Instrument{Name: "T-5", Serial: "4471", LeastCount: lc, Unit: reduce.DMS, Circle: faces.Zenith, Sigma: 2 * reduce.Arcsecond},
		Observer:   "Ines Holm", Booker: "Tam Okoro", Rounds: 2, Plan: spec.QuarterPlan,
		Limits: spec.DefaultLimits(lc), Verticals: true, Distances: true, LengthUnit: lengths.Metres, Refraction: spec.DefaultRefraction,
	}
}

// weir has two rounds, a strike, a void round, verticals and one distance.
func weir(t *testing.T) booking.Setup { return atWeir(t).Setup }

func atWeir(t *testing.T) *crew.Crew {
	c := crew.Open(t, 1, weirSpec())
	e, err := check.Read(c.Setup, spec.Slot{Quantity: spec.InstrumentHeight}, "1.523", false, check.Known{})
	c.Do(e, err)
	c.Key("0 05 10", "45 10 20")
	c.Strike("wrong edge & \x07 <bell>")
	c.Key("45 10 25", "120 30 00", "300 30 10", "225 10 35", "180 05 20")
	c.Key("90 05 10")
	v, err := c.Setup.VoidRound(programme.Expect(c.Setup).Slot, "tripod knocked")
	c.Do(v, err)
	c.Key("90 05 10", "135 10 25", "210 30 00", "30 30 05", "315 10 30", "270 05 20")
	c.Key("88 20 10", "91 02 30", "89 15 00", "270 45 10", "268 57 35", "271 40 00")
	c.Key("512.340", "1.600")
	return c
}

// mast is booked in gon, on a horizon circle, with one round only and nothing
// but directions and verticals: no height was measured.
func mast(t *testing.T) booking.Setup {
	agreed := weirSpec()
	agreed.Station, agreed.RO, agreed.Targets = "Mast 1", "Weir", []string{"Alder"}
	agreed.Instrument = spec.Instrument{Name: "G", LeastCount: reduce.Gon / 10000, Unit: reduce.GonUnit, Circle: faces.Horizon}
	agreed.Observer, agreed.Distances = "Tam Okoro", false
	c := crew.Open(t, 2, agreed)
	c.Key("0.0513", "51.2345", "251.2355", "200.0523")
	c.Key("100.0513", "151.2345", "351.2355", "300.0523")
	c.Key("1.2345", "398.7655", "201.2345", "198.7655")
	return c.Setup
}

func document(setups ...booking.Setup) Document {
	var list []sheet.Sheet
	for _, s := range setups {
		list = append(list, sheet.Sheet{Book: day.Book{Job: "Brackenfold dam"}, Name: "brackenfold.book", Setup: s, Hash: "3f786850"})
	}
	return Document{Title: "Brackenfold dam", Program: "test", Made: made, Sheets: walk(list)}
}

func walk(list []sheet.Sheet) iter.Seq2[sheet.Sheet, error] {
	return func(yield func(sheet.Sheet, error) bool) {
		for _, s := range list {
			if !yield(s, nil) {
				return
			}
		}
	}
}
