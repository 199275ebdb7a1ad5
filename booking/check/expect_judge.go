package check

import (
	"fmt"

	"example.org/readback/booking"
	"example.org/readback/reduce"
)

// The codes of the findings about circle readings. They are stored: they never
// change meaning.
const (
	codeCircle    = "circle"    // against the circle setting of the round
	codeFace      = "face"      // a vertical reading of the other face
	codeTwoC      = "two-c"     // against the other face and the 2c so far
	codeClosing   = "closing"   // the RO against its first sight in the half
	codeDirection = "direction" // against earlier rounds or directions known beforehand
	codeMoved     = "moved"     // everything from an earlier sight of the round on has turned together
	codeIndex     = "index"     // against the other face and the index error so far
)

// judge finds what is to be said of a reading.
func (e *Expectation) judge(a reduce.Angle) []booking.Finding {
	if len(e.bands) == 0 {
		return nil
	}
	b := e.nearest(a)
	off := (a - b.centre).Wrap()
	f := e.difference(a, off)
	if off.Abs() > b.limit {
		f.Severity = booking.Stop
		if moved, ok := e.moved(a); ok {
			return []booking.Finding{{Code: codeMoved, Severity: booking.Stop, Text: moved}}
		}
		f.Text += e.limitText(b) + " " + e.Slip(a).Text
	}
	if f.Text == "" {
		return nil
	}
	return []booking.Finding{f}
}

// limitText names the entry limit where it is one in seconds.
func (e *Expectation) limitText(b band) string {
	if b.sd == 0 {
		return ""
	}
	return fmt.Sprintf(" The entry limit is %s.", e.size(b.limit.Round(e.step())))
}

// difference says how the reading differs from what it is held against, with its
// sign, and warns where that exceeds a limit of the setup.
func (e *Expectation) difference(a, off reduce.Angle) booking.Finding {
	switch {
	case e.slot.Quantity == booking.Vertical && e.basis == onPair:
		return e.indexDifference(a)
	case e.basis == onPair && !e.elsewhere(off, e.change(a)):
		return e.twoCDifference(a)
	case e.basis == onClosing && !e.elsewhere(off, e.misclosure(a)):
		return e.closingDifference(a)
	case e.basis == onDirections || e.basis == onPair || e.basis == onClosing:
		return booking.Finding{Code: codeDirection, Severity: booking.Note, Text: fmt.Sprintf("The direction differs by %s from %s.", e.signed(off), e.before())}
	case e.basis == onSetting && off.Abs() > e.bands[0].limit:
		return booking.Finding{Code: codeCircle, Text: "The reading is not at the circle setting of this round."}
	case e.basis == onAltitude && off.Abs() > e.bands[0].limit:
		return booking.Finding{Code: codeFace, Text: fmt.Sprintf("This is no vertical reading on %s.", e.slot.Face.Words())}
	}
	return booking.Finding{}
}

// before names what a direction is held against.
func (e *Expectation) before() string {
	if e.known && e.slot.Round == 1 && e.slot.Face == booking.FL {
		return "what is known of this station"
	}
	return "what was booked before"
}

// elsewhere tells that the reading exceeds the entry limit though the difference
// that is nearest at hand does not: it is the earlier rounds that it does not fit.
func (e *Expectation) elsewhere(off, near reduce.Angle) bool {
	limit := e.bands[0].limit
	return off.Abs() > limit && near.Abs() <= limit
}

// pairTwoC returns the 2c that the reading makes with the other face.
func (e *Expectation) pairTwoC(a reduce.Angle) reduce.Angle {
	pair, _ := e.setup.At(e.slot.Pair())
	if e.slot.Face == booking.FR {
		return reduce.TwoC(pair.Direction(), reduce.DirectionAt(a))
	}
	return reduce.TwoC(reduce.DirectionAt(a), pair.Direction())
}

// change returns the 2c of the reading less the mean of the pairs before.
func (e *Expectation) change(a reduce.Angle) reduce.Angle {
	if len(e.twoC) == 0 {
		return e.pairTwoC(a)
	}
	return (e.pairTwoC(a) - mean(e.twoC)).Wrap()
}

