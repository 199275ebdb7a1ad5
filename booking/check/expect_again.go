package check

import (
	"fmt"
	"math"

	"example.org/readback/booking"
	"example.org/readback/booking/check/forecast"
	"example.org/readback/booking/event"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

// codeAgain is the code of a finding about a sight that is read once more as a
// check. It is stored: it never changes meaning.
const codeAgain = "again"

// first returns what was read of this sight on this face before, where the slot is
// one that is read once more as a check.
func (e *Expectation) first() (booking.Reading, bool) {
	for k := e.slot; k.Repeat > 0; {
		k.Repeat--
		if r, ok := e.setup.Counting(k); ok {
			return r, true
		}
	}
	return booking.Reading{}, false
}

// expectSame expects of a sight that is read once more what it read before: the
// circle was not touched. Two readings of one sight on one face differ by √2 times
// the standard deviation of one.
func (e *Expectation) expectSame(first booking.Reading) {
	i := e.setup.Spec.Instrument
	st := faceStation(&e.setup)
	e.fit = forecast.New(st, forecast.Before{})
	sd := st.Noise() * math.Sqrt2
	e.basis = onFirst
	e.bands = []band{{centre: first.Angle(), sd: reduce.FromSeconds(sd),
		limit: max(entryLimit(e.setup.Spec.Limits, i.LeastCount, sd), e.setup.Spec.Limits.ROMisclosure.Value)}}
}

// sameDifference says how far the reading lies from the one before of the same
// sight. They are held against the limit of the RO's misclosure: that is two readings
// of one sight on one face as well.
func (e *Expectation) sameDifference(off reduce.Angle, marked bool) event.Finding {
	f := event.Finding{Code: codeAgain, Severity: event.Note, Text: fmt.Sprintf("It differs by %s from the reading before of the same sight.", e.signed(off))}
	if marked {
		return f
	}
	f, _ = e.heldToMisclosure(f, off)
	return f
}

// heldToMisclosure warns where two figures of one face differ by more than the limit of
// the RO's misclosure; over tells that they do.
func (e *Expectation) heldToMisclosure(f event.Finding, off reduce.Angle) (warned event.Finding, over bool) {
	limit, over := reduction.Exceeds(e.setup, off, func(l spec.Limits) spec.Limit { return l.ROMisclosure })
	if over {
		f.Severity = event.Warn
		f.Text = beside(f.Text, "limit "+e.against(off, limit.Value))
	}
	return f, over
}
