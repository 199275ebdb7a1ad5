package check

import (
	"fmt"
	"strings"

	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/event"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// The codes of the findings about circle readings. They are stored: they never
// change meaning.
const (
	codeCircle    = "circle"    // against the circle setting of the round
	codeFace      = "face"      // a vertical reading of the other face
	codeTwoC      = "two-c"     // against the other face and the 2c so far
	codeClosing   = "closing"   // the RO against its first sight in the half
	codeDirection = "direction" // against earlier rounds or directions known beforehand
	Moved         = "moved"     // everything from an earlier sight of the round on has turned together
	codeIndex     = "index"     // against the other face and the index error so far
	codeSame      = "same"      // the figure of another target of this half
	codeOther     = "other"     // the figure of the other circle
	codeOrder     = "order"     // the targets come out of clockwise order
)

// judge finds what is to be said of a reading.
func (e *Expectation) judge(a reduce.Angle) []event.Finding {
	if f, ok := e.mixed(a); ok {
		return []event.Finding{f}
	}
	if len(e.bands) == 0 {
		return e.order(a)
	}
	b := e.nearest(a)
	off := (a - b.centre).Wrap()
	marked := off.Abs() > b.limit
	f := e.difference(a, off, marked)
	if marked {
		f.Severity = event.Stop
		if moved, ok := e.moved(a, true); ok {
			return []event.Finding{{Code: Moved, Severity: event.Stop, Text: moved}}
		}
		switch {
		case f.Code == codeIndex && e.eitherPair(a):
			f.Text += " Read this one again. If it reads the same, book it: the next pair tells."
		case e.basis == onFirst:
			f.Text = e.withLimit(f.Text, b.limit, b) + " Read it again. If it reads the same, book it: one of the two is then left out with its reason."
		case e.basis == onSum:
			f.Text += " " + e.sumAdvice(a)
		case f.Code == codeClosing && off.Abs() <= e.knocked():
			f.Text += " Read it again first."
		case f.Code == codeClosing:
			f.Text += " " + e.advice(a, off)
		case f.Code == codeIndex: // half of what the reading differs by
			f.Text = e.withLimit(f.Text, b.limit/2, b) + " " + e.advice(a, off)
		default:
			f.Text = e.withLimit(f.Text, b.limit, b) + " " + e.advice(a, off)
		}
	} else if f.Severity == event.Warn || off.Abs() > 2*b.sd && b.sd > 0 {
		if moved, ok := e.moved(a, false); ok {
			return []event.Finding{{Code: Moved, Severity: event.Warn, Text: moved}}
		}
	}
	if f.Text == "" {
		return nil
	}
	return []event.Finding{f}
}

// advice says how the reading may have come about. A shift that a knock of the
// circle or the tripod may have made is not called misread before the next sight
// has told.
func (e *Expectation) advice(a, off reduce.Angle) string {
	if name, ok := e.exchanged(a); ok {
		return fmt.Sprintf("%s and %s look sighted in each other's place%s: strike the one booked, and read both again.", e.slot.Target, name, e.orOnPair())
	}
	if e.slot.Quantity == spec.Horizontal && e.basis == onPair && e.elsewhere(off, e.change(a)) {
		return "Both faces agree with each other and not with the rounds before: is another point sighted?"
	}
	c := e.Slip(a)
	if e.slot.Quantity != spec.Horizontal || !e.ExpectsFigure() || off.Abs() > e.knocked() {
		return c.Text
	}
	tells, told := "the next sight tells whether the circle or the tripod has moved.", ": the next sight tells."
	if e.lastOfSweep() {
		tells, told = "the circle or the tripod may have moved.", "."
	}
	named, ok := strings.CutSuffix(c.Text, ": ask for the reading again.")
	switch {
	case ok && c.Kind != slip.Unknown:
		return named + ", or the circle or the tripod has moved: read again. If it reads the same, book it" + told
	case c.OnEither:
		return c.Text + " If it reads the same, book it: " + tells
	}
	return "Read again. If it reads the same, book it: " + tells
}

// orOnPair adds the other face where it alone speaks against the reading.
func (e *Expectation) orOnPair() string {
	if e.basis == onPair && e.pairAlone() {
		return ", here or on " + e.slot.Face.Other().Words()
	}
	return ""
}

// knocked is how large a shift is first taken for a knock of the circle or the
// tripod as well as for a slip: 2′, or 30 times σ (assumed).
func (e *Expectation) knocked() reduce.Angle {
	return max(2*reduce.Arcminute, 30*e.setup.Spec.Instrument.Sigma)
}

// withLimit adds the entry limit to the sentence with the figure it is for, where the
// limit is one in seconds.
func (e *Expectation) withLimit(text string, limit reduce.Angle, b band) string {
	if b.sd == 0 {
		return text
	}
	return beside(text, "entry limit "+e.size(limit.Round(e.step())))
}

// beside adds a limit to the sentence with the figure that is held against it.
func beside(text, limit string) string { return strings.TrimSuffix(text, ".") + ", " + limit + "." }

// difference says how the reading differs from what it is held against, with its
// sign, and warns where that exceeds a limit of the setup. Of a reading that is marked,
// which exceeds the entry limit, that limit is said and no other.
func (e *Expectation) difference(a, off reduce.Angle, marked bool) event.Finding {
	switch {
	case e.basis == onFirst:
		return e.sameDifference(off, marked)
	case e.basis == onSum:
		return e.sumDifference(off, marked)
	case e.slot.Quantity == spec.Vertical && e.basis == onPair:
		return e.indexDifference(a, marked)
	case e.basis == onPair && e.gapes(a):
		return e.closingDifference(a)
	case e.basis == onPair && !e.elsewhere(off, e.change(a)):
		return e.twoCDifference(a, marked)
	case e.basis == onClosing && !e.elsewhere(off, e.misclosure(a)):
		return e.closingDifference(a)
	case e.basis == onDirections || e.basis == onPair || e.basis == onClosing:
		return event.Finding{Code: codeDirection, Severity: event.Note, Text: fmt.Sprintf("The direction differs by %s from %s.", e.signed(off), e.before())}
	case e.basis == onSetting && off.Abs() > e.bands[0].limit:
		return event.Finding{Code: codeCircle, Text: "The reading is not at the circle setting of this round."}
	case e.basis == onAltitude && off.Abs() > e.bands[0].limit:
		return event.Finding{Code: codeFace, Text: fmt.Sprintf("This is no vertical reading on %s.", e.slot.Face.Words())}
	}
	return event.Finding{}
}

// before names what a direction is held against.
func (e *Expectation) before() string {
	if e.known && e.slot.Round == 1 && e.slot.Face == faces.FL {
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
	if e.slot.Face == faces.FR {
		return faces.TwoC(pair.Direction(), reduce.DirectionAt(a))
	}
	return faces.TwoC(reduce.DirectionAt(a), pair.Direction())
}

// change returns the 2c of the reading less the mean of the pairs before, those left
// out that stand apart.
func (e *Expectation) change(a reduce.Angle) reduce.Angle {
	twoC := e.pairTwoC(a)
	if len(e.pairs) == 0 {
		return twoC
	}
	return (twoC - meanOf(agreeing(e.pairs, twoC))).Wrap()
}

func (e *Expectation) twoCDifference(a reduce.Angle, marked bool) event.Finding {
	f := event.Finding{Code: codeTwoC, Severity: event.Note}
	twoC, change := e.pairTwoC(a), e.change(a)
	f.Text = fmt.Sprintf("2c is %s.", e.signed(twoC))
	if len(e.pairs) == 0 {
		return f
	}
	e.againstPairs(&f, twoC, change, marked, func(l spec.Limits) spec.Limit { return l.TwoC })
	return f
}

// againstPairs says beside an error of a pair how it differs from the pairs before, and
// warns where that is beyond the limit of its spread.
func (e *Expectation) againstPairs(f *event.Finding, value, change reduce.Angle, marked bool, pick func(spec.Limits) spec.Limit) {
	if said := e.signed(change); said != e.signed(value) {
		f.Text = fmt.Sprintf("%s: %s against the mean of the pairs before.", strings.TrimSuffix(f.Text, "."), said)
	}
	if limit, over := reduction.Exceeds(e.setup, change, pick); over && !marked {
		f.Severity = event.Warn
		f.Text = beside(f.Text, "limit of its spread "+e.against(change, limit.Value))
	}
}

func (e *Expectation) indexDifference(a reduce.Angle, marked bool) event.Finding {
	f := event.Finding{Code: codeIndex, Severity: event.Note}
	index := e.indexOf(a)
	f.Text = fmt.Sprintf("The index error is %s.", e.signed(index))
	if len(e.pairs) == 0 {
		return f
	}
	g, stray := agreeing(e.pairs, index), straying(e.pairs, index)
	change := (index - meanOf(g)).Wrap()
	if stray != "" && change.Abs() <= e.bands[0].limit/2 {
		f.Text = fmt.Sprintf("The index error is %s, as on %s. The pair on %s stands apart: read that one again, on both faces.", e.signed(index), g[0].target, stray)
		return f
	}
	if e.undecided() && change.Abs() > e.bands[0].limit/2 {
		f.Text = fmt.Sprintf("The index error is %s, and %s on %s: one of the two pairs is wrong.", e.signed(index), e.signed(g[0].value), g[0].target)
		return f
	}
	e.againstPairs(&f, index, change, marked, func(l spec.Limits) spec.Limit { return l.Index })
	return f
}

// undecided tells whether one pair alone speaks for the index error so far.
func (e *Expectation) undecided() bool { return len(e.pairs) == 1 && len(e.pairs[0]) == 1 }

// eitherPair tells whether the reading makes an index error like others are, which
// the one pair before does not agree with: either of the two may be wrong.
func (e *Expectation) eitherPair(a reduce.Angle) bool {
	return e.undecided() && (e.indexOf(a)-e.told.Index.Value).Wrap().Abs() <= reduce.FromSeconds(entryFactor*indexSD)
}

// indexOf returns the index error that the reading makes with the other face.
func (e *Expectation) indexOf(a reduce.Angle) reduce.Angle {
	l, r := a, e.pairAngle()
	if e.slot.Face == faces.FR {
		l, r = r, l
	}
	_, index := faces.VerticalPair(l, r, e.setup.Spec.Instrument.Circle)
	return index
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

// gapes tells whether the reading ends a half on the RO, and the half does not close.
func (e *Expectation) gapes(a reduce.Angle) bool {
	first := e.slot
	first.Closing = !first.Closing
	if _, ok := e.setup.At(first); !ok || !e.setup.Spec.Closes(e.slot) {
		return false
	}
	_, over := reduction.Exceeds(e.setup, e.misclosure(a), func(l spec.Limits) spec.Limit { return l.ROMisclosure })
	return over
}

// lastOfSweep tells whether the slot is the last of its half, or of the round where
// that is observed target by target.
func (e *Expectation) lastOfSweep() bool {
	sweep := e.setup.Spec.SweepOf(e.slot)
	return sweep[len(sweep)-1] == e.slot
}

// closed is what closes on a reference object.
func (e *Expectation) closed() string {
	on := "the RO"
	if e.slot.Target != e.setup.Spec.RO {
		on = e.slot.Target
	}
	if e.setup.Spec.Order == spec.ByTarget {
		return "The round closes on " + e.slot.Face.Words() + " on " + on
	}
	return "The half closes on " + on
}

func (e *Expectation) closingDifference(a reduce.Angle) event.Finding {
	f := event.Finding{Code: codeClosing, Severity: event.Note}
	m := e.misclosure(a)
	f.Text = fmt.Sprintf("%s with %s.", e.closed(), e.signed(m))
	f, over := e.heldToMisclosure(f, m)
	if over {
		f.Text += " " + e.began(a)
	}
	return f
}

// against prints a limit that a difference exceeds, and by how much where both print
// alike.
func (e *Expectation) against(a, limit reduce.Angle) string {
	if text := e.size(limit); text != e.size(a.Round(e.step()).Abs()) {
		return text
	}
	_, bound := a.FormatAgainst(limit, e.setup.Spec.Instrument.Unit)
	return bound + ", which is exceeded by " + (a.Abs() - limit).FormatSize(e.setup.Spec.Instrument.Unit)
}

// signed prints a difference with its sign: exactly while it is small, in the
// small unit of the circle; beyond ten minutes only about how large it is, so that nobody
// takes it off the figure keyed instead of reading again.
func (e *Expectation) signed(a reduce.Angle) string {
	sign := "+"
	if a < 0 {
		sign = "−"
	}
	a = a.Round(e.step()).Abs()
	if gross := a.About(e.setup.Spec.Instrument.Unit); gross != "" {
		return "about " + sign + gross
	}
	return sign + e.size(a)
}

// size prints a small angle without its sign.
func (e *Expectation) size(a reduce.Angle) string {
	u := e.setup.Spec.Instrument.Unit
	if !u.Decimal() {
		return seconds(e.setup, a)
	}
	return reduce.FormatDeviation(a.Abs().Round(u.FineStep()).Seconds(), u, 0)
}

// step is what differences are rounded to in a sentence.
func (e *Expectation) step() reduce.Angle {
	switch i := e.setup.Spec.Instrument; {
	case i.Unit.Decimal():
		return i.Unit.FineStep()
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