func (e *Expectation) twoCDifference(a reduce.Angle) booking.Finding {
	f := booking.Finding{Code: codeTwoC, Severity: booking.Note}
	twoC, change := e.pairTwoC(a), e.change(a)
	f.Text = fmt.Sprintf("2c is %s.", e.signed(twoC))
	if len(e.twoC) == 0 {
		return f
	}
	f.Text = fmt.Sprintf("2c is %s: %s against the mean of the pairs before.", e.signed(twoC), e.signed(change))
	if limit, over := e.setup.Exceeds(change, func(l booking.Limits) booking.Limit { return l.TwoC }); over {
		f.Severity = booking.Warn
		f.Text += fmt.Sprintf(" The limit of its spread is %s.", e.size(limit.Value))
	}
	return f
}

func (e *Expectation) indexDifference(a reduce.Angle) booking.Finding {
	f := booking.Finding{Code: codeIndex, Severity: booking.Note}
	pair, _ := e.setup.At(e.slot.Pair())
	l, r := a, pair.Angle()
	if e.slot.Face == booking.FR {
		l, r = r, l
	}
	_, index := reduce.VerticalPair(l, r, e.setup.Spec.Instrument.Circle)
	f.Text = fmt.Sprintf("The index error is %s.", e.signed(index))
	if len(e.index) == 0 {
		return f
	}
	change := (index - mean(e.index)).Wrap()
	f.Text = fmt.Sprintf("The index error is %s: %s against the mean of the pairs before.", e.signed(index), e.signed(change))
	if limit, over := e.setup.Exceeds(change, func(l booking.Limits) booking.Limit { return l.Index }); over {
		f.Severity = booking.Warn
		f.Text += fmt.Sprintf(" The limit of its spread is %s.", e.size(limit.Value))
	}
	return f
}

// misclosure returns closing − opening of the half that the reading closes.
func (e *Expectation) misclosure(a reduce.Angle) reduce.Angle {
	other := e.slot
	other.Closing = !other.Closing
	first, _ := e.setup.At(other)
	if !e.slot.Closing {
		return (first.Angle() - a).Wrap()
	}
	return (a - first.Angle()).Wrap()
}

func (e *Expectation) closingDifference(a reduce.Angle) booking.Finding {
	f := booking.Finding{Code: codeClosing, Severity: booking.Note}
	m := e.misclosure(a)
	f.Text = fmt.Sprintf("The half closes on the RO with %s.", e.signed(m))
	if limit, over := e.setup.Exceeds(m, func(l booking.Limits) booking.Limit { return l.ROMisclosure }); over {
		f.Severity = booking.Warn
		f.Text += fmt.Sprintf(" The limit is %s.", e.size(limit.Value))
	}
	return f
}

// signed prints a difference with its sign: exactly while it is small, in seconds
// or in milligon; beyond ten minutes only about how large it is, so that nobody
// takes it off the figure keyed instead of reading again.
func (e *Expectation) signed(a reduce.Angle) string {
	sign := "+"
	if a < 0 {
		sign = "−"
	}
	a = a.Round(e.step()).Abs()
	gon := e.setup.Spec.Instrument.Unit == reduce.GonUnit
	switch {
	case a < 10*reduce.Arcminute:
		return sign + e.size(a)
	case gon && a < 10*reduce.Gon:
		return "about " + sign + a.Format(reduce.GonUnit, 1) + " gon"
	case gon:
		return "about " + sign + a.Format(reduce.GonUnit, 0) + " gon"
	case a < 10*reduce.Degree:
		a = a.Round(reduce.Arcminute)
		return fmt.Sprintf("about %s%d°%02d′", sign, a/reduce.Degree, a%reduce.Degree/reduce.Arcminute)
	}
	return fmt.Sprintf("about %s%d°", sign, a.Round(reduce.Degree)/reduce.Degree)
}

// size prints a small angle without its sign.
func (e *Expectation) size(a reduce.Angle) string {
	if e.setup.Spec.Instrument.Unit != reduce.GonUnit {
		return seconds(e.setup, a)
	}
	tenths := a.Abs().Round(reduce.Milligon/10) / (reduce.Milligon / 10)
	return fmt.Sprintf("%d.%d mgon", tenths/10, tenths%10)
}

// step is what differences are rounded to in a sentence.
func (e *Expectation) step() reduce.Angle {
	switch i := e.setup.Spec.Instrument; {
	case i.Unit == reduce.GonUnit:
		return reduce.Milligon / 10
	case i.LeastCount < reduce.Arcsecond:
		return reduce.Arcsecond / 10
	}
	return reduce.Arcsecond
}

// mean returns the mean of differences that lie close together.
func mean(list []reduce.Angle) reduce.Angle {
	var sum reduce.Angle
	for _, a := range list {
		sum += (a - list[0]).Wrap()
	}
	return list[0] + sum.Div(int64(len(list)))
}
