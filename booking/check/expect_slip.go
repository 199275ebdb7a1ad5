package check

import (
	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/check/align"
	"example.org/readback/booking/check/completion"
	"example.org/readback/booking/check/forecast"
	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/slope"
)

// A Cause is what a search for the slip behind a marked reading found.
type Cause struct {
	slip.Result
	Rival    spec.Slot // the one booked reading that speaks against it, where it is only one
	OnRival  bool      // that reading explains it better
	OnEither bool      // it may as well be that reading
}

// Slip searches for the kind of slip that would explain a marked reading. Where
// one booked reading alone speaks against it, the slip may as well have been
// made there, unseen: then both are searched.
func (e *Expectation) Slip(a reduce.Angle) Cause {
	here := slip.Search(e.caseOf(a))
	rival, ok := e.rival()
	if !ok {
		return Cause{Result: here}
	}
	there := slip.Search(e.caseOfRival(a, rival))
	c := Cause{Result: here, Rival: rival.Slot}
	where := e.placeOf(rival.Slot)
	switch {
	case here.Density >= clearly*there.Density:
	case there.Density >= clearly*here.Density:
		c.Result, c.OnRival = there, true
		if there.Kind != slip.Unknown {
			c.Text = "It may be the reading " + where + " that is wrong. " + there.Text
		}
	case here.Kind == there.Kind && here.Part == there.Part && here.Kind != slip.Unknown:
		c.OnEither = true
		c.Text = "Here or " + where + ": " + here.Text
	default:
		c.OnEither = true
		c.Kind, c.Part = slip.Unknown, slip.NoPart
		c.Text = "Here or " + where + ": read both again."
	}
	return c
}

// clearly is how much likelier one reading must be to be named alone.
const clearly = 4

// placeOf says where another reading of this round or pair was made.
func (e *Expectation) placeOf(s spec.Slot) string {
	if s.Target == e.slot.Target {
		return "on " + s.Face.Words()
	}
	return "at " + s.Target
}

// OtherFace returns the reading on the other face, where it alone speaks against the
// reading at hand: when that is read again and found the same, the other one is
// suspect.
func (e *Expectation) OtherFace() (booking.Reading, bool) {
	r, ok := e.rival()
	return r, ok && r.Slot == e.slot.Pair()
}

// rival returns the one reading that alone speaks against the one at hand: the
// other face, where the target has no other reading; the first reading of a
// round, where the round has no other.
func (e *Expectation) rival() (booking.Reading, bool) {
	pair, paired := e.setup.At(e.slot.Pair())
	if e.basis == onPair && paired && e.pairAlone() {
		return pair, true
	}
	if first, ok := e.first(); ok && e.basis == onFirst {
		return first, true
	}
	if e.slot.Quantity != spec.Horizontal || e.basis == onNothing || e.basis == onSetting {
		return booking.Reading{}, false
	}
	var only booking.Reading
	n := 0
	for _, r := range e.setup.Readings {
		if r.Slot.Round == e.slot.Round && r.Slot.Quantity == spec.Horizontal && r.Struck == nil && r.Slot != e.slot {
			only = r
			n++
		}
	}
	return only, n == 1
}

// pairAlone tells whether the other face of the pair is the only other reading
// of this target.
func (e *Expectation) pairAlone() bool {
	for i := range e.setup.Readings {
		r := &e.setup.Readings[i]
		if r.Slot.Target == e.slot.Target && r.Slot.Quantity == e.slot.Quantity && r.Struck == nil && r.Slot != e.slot.Pair() && r.Slot != e.slot {
			return false
		}
	}
	return !e.known
}

// caseOf describes the reading and what was expected of it.
func (e *Expectation) caseOf(a reduce.Angle) slip.Case {
	i := e.setup.Spec.Instrument
	c := slip.Case{Value: a, Unit: i.Unit, LeastCount: i.LeastCount}
	for _, b := range e.bands {
		if e.basis != onAltitude {
			c.Expected = append(c.Expected, slip.Expectation{Band: completion.Band{Centre: b.centre, Half: b.limit}, Sigma: b.sd})
		}
	}
	c.Alternatives = e.alternatives()
	if e.slot.Quantity == spec.Vertical && e.basis == onPair {
		c.Gradient = slope.Gradient(e.altitude(e.bands[0].centre))
	}
	return c
}

// caseOfRival describes the reading that speaks against the one at hand, and what
// that would make of it.
func (e *Expectation) caseOfRival(a reduce.Angle, rival booking.Reading) slip.Case {
	i := e.setup.Spec.Instrument
	c := slip.Case{Value: rival.Angle(), Unit: i.Unit, LeastCount: i.LeastCount}
	for _, b := range e.bands {
		off := a - b.centre
		if e.slot.Quantity == spec.Vertical {
			off = -off
		}
		centre := (rival.Angle() + off).Normalize()
		c.Expected = append(c.Expected, slip.Expectation{Band: completion.Band{Centre: centre, Half: b.limit}, Sigma: b.sd})
	}
	if e.slot.Quantity == spec.Horizontal {
		c.Alternatives = []slip.Alternative{e.instead(slip.OtherCircle, e.levelBand(rival.Slot.Face))}
	}
	return c
}

