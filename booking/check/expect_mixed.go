package check

import (
	"fmt"
	"slices"

	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// mixed finds a reading that was made at another place: the figure that is booked
// for another target of this half, or what the other circle reads on this target.
// Neither needs an expectation; a reading inside the one there is is let alone.
func (e *Expectation) mixed(a reduce.Angle) (event.Finding, bool) {
	if e.ExpectsFigure() && slices.ContainsFunc(e.bands, func(b band) bool { return (a - b.centre).Wrap().Abs() <= b.limit }) {
		return event.Finding{}, false
	}
	if e.slot.Quantity == spec.Accumulated { // the circle is carried: its figure may be any
		return event.Finding{}, false
	}
	if name, ok := e.sameFigure(a); ok {
		return event.Finding{Code: codeSame, Severity: event.Stop,
			Text: fmt.Sprintf("This is the figure booked for %s: which of the two is sighted?", name)}, true
	}
	if circle, ok := e.otherCircle(a); ok {
		return event.Finding{Code: codeOther, Severity: event.Stop,
			Text: fmt.Sprintf("This is what the %s circle reads on %s: which circle was read?", circle, e.slot.Target)}, true
	}
	return event.Finding{}, false
}

// sameFigure returns the target of this half whose figure is the same to the last
// digit; of the vertical circle, where two targets may stand alike, only the one
// booked just before.
func (e *Expectation) sameFigure(a reduce.Angle) (name string, ok bool) {
	rs := e.setup.Readings
	for i := len(rs) - 1; i >= 0; i-- {
		r := &rs[i]
		if !r.Stands() || r.Slot.Quantity != e.slot.Quantity || r.Slot.Round != e.slot.Round || r.Slot.Face != e.slot.Face {
			if e.slot.Quantity == spec.Vertical {
				return "", false
			}
			continue
		}
		switch {
		case r.Slot.Target != e.slot.Target && r.Angle() == a:
			return r.Slot.Target, true
		case e.slot.Quantity == spec.Vertical:
			return "", false
		}
	}
	return "", false
}

// alikeCircles is how close a reading lies to what the other circle reads on the
// same target when it is taken for that (assumed).
const alikeCircles = 20 * reduce.Arcsecond

// otherCircle tells whether the reading is what the other circle reads on the
// target on this face, in the latest round where it is the horizontal one.
func (e *Expectation) otherCircle(a reduce.Angle) (circle string, ok bool) {
	other := spec.Vertical
	circle = "vertical"
	if e.slot.Quantity == spec.Vertical {
		other, circle = spec.Horizontal, "horizontal"
	}
	near := max(alikeCircles, 2*e.setup.Spec.Instrument.LeastCount)
	rs := e.setup.Readings
	for i := len(rs) - 1; i >= 0; i-- {
		r := &rs[i]
		if r.Stands() && r.Slot.Quantity == other && r.Slot.Target == e.slot.Target && r.Slot.Face == e.slot.Face {
			return circle, (r.Angle() - a).Wrap().Abs() <= near
		}
	}
	return "", false
}

// order warns where the first sight of a target on face left, for which nothing
// is expected, lies anticlockwise of the one named before it.
func (e *Expectation) order(a reduce.Angle) []event.Finding {
	if e.slot.Quantity != spec.Horizontal || e.slot.Face != faces.FL || e.slot.Closing || e.slot.Target == e.setup.Spec.RO {
		return nil
	}
	names := e.setup.Spec.Names()
	ro, ok := e.inHalf(names[0])
	if !ok {
		return nil
	}
	turned := func(r reduce.Angle) reduce.Angle { return (r - ro).Normalize() }
	for i := slices.Index(names, e.slot.Target) - 1; i > 0; i-- {
		before, ok := e.inHalf(names[i])
		if !ok {
			continue
		}
		if turned(a) >= turned(before) {
			return nil
		}
		return []event.Finding{{Code: codeOrder, Severity: event.Warn,
			Text: fmt.Sprintf("%s lies before %s, counted clockwise from %s: are the two exchanged, or is one misread?", e.slot.Target, names[i], names[0])}}
	}
	return nil
}

// inHalf returns what stands for a target in the half of the slot.
func (e *Expectation) inHalf(target string) (reduce.Angle, bool) {
	k := e.slot
	k.Target, k.Closing = target, false
	r, ok := e.setup.At(k)
	return r.Angle(), ok
}

// exchanged returns the target that was booked under this one's name, where the
// reading is that one's: from one to the other the circle turns as in another half,
// the other way round.
func (e *Expectation) exchanged(a reduce.Angle) (name string, ok bool) {
	if e.slot.Quantity != spec.Horizontal {
		return "", false
	}
	for _, name := range e.setup.Spec.Targets {
		v, booked := e.inHalf(name)
		if name != e.slot.Target && booked && e.turnedBack(name, (a-v).Wrap()) {
			return name, true
		}
	}
	return "", false
}

// turnedBack tells whether in another half the circle turns by the same from the
// slot's target to the one named, as it does here from that to the slot's.
func (e *Expectation) turnedBack(name string, by reduce.Angle) bool {
	for round := e.slot.Round; round > 0; round-- {
		for _, face := range []faces.Face{faces.FL, faces.FR} {
			k := spec.Slot{Quantity: spec.Horizontal, Round: round, Face: face, Target: name}
			o := k
			o.Target = e.slot.Target
			to, one := e.setup.At(k)
			from, other := e.setup.At(o)
			if one && other && k.Face != e.slot.Face || one && other && round != e.slot.Round {
				return by.Abs() > 2*reduce.Arcminute && (to.Angle()-from.Angle()-by).Wrap().Abs() <= reduce.Arcminute
			}
		}
	}
	return false
}
