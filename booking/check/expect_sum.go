package check

import (
	"fmt"
	"math"

	"example.org/readback/booking"
	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/event"
	"example.org/readback/booking/reduction"
	"example.org/readback/reduce"
)

// codeSum is the code of a finding about the circle reading after the repetitions of an
// angle. It is stored: it never changes meaning.
const codeSum = "sum"

// expectSum expects after n repetitions n times the single angle from the initial
// reading, within n times the entry limit of an angle that is turned again on one face.
func (e *Expectation) expectSum() {
	if first, ok := e.first(); ok {
		e.expectSame(first)
		return
	}
	want, ok := reduction.ExpectedSum(e.setup, e.slot)
	if !ok {
		return
	}
	spec := &e.setup.Spec
	st := faceStation(&e.setup)
	sd := reduce.FromSeconds(st.Noise() * math.Sqrt2 * spec.TurnedApart())
	one := max(entryLimit(spec.Limits, spec.Instrument.LeastCount, sd.Seconds()), spec.Limits.ROMisclosure.Value)
	e.basis = onSum
	e.bands = []band{{centre: want.Angle(), limit: one * reduce.Angle(spec.Repetitions)}}
}

// sumDifference says how the mean of the repetitions differs from the single angle.
func (e *Expectation) sumDifference(off reduce.Angle, marked bool) event.Finding {
	n := int64(e.setup.Spec.Repetitions)
	f := event.Finding{Code: codeSum, Severity: event.Note}
	if marked {
		f.Text = beside(fmt.Sprintf("The circle differs by %s from %d times the single angle.", e.signed(off), n),
			fmt.Sprintf("limit %d × %s", n, e.size((e.bands[0].limit.Div(n)).Round(e.step()))))
		return f
	}
	f.Text = fmt.Sprintf("The mean of %d differs by %s from the single angle.", n, e.signed(off.Div(n)))
	f, _ = e.heldToMisclosure(f, off.Div(n))
	return f
}

// sumAdvice says how a reading may have come about that does not fit the single angle:
// one repetition too few or too many, a misread figure, or a misread single angle.
func (e *Expectation) sumAdvice(a reduce.Angle) string {
	n, one := e.setup.Spec.Repetitions, e.setup
	for _, m := range []int{n - 1, n + 1} {
		one.Spec.Repetitions = m
		if want, ok := reduction.ExpectedSum(one, e.slot); ok && (a-want.Angle()).Wrap().Abs() <= e.bands[0].limit {
			return fmt.Sprintf("It fits %d repetitions: count them.", m)
		}
	}
	if c := e.Slip(a); c.Kind != slip.Unknown {
		return c.Text
	}
	return "Read it again. If it reads the same, the single angle may be the one that is wrong: void the round."
}

// singleAgainstMean holds the mean of the repetitions of each face against the single
// angle, with the limit of the RO's misclosure: either is an angle of one face in one
// half (common practice, no source).
func singleAgainstMean(s booking.Setup, r reduction.Reduction) []Check {
	var cs []Check
	limit := r.Comparison.Limits.ROMisclosure
	for _, w := range r.Comparison.Rounds {
		for _, x := range w.Repeated {
			c := Check{Name: "repetition", Met: x.Off().Abs() <= limit.Value, From: limit.From}
			off, most := x.Off().FormatAgainst(limit.Value, s.Spec.Instrument.Unit)
			c.Text = fmt.Sprintf("Round %d %s: the mean of %d repetitions to %s differs by %s from the single angle, limit %s.", w.Number, x.Face.Words(), s.Spec.Repetitions, x.Target, off, most)
			if !c.Met {
				c.Again = fmt.Sprintf("observe round %d again", w.Number)
			}
			cs = append(cs, c)
		}
	}
	return cs
}
