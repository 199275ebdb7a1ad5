package observer

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/event"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// Brackenfold is the invented survey of the demonstration and the drills: a dam,
// its marks, a crew and an instrument.
var brackenfold = struct {
	stations, marks []string
	instrument      spec.Instrument
	observer        string
	booker          string
}{
	stations: []string{"Weir", "Gatehouse", "Spillway", "Boathouse"},
	marks:    []string{"Spire", "Alder", "Quarry", "Mast", "Chapel", "Knoll", "Silo", "Beacon"},
	instrument: spec.Instrument{Name: "T-5", Serial: "4471", LeastCount: 5 * reduce.Arcsecond,
		Unit: reduce.DMS, Sigma: 2 * reduce.Arcsecond, Circle: faces.Zenith},
	observer: "Ines Holm", booker: "Tam Okoro",
}

// Options choose a station and how it is observed. What is left at nothing has
// the value said beside it.
type Options struct {
	Seed        uint64
	Targets     int          // besides the RO; 3
	Rounds      int          // 2
	LeastCount  reduce.Angle // 5″
	Unit        reduce.Unit  // dms
	Sigma       reduce.Angle // of one reading on one face; 2″
	Stated      reduce.Angle // the same as the crew states it; Sigma. Negative: not stated
	Limits      reduce.Angle // the least count whose default limits are taken; that of the instrument
	Order       spec.Order
	Repetitions int  // of the angle, by repetition; 6
	CloseHalves bool // each half ends on the RO again
	NoVerticals bool
	Distances   bool
	Hilly       bool        // altitudes, collimation, tilt and index error of a season: 4°, 15″, 5″, 10″ (one standard deviation each)
	SlipEvery   int         // one call in so many is a slip; none
	Kinds       []slip.Kind // of slips; all
	Faults      []Fault
}

// fill puts in the values that were left out.
func (o *Options) fill() {
	if o.Targets <= 0 {
		o.Targets = 3
	}
	o.Targets = min(o.Targets, spec.MaxTargets)
	if o.Order == spec.ByRepetition {
		o.Targets = 1
		o.Repetitions = cmp.Or(o.Repetitions, spec.UsualRepetitions)
	}
	if o.Rounds <= 0 {
		o.Rounds = spec.LeastRounds
	}
	if o.LeastCount <= 0 {
		o.LeastCount = brackenfold.instrument.LeastCount
	}
	if o.Unit == 0 {
		o.Unit = reduce.DMS
	}
	if o.Sigma <= 0 {
		o.Sigma = 2 * reduce.Arcsecond
	}
	if o.Stated == 0 {
		o.Stated = o.Sigma
	}
	if o.Limits <= 0 {
		o.Limits = o.LeastCount
	}
}

// New returns an observer on a station drawn from the seed.
func New(o Options) *Observer {
	o.fill()
	r := rand.New(rand.NewPCG(o.Seed, 1))
	i := brackenfold.instrument
	i.LeastCount, i.Unit = o.LeastCount, o.Unit
	i.Sigma = reduce.Angle(float64(max(o.Stated, 0)) / math.Sqrt2).Round(reduce.Arcsecond / 1000) // of both faces together
	agreed := spec.Spec{
		Station: brackenfold.stations[r.IntN(len(brackenfold.stations))],
		RO:      brackenfold.marks[0], Targets: marksUpTo(o.Targets),
		Instrument: i, Observer: brackenfold.observer, Booker: brackenfold.booker,
		Rounds: o.Rounds, Plan: spec.QuarterPlan, Order: o.Order, Repetitions: o.Repetitions, ClosingRule: faces.ClosingMean, CloseHalves: o.CloseHalves,
		Limits:    spec.DefaultLimits(o.Limits),
		Verticals: !o.NoVerticals, Distances: o.Distances, LengthUnit: lengths.Metres, Refraction: spec.DefaultRefraction,
	}
	out := &Observer{
		Seed: o.Seed, Spec: agreed, Lines: lines(agreed, o.Hilly, r), Sigma: o.Sigma, SlipEvery: o.SlipEvery, Kinds: o.Kinds, Faults: o.Faults,
		Collim: reduce.FromSeconds(r.Float64()*20 - 10), Index: reduce.FromSeconds(r.Float64()*20 - 10),
		Height: lengths.Length(1_450+r.IntN(200)) * lengths.Millimetre,
	}
	if o.Hilly {
		out.Collim, out.Tilt, out.Index = reduce.FromSeconds(r.NormFloat64()*15), reduce.FromSeconds(r.NormFloat64()*5), reduce.FromSeconds(r.NormFloat64()*10)
	}
	return out
}

