package booking

import (
	"slices"

	"example.org/readback/booking/entry"
	"example.org/readback/booking/forecast"
	"example.org/readback/booking/slip"
	"example.org/readback/reduce"
)

// A Cause is what a search for the slip behind a marked reading found.
type Cause struct {
	slip.Result
	OnPair   bool // the reading booked on the other face explains it better
	OnEither bool // it may as well be the reading booked on the other face
}

// Slip searches for the kind of slip that would explain a marked reading. Where
// nothing but the other face of the same pair speaks against it, the slip may
// as well have been made there, unseen: then both are searched.
func (e *Expectation) Slip(a reduce.Angle) Cause {
	here := slip.Search(e.caseOf(a))
	pair, ok := e.setup.At(e.slot.Pair())
	if e.basis != onPair || !ok || !e.pairAlone() {
		return Cause{Result: here}
	}
	there := slip.Search(e.caseOfPair(a, pair))
	switch {
	case here.Density >= clearly*there.Density:
		return Cause{Result: here}
	case there.Density >= clearly*here.Density:
		if there.Kind != slip.Unknown {
			there.Text = "The reading on " + pair.Slot.Face.Words() + " looks wrong. " + there.Text
		}
		return Cause{Result: there, OnPair: true}
	case here.Kind == there.Kind && here.Part == there.Part && here.Kind != slip.Unknown:
		here.Text = "Here or on " + pair.Slot.Face.Words() + ": " + here.Text
		return Cause{Result: here, OnEither: true}
	}
	return Cause{OnEither: true, Result: slip.Result{Ways: here.Ways, Density: here.Density, Text: "Here or on " + pair.Slot.Face.Words() + ": read both again."}}
}

// clearly is how much likelier one face must be to be named alone.
const clearly = 4

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
			c.Expected = append(c.Expected, slip.Expectation{Band: entry.Band{Centre: b.centre, Half: b.limit}, Sigma: b.sd})
		}
	}
	c.Alternatives = e.alternatives()
	if e.slot.Quantity == Vertical && e.basis == onPair {
		c.Gradient = reduce.Gradient(e.altitude(e.bands[0].centre))
	}
	return c
}

// caseOfPair describes the reading of the other face and what the one at hand
// would make of it.
func (e *Expectation) caseOfPair(a reduce.Angle, pair Reading) slip.Case {
	i := e.setup.Spec.Instrument
	c := slip.Case{Value: pair.Angle(), Unit: i.Unit, LeastCount: i.LeastCount}
	for _, b := range e.bands {
		off := a - b.centre
		if e.slot.Quantity == Vertical {
			off = -off
		}
		centre := (pair.Angle() + off).Normalize()
		c.Expected = append(c.Expected, slip.Expectation{Band: entry.Band{Centre: centre, Half: b.limit}, Sigma: b.sd})
	}
	return c
}

// altitude returns the altitude a vertical reading of the slot gives.
func (e *Expectation) altitude(v reduce.Angle) reduce.Angle {
	if e.slot.Face == FL {
		return reduce.AltitudeFL(v, e.setup.Spec.Instrument.Circle)
	}
	return reduce.AltitudeFR(v, e.setup.Spec.Instrument.Circle)
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
	if e.slot.Quantity == Vertical {
		b := e.bands[0]
		b.centre = mirrored(e.setup.Spec.Instrument.Circle, b.centre)
		b.limit += 2 * reduce.Arcminute
		list := []slip.Alternative{e.instead(slip.FaceNotChanged, b)}
		return append(list, e.otherVerticals()...)
	}
	var list []slip.Alternative
	for _, x := range e.fit.Reading(e.slot.Round, slices.Index(e.setup.Spec.Names(), e.slot.Target), e.slot.Face != FR) {
		list = append(list, e.instead(slip.FaceNotChanged, around(x)))
	}
	return append(list, e.otherTargets()...)
}

func (e *Expectation) instead(k slip.Kind, b band) slip.Alternative {
	return slip.Alternative{Kind: k, Expectation: slip.Expectation{Band: entry.Band{Centre: b.centre, Half: b.limit}, Sigma: b.sd}}
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
		if r.Slot.Quantity == Horizontal && r.Slot.Target == e.slot.Target && r.Slot.Face == FL && r.Slot.Round != e.slot.Round {
			list = append(list, e.instead(slip.CircleNotSet, band{centre: r.Angle(), limit: sameSetting}))
		}
	}
	b := e.bands[0]
	b.centre = (-b.centre).Normalize()
	return append(list, e.instead(slip.Anticlockwise, b))
}

func around(x forecast.Expected) band {
	sd := reduce.FromSeconds(x.SD)
	return band{centre: x.Reading, limit: max(4*sd, reduce.Arcminute), sd: sd}
}

// otherTargets lists the readings the other targets would give, and the reading
// of a circle that counts anticlockwise from the RO.
func (e *Expectation) otherTargets() []slip.Alternative {
	var list []slip.Alternative
	for t, name := range e.setup.Spec.Names() {
		for _, x := range e.fit.Reading(e.slot.Round, t, e.slot.Face == FR) {
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
