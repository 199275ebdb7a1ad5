package observer

import (
	"math"
	"math/rand/v2"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// A Line is the truth about the line from the station to one mark.
type Line struct {
	Target    string
	Direction reduce.Angle // from the RO, clockwise
	Altitude  reduce.Angle
	Slope     lengths.Length // 0: not measured
	Height    lengths.Length // of the target over its mark
}

// An Observer is a simulated instrument on a station and the person at its
// telescope.
type Observer struct {
	Seed      uint64
	Spec      spec.Spec    // of the station; its targets are those of Lines
	Lines     []Line       // the RO first
	Collim    reduce.Angle // of the sight, face left
	Tilt      reduce.Angle // of the trunnion axis
	Index     reduce.Angle // of the vertical circle
	Sigma     reduce.Angle // of one reading on one face
	Height    lengths.Length
	Faults    []Fault
	SlipEvery int         // one call in so many is a slip; 0: none
	Kinds     []slip.Kind // of slips; none: all that package slip has a share for

	left map[int]int // by round: the round whose circle setting was left as it was
}

// A Call is what the observer says at one pointing.
type Call struct {
	Text    string // in the notation the booker keys
	Value   int64  // what it says: reduce.Angle or lengths.Length; of a slip in the number of digits, what they make
	Right   int64  // what the instrument shows
	Slipped bool
	Slip    slip.Kind // what was done wrong; slip.Unknown also where it is a poor sight
}

// Call returns what the observer calls at a slot of a setup. again is how often
// the same pointing was called before: a slip is made the first time only. A
// pointing that this station does not have is called with nothing.
func (o *Observer) Call(s booking.Setup, slot spec.Slot, again int) Call {
	round, begun := s.Round(slot.Round)
	if !begun {
		round.Setting = s.NextSetting()
	}
	value, ok := o.reading(slot, round.Setting, again)
	if !ok {
		return Call{}
	}
	call := o.say(slot, value)
	r := o.random(slot, again, 1)
	if slot.Quantity.Angular() && again == 0 && o.SlipEvery > 0 && r.IntN(o.SlipEvery) == 0 {
		return o.slipped(call, sight{slot, round.Setting, first(s, slot)}, r)
	}
	return call
}

// say puts what the instrument shows into words: lengths to three decimals.
func (o *Observer) say(slot spec.Slot, value int64) Call {
	call := Call{Text: called(reduce.Angle(value), o.Spec.Instrument), Value: value, Right: value}
	if !slot.Quantity.Angular() {
		call.Text = lengths.Length(value).Format(o.Spec.LengthUnit, 3)
		if l, err := lengths.Parse(call.Text, o.Spec.LengthUnit); err == nil {
			call.Value = int64(l)
		}
	}
	return call
}

// Slip returns a slip at a slot of a setup where the instrument shows right. Where
// none fits, the call is right.
func (o *Observer) Slip(s booking.Setup, slot spec.Slot, right reduce.Angle, r *rand.Rand) Call {
	round, _ := s.Round(slot.Round)
	return o.slipped(o.say(slot, int64(right)), sight{slot, round.Setting, false}, r)
}

// first tells whether the slot is the sight for which the circle is set.
func first(s booking.Setup, slot spec.Slot) bool {
	if slot.Quantity != spec.Horizontal || slot.Face != faces.FL || slot.Target != s.Spec.RO || slot.Closing {
		return false
	}
	for _, r := range s.Readings {
		if r.Stands() && r.Slot.Quantity == spec.Horizontal && r.Slot.Round == slot.Round {
			return false
		}
	}
	return true
}

// reading returns what the instrument shows at a slot, faults included:
// micro-arcseconds or nanometres. setting is the circle setting of its round (1,
// 2, …); again tells sights of one pointing apart. ok is false where the station
// has no such pointing.
func (o *Observer) reading(slot spec.Slot, setting, again int) (value int64, ok bool) {
	if slot.Quantity == spec.InstrumentHeight {
		return int64(o.Height), true
	}
	p, ok := o.pointing(slot)
	if !ok {
		return 0, false
	}
	l := o.Lines[p.sighted]
	switch slot.Quantity {
	case spec.Slope:
		return int64(l.Slope), l.Slope > 0
	case spec.TargetHeight:
		return int64(l.Height), l.Slope > 0 || p.sighted == 0
	}
	if slot.Quantity == spec.Accumulated {
		return int64(o.sum(slot, setting, again) + p.off), true
	}
	v := o.vertical(slot, l)
	if slot.Quantity == spec.Horizontal {
		v = o.start(slot.Round, setting) + o.horizontal(slot.Face, l)
	}
	v += reduce.Angle(o.random(slot, again, 0).NormFloat64()*float64(o.Sigma)) + p.off
	v = v.Round(o.Spec.Instrument.LeastCount).Normalize()
	if p.exchanged {
		v = o.exchanged(v, slot)
	}
	return int64(v), true
}

// sum returns what the circle shows after the repetitions: the initial reading, and so
// many times the angle, each turned by two sights with noise of their own; read once.
func (o *Observer) sum(slot spec.Slot, setting, again int) reduce.Angle {
	n := o.Spec.Repetitions
	r := o.random(slot, again, 0)
	angle := o.horizontal(slot.Face, o.Lines[o.index(slot.Target)]) - o.horizontal(slot.Face, o.Lines[0])
	v := o.start(slot.Round, setting) + o.horizontal(slot.Face, o.Lines[0]) + reduce.Angle(n)*angle
	v += reduce.Angle(r.NormFloat64() * float64(o.Sigma) * math.Sqrt(float64(2*n)))
	return v.Round(o.Spec.Instrument.LeastCount).Normalize()
}

// start returns the circle reading of the RO on face left, a few minutes past
// what the plan asks for.
func (o *Observer) start(round, setting int) reduce.Angle {
	if from, ok := o.left[round]; ok {
		round, setting = from, setting-(round-from)
	}
	from, to, ok := o.Spec.CircleStart(setting)
	if !ok {
		from, to = 0, reduce.Turn
	}
	r := rand.New(rand.NewPCG(o.Seed, uint64(round)))
	return from + reduce.Angle(float64(to-from)*(0.05+float64(0.5*r.Float64()))).Round(o.Spec.Instrument.LeastCount)
}

// LeaveCircle leaves the circle for a round as it was in the one before: it was
// not set, and nobody noticed.
func (o *Observer) LeaveCircle(round int) {
	from, ok := o.left[round-1]
	if !ok {
		from = round - 1
	}
	if o.left == nil {
		o.left = map[int]int{}
	}
	o.left[round] = from
}

// horizontal returns the circle reading from the RO, without noise: collimation
// grows with 1/cos of the altitude, tilt of the trunnion axis with its tangent,
// both with opposite signs on the two faces.
func (o *Observer) horizontal(face faces.Face, l Line) reduce.Angle {
	h := l.Altitude.Radians()
	c := reduce.Angle(float64(o.Collim)/math.Cos(h)) + reduce.Angle(float64(o.Tilt)*math.Tan(h))
	if face == faces.FR {
		return l.Direction + reduce.HalfTurn - c
	}
	return l.Direction + c
}

func (o *Observer) vertical(slot spec.Slot, l Line) reduce.Angle {
	left := slot.Face == faces.FL
	if o.Spec.Instrument.Circle == faces.Horizon {
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

// random returns the random numbers of one call: those of its noise (0) or of
// its slip (1).
func (o *Observer) random(slot spec.Slot, again, of int) *rand.Rand {
	key := uint64(o.index(slot.Target)+1)<<32 | uint64(slot.Round)<<16 | uint64(slot.Quantity)<<8 | uint64(slot.Face)<<4 | uint64(of)
	if slot.Closing {
		key |= 1 << 3
	}
	return rand.New(rand.NewPCG(o.Seed, key+uint64(again)<<48))
}

// index returns where a target stands among the lines, −1 where it does not.
func (o *Observer) index(target string) int {
	for i := range o.Lines {
		if o.Lines[i].Target == target {
			return i
		}
	}
	return -1
}

// called writes a reading in parts with spaces, as it is called.
func called(a reduce.Angle, i spec.Instrument) string {
	text := a.Format(i.Unit, i.Places())
	if i.Unit.Decimal() {
		return text
	}
	return calledMarks.Replace(text)
}

var calledMarks = strings.NewReplacer("°", " ", "′", " ", "″", "")