// marksUpTo returns the names of n targets; beyond the named marks they are
// numbered.
func marksUpTo(n int) []string {
	var names []string
	for k := 1; k <= n; k++ {
		if k < len(brackenfold.marks) {
			names = append(names, brackenfold.marks[k])
		} else {
			names = append(names, fmt.Sprintf("Mark %d", k))
		}
	}
	return names
}

// lines puts the targets round the horizon, well apart.
func lines(agreed spec.Spec, hilly bool, r *rand.Rand) []Line {
	names := agreed.Names()
	step := float64(reduce.Turn) / float64(len(names))
	var ls []Line
	for i, n := range names {
		l := Line{
			Target:   n,
			Altitude: reduce.FromDegrees(r.Float64()*10 - 3).Round(reduce.Arcsecond),
			Slope:    lengths.Length(40_000+r.IntN(180_000)) * lengths.Millimetre,
			Height:   lengths.Length(1_200+r.IntN(500)) * lengths.Millimetre,
		}
		if hilly {
			l.Altitude = reduce.FromDegrees(r.NormFloat64() * 4).Round(reduce.Arcsecond)
		}
		if i > 0 {
			l.Direction = reduce.Angle(step * (float64(i) + float64(0.6*r.Float64()) - 0.3)).Round(reduce.Arcsecond)
		}
		ls = append(ls, l)
	}
	return ls
}

// Book returns the station booked as the programme has it, every pointing once,
// without help or second sights: what the verdict is held against. The seed that
// the setup was drawn from and its faults say what is wrong in it.
func (o *Observer) Book() (booking.Setup, error) {
	seq := uint64(0)
	entries := make([]event.Entry, 0, 1+2*len(o.Lines)*(o.Spec.Rounds+2))
	add := func(e event.Event) {
		seq++
		entries = append(entries, event.Entry{Seq: seq, At: noon.Add(time.Duration(seq) * 20 * time.Second), Setup: 1, Event: e})
	}
	add(event.SetupOpened{Spec: o.Spec})
	read := func(slots []spec.Slot, setting int) {
		for _, slot := range slots {
			v, _ := o.reading(slot, setting, 0)
			call := o.say(slot, v)
			add(event.ReadingBooked{Slot: slot, Text: call.Text, Value: call.Value, By: o.Spec.Booker})
		}
	}
	for n := 1; n <= o.Spec.Rounds; n++ {
		read(o.Spec.RoundSlots(n), n)
	}
	for _, face := range []faces.Face{faces.FL, faces.FR} {
		read(o.Spec.VerticalSlots(face), 0)
	}
	read(o.Spec.DistanceSlots(), 0)
	return booking.Fold(entries)
}

// noon is when every simulated station is booked: nothing depends on it.
var noon = time.Date(2026, 5, 4, 12, 0, 0, 0, time.UTC)

// HalfBooked returns the events of a setup that stands in the middle of its
// second round, on face right: what the demonstration opens with. entry numbers
// and dates them.
func (o *Observer) HalfBooked(entry func(event.Event) event.Entry) ([]event.Entry, error) {
	var list []event.Entry
	var s booking.Setup
	do := func(e event.Event) error {
		en := entry(e)
		list = append(list, en)
		var err error
		s, err = s.Apply(en)
		return err
	}
	if err := do(event.SetupOpened{Spec: o.Spec}); err != nil {
		return nil, err
	}
	slot := spec.Slot{Quantity: spec.InstrumentHeight}
	for range 3*len(o.Spec.HalfSlots(1, faces.FL)) + 2 {
		call := o.Call(s, slot, 1)
		if err := do(event.ReadingBooked{Slot: slot, Text: call.Text, Value: call.Value, By: o.Spec.Booker}); err != nil {
			return nil, err
		}
		slot = programme.Expect(s).Slot
	}
	return list, nil
}
