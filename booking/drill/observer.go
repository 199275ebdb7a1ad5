package drill

import (
	"hash/fnv"
	"math"
	"math/rand/v2"

	"example.org/readback/booking"
	"example.org/readback/reduce"
)

// A Line is the truth about the line from the station to one mark.
type Line struct {
	Target    string
	Direction reduce.Angle // from the RO, clockwise
	Altitude  reduce.Angle
	Slope     reduce.Length // 0: not measured
	Height    reduce.Length // of the target over its mark
}

// An Observer is a simulated instrument on a station and the person at its
// telescope.
type Observer struct {
	Seed       uint64
	Lines      []Line // the RO first
	Collim     reduce.Angle
	Index      reduce.Angle
	Sigma      reduce.Angle // of one reading on one face
	Height     reduce.Length
	SlipEvery  int    // one call in so many is a slip; 0: none
	Kinds      []Kind // of slips; none: all
	Instrument booking.Instrument
}

// A Call is what the observer says at one pointing.
type Call struct {
	Text string // in the notation the booker keys
	Slip string // what was done wrong, in words; empty: it is what the circle shows
}

// Call returns what the observer calls at a slot. again is how often the same
// pointing was called before: a slip is made the first time only.
func (o *Observer) Call(s booking.Setup, slot booking.Slot, again int) Call {
	r := o.random(slot, again)
	value, ok := o.reading(s, slot, r)
	if !ok {
		return Call{}
	}
	if !slot.Quantity.Angular() {
		return Call{Text: reduce.Length(value).Format(s.Spec.LengthUnit, 3)}
	}
	shown := reduce.Angle(value).Round(o.Instrument.LeastCount).Normalize()
	text := keyed(shown, o.Instrument)
	if again > 0 || o.SlipEvery <= 0 || r.IntN(o.SlipEvery) != 0 {
		return Call{Text: text}
	}
	return o.slipped(text, r)
}

// reading returns what the instrument shows: micro-arcseconds or nanometres.
func (o *Observer) reading(s booking.Setup, slot booking.Slot, r *rand.Rand) (int64, bool) {
	if slot.Quantity == booking.InstrumentHeight {
		return int64(o.Height), true
	}
	for i, l := range o.Lines {
		if l.Target != slot.Target {
			continue
		}
		noise := reduce.Angle(r.NormFloat64() * float64(o.Sigma))
		switch slot.Quantity {
		case booking.Horizontal:
			return int64(o.horizontal(s, slot, l) + noise), true
		case booking.Vertical:
			return int64(o.vertical(slot, l) + noise), true
		case booking.Slope:
			return int64(l.Slope), l.Slope > 0
		case booking.TargetHeight:
			return int64(l.Height), l.Slope > 0 || i == 0
		}
	}
	return 0, false
}

// horizontal returns the circle reading without noise. The circle of each round
// is set a few minutes past the start the plan asks for.
func (o *Observer) horizontal(s booking.Setup, slot booking.Slot, l Line) reduce.Angle {
	round, _ := s.Round(slot.Round)
	setting := round.Setting
	if setting == 0 {
		setting = s.NextSetting()
	}
	from, to, ok := s.Spec.CircleStart(setting)
	if !ok {
		from, to = 0, reduce.Turn
	}
	set := from + reduce.Angle(float64(to-from)*(0.05+0.5*o.fixed(slot.Round))).Round(o.Instrument.LeastCount)
	v := set + l.Direction
	c := reduce.Angle(float64(o.Collim) / math.Cos(l.Altitude.Radians()))
	if slot.Face == booking.FR {
		return v + reduce.HalfTurn - c
	}
	return v + c
}

func (o *Observer) vertical(slot booking.Slot, l Line) reduce.Angle {
	left := slot.Face == booking.FL
	if o.Instrument.Circle == reduce.Horizon {
		if left {
			return l.Altitude + o.Index
		}
		return reduce.HalfTurn - l.Altitude + o.Index
	}
	if left {
		return reduce.QuarterTurn - l.Altitude + o.Index
	}
	return 3*reduce.QuarterTurn + l.Altitude + o.Index
}

// random returns the random numbers of one call.
func (o *Observer) random(slot booking.Slot, again int) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(slot.String()))
	return rand.New(rand.NewPCG(o.Seed, h.Sum64()+uint64(again)))
}

// fixed returns a number in [0, 1) that belongs to a round.
func (o *Observer) fixed(round int) float64 {
	return rand.New(rand.NewPCG(o.Seed, uint64(round))).Float64()
}

// keyed writes a reading in parts with spaces, as it is called.
func keyed(a reduce.Angle, i booking.Instrument) string {
	text := a.Format(i.Unit, i.Places())
	if i.Unit == reduce.GonUnit {
		return text
	}
	out := []rune{}
	for _, r := range text {
		switch r {
		case '°', '′':
			out = append(out, ' ')
		case '″':
		default:
			out = append(out, r)
		}
	}
	return string(out)
}
