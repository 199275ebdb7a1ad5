package drill

import (
	"fmt"
	"math/rand/v2"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/reduce"
)

// Brackenfold is the invented survey of the demonstration and the drills: a dam,
// its marks, a crew and an instrument.
var brackenfold = struct {
	stations, marks []string
	instrument      booking.Instrument
	observer        string
	booker          string
}{
	stations: []string{"Weir", "Gatehouse", "Spillway", "Boathouse"},
	marks:    []string{"Spire", "Alder", "Quarry", "Mast", "Chapel", "Knoll", "Silo", "Beacon"},
	instrument: booking.Instrument{Name: "T-5", Serial: "4471", LeastCount: 5 * reduce.Arcsecond,
		Unit: reduce.DMS, Sigma: 2 * reduce.Arcsecond, Circle: reduce.Zenith},
	observer: "Ines Holm", booker: "Tam Okoro",
}

// Options choose a drill.
type Options struct {
	Seed      uint64
	Targets   int          // besides the RO, 2 to 7; 0: 3
	SlipEvery int          // one call in so many is a slip; 0: none
	Kinds     []Kind       // of slips; none: all
	Sigma     reduce.Angle // of one reading on one face; 0: 2″
	Rounds    int          // 0: 2
	Distances bool
}

// New returns the setup that a drill begins with and its observer.
func New(o Options) (booking.Spec, *Observer) {
	if o.Targets <= 0 {
		o.Targets = 3
	}
	o.Targets = min(o.Targets, len(brackenfold.marks)-1)
	if o.Rounds <= 0 {
		o.Rounds = booking.LeastRounds
	}
	if o.Sigma <= 0 {
		o.Sigma = 2 * reduce.Arcsecond
	}
	r := rand.New(rand.NewPCG(o.Seed, 1))
	spec := booking.Spec{
		Station: brackenfold.stations[r.IntN(len(brackenfold.stations))],
		RO:      brackenfold.marks[0], Targets: append([]string(nil), brackenfold.marks[1:1+o.Targets]...),
		Instrument: brackenfold.instrument, Observer: brackenfold.observer, Booker: brackenfold.booker,
		Rounds: o.Rounds, Plan: booking.QuarterPlan, ClosingRule: reduce.ClosingMean,
		Limits:    booking.DefaultLimits(brackenfold.instrument.LeastCount),
		Verticals: true, Distances: o.Distances, LengthUnit: reduce.Metres, Refraction: booking.DefaultRefraction,
	}
	return spec, &Observer{
		Seed: o.Seed, Lines: lines(spec, r), Sigma: o.Sigma, SlipEvery: o.SlipEvery, Kinds: o.Kinds, Instrument: spec.Instrument,
		Collim: reduce.FromSeconds(r.Float64()*20 - 10), Index: reduce.FromSeconds(r.Float64()*20 - 10),
		Height: reduce.Length(1_450+r.IntN(200)) * reduce.Millimetre,
	}
}

// lines puts the targets round the horizon, well apart.
func lines(spec booking.Spec, r *rand.Rand) []Line {
	names := spec.Names()
	step := float64(reduce.Turn) / float64(len(names))
	var ls []Line
	for i, n := range names {
		l := Line{
			Target:   n,
			Altitude: reduce.FromDegrees(r.Float64()*10 - 3).Round(reduce.Arcsecond),
			Slope:    reduce.Length(40_000+r.IntN(180_000)) * reduce.Millimetre,
			Height:   reduce.Length(1_200+r.IntN(500)) * reduce.Millimetre,
		}
		if i > 0 {
			l.Direction = reduce.Angle(step * (float64(i) + 0.6*r.Float64() - 0.3)).Round(reduce.Arcsecond)
		}
		ls = append(ls, l)
	}
	return ls
}

// HalfBooked returns the events of a setup that stands in the middle of its
// second round, on face right: what the demonstration opens with.
func HalfBooked(spec booking.Spec, o *Observer, entry func(booking.Event) booking.Entry) ([]booking.Entry, error) {
	var list []booking.Entry
	var s booking.Setup
	do := func(e booking.Event, err error) error {
		if err != nil {
			return fmt.Errorf("demonstration: %w", err)
		}
		en := entry(e)
		list = append(list, en)
		s, err = s.Apply(en)
		return err
	}
	open, err := booking.Open(spec)
	if err := do(open, err); err != nil {
		return nil, err
	}
	height := booking.Slot{Quantity: booking.InstrumentHeight}
	e, err := check.Read(s, height, o.Call(s, height, 1).Text, true, check.Known{})
	if err := do(e, err); err != nil {
		return nil, err
	}
	half := 3*len(spec.HalfSlots(1, booking.FL)) + 1
	for range half {
		slot := s.Expect().Slot
		e, err := check.Read(s, slot, o.Call(s, slot, 1).Text, true, check.Known{})
		if err := do(e, err); err != nil {
			return nil, err
		}
	}
	return list, nil
}