// altitude returns the altitude a vertical reading of the slot gives.
func (e *Expectation) altitude(v reduce.Angle) reduce.Angle {
	if e.slot.Face == faces.FL {
		return faces.AltitudeFL(v, e.setup.Spec.Instrument.Circle)
	}
	return faces.AltitudeFR(v, e.setup.Spec.Instrument.Circle)
}

// alternatives lists what would have been read had the pointing gone wrong.
func (e *Expectation) alternatives() []slip.Alternative {
	switch e.basis {
	case onNothing:
		return nil
	case onSetting:
		return e.otherSettings()
	case onAltitude:
		return []slip.Alternative{e.instead(slip.FaceNotChanged, band{centre: (e.bands[0].centre + reduce.HalfTurn).Normalize(), limit: steepest})}
	}
	if e.slot.Quantity == spec.Accumulated {
		return nil
	}
	if e.slot.Quantity == spec.Vertical {
		b := e.bands[0]
		b.centre = mirrored(e.setup.Spec.Instrument.Circle, b.centre)
		b.limit += 2 * reduce.Arcminute
		list := []slip.Alternative{e.instead(slip.FaceNotChanged, b)}
		return append(list, e.otherVerticals()...)
	}
	var list []slip.Alternative
	for _, x := range e.fit.Reading(e.slot.Round, slices.Index(e.setup.Spec.Names(), e.slot.Target), e.slot.Face.Other()) {
		list = append(list, e.instead(slip.FaceNotChanged, around(x)))
	}
	list = append(list, e.instead(slip.OtherCircle, e.levelBand(e.slot.Face)))
	return append(list, e.otherTargets()...)
}

// levelBand is where the vertical circle reads on a face.
func (e *Expectation) levelBand(f faces.Face) band {
	return band{centre: levelReading(e.setup.Spec.Instrument.Circle, f), limit: align.Sloping}
}

func (e *Expectation) instead(k slip.Kind, b band) slip.Alternative {
	return slip.Alternative{Kind: k, Expectation: slip.Expectation{Band: completion.Band{Centre: b.centre, Half: b.limit}, Sigma: b.sd}}
}

// sameSetting is how close to an earlier first reading of a round a circle that
// was not set reads (assumed).
const sameSetting = 30 * reduce.Arcsecond

// otherSettings lists the first readings of the earlier rounds, as a circle that
// was not set would read, and the setting counted anticlockwise.
func (e *Expectation) otherSettings() []slip.Alternative {
	var list []slip.Alternative
	for i := range e.setup.Readings {
		r := &e.setup.Readings[i]
		if r.Slot.Quantity == spec.Horizontal && r.Slot.Target == e.slot.Target && r.Slot.Face == faces.FL && r.Slot.Round != e.slot.Round {
			list = append(list, e.instead(slip.CircleNotSet, band{centre: r.Angle(), limit: sameSetting}))
		}
	}
	b := e.bands[0]
	b.centre = (-b.centre).Normalize()
	return append(list, e.instead(slip.Anticlockwise, b))
}

func around(x forecast.Expected) band {
	sd := reduce.FromSeconds(x.SD)
	return band{centre: x.Reading.Angle(), limit: max(4*sd, reduce.Arcminute), sd: sd}
}

// otherTargets lists the readings the other targets would give, and the reading
// of a circle that counts anticlockwise from the RO.
func (e *Expectation) otherTargets() []slip.Alternative {
	var list []slip.Alternative
	for t, name := range e.setup.Spec.Names() {
		for _, x := range e.fit.Reading(e.slot.Round, t, e.slot.Face) {
			b := around(x)
			if name == e.slot.Target {
				continue
			}
			list = append(list, e.instead(slip.WrongTarget, b))
			if t == 0 {
				b.centre = (b.centre + b.centre - e.bands[0].centre).Normalize()
				list = append(list, e.instead(slip.Anticlockwise, b))
			}
		}
	}
	return list
}

// otherVerticals lists the readings of the other targets on this face.
func (e *Expectation) otherVerticals() []slip.Alternative {
	var list []slip.Alternative
	for _, name := range e.setup.Spec.Names() {
		slot := e.slot
		slot.Target = name
		if r, ok := e.setup.At(slot); ok && name != e.slot.Target {
			b := e.bands[0]
			b.centre = r.Angle()
			list = append(list, e.instead(slip.WrongTarget, b))
			continue
		}
		if r, ok := e.setup.At(slot.Pair()); ok && name != e.slot.Target {
			b := e.bands[0]
			b.centre = (mirrored(e.setup.Spec.Instrument.Circle, r.Angle()) + e.bands[0].centre - mirrored(e.setup.Spec.Instrument.Circle, e.pairAngle())).Normalize()
			list = append(list, e.instead(slip.WrongTarget, b))
		}
	}
	return slices.Clip(list)
}

func (e *Expectation) pairAngle() reduce.Angle {
	r, _ := e.setup.At(e.slot.Pair())
	return r.Angle()
}
