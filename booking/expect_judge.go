package booking

import (
	"fmt"

	"example.org/readback/reduce"
)

// judge finds what is to be said of a reading.
func (e *Expectation) judge(a reduce.Angle) []Finding {
	if len(e.bands) == 0 {
		return nil
	}
	b := e.nearest(a)
	off := (a - b.centre).Wrap()
	f := e.difference(a, off)
	if off.Abs() > b.limit {
		f.Severity = Stop
		f.Text += e.limitText(b) + " " + e.Slip(a).Text
	}
	if f.Text == "" {
		return nil
	}
	return []Finding{f}
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
func (e *Expectation) difference(a, off reduce.Angle) Finding {
	switch {
	case e.slot.Quantity == Vertical && e.basis == onPair:
		return e.indexDifference(a)
	case e.basis == onPair:
		return e.twoCDifference(a)
	case e.basis == onClosing:
		return e.closingDifference(a)
	case e.basis == onDirections:
		return Finding{Code: "direction", Severity: Note, Text: fmt.Sprintf("The direction differs by %s from what was booked before.", e.signed(off))}
	case e.basis == onSetting && off.Abs() > e.bands[0].limit:
		return Finding{Code: "circle", Text: "The reading is not at the circle setting of this round."}
	case e.basis == onAltitude && off.Abs() > e.bands[0].limit:
		return Finding{Code: "face", Text: fmt.Sprintf("This is no vertical reading on %s.", e.slot.Face.Words())}
	}
	return Finding{}
}

func (e *Expectation) twoCDifference(a reduce.Angle) Finding {
	f := Finding{Code: "two-c", Severity: Note}
	pair, _ := e.setup.At(e.slot.Pair())
	l, r := a, pair.Angle()
	if e.slot.Face == FR {
		l, r = r, l
	}
	f.Text = fmt.Sprintf("2c is %s.", e.signed(reduce.TwoC(l, r)))
	if len(e.twoC) == 0 {
		return f
	}
	change := (reduce.TwoC(l, r) - mean(e.twoC)).Wrap()
	f.Text = fmt.Sprintf("2c is %s: %s against the mean of the pairs before.", e.signed(reduce.TwoC(l, r)), e.signed(change))
	if limit := e.limits.TwoC; change.Abs() > limit.Value {
		f.Severity = Warn
		f.Text += fmt.Sprintf(" The limit of its spread is %s.", e.size(limit.Value))
	}
	return f
}

func (e *Expectation) indexDifference(a reduce.Angle) Finding {
	f := Finding{Code: "index", Severity: Note}
	pair, _ := e.setup.At(e.slot.Pair())
	l, r := a, pair.Angle()
	if e.slot.Face == FR {
		l, r = r, l
	}
	_, index := reduce.VerticalPair(l, r, e.setup.Spec.Instrument.Circle)
	f.Text = fmt.Sprintf("The index error is %s.", e.signed(index))
	if len(e.index) == 0 {
		return f
	}
	change := (index - mean(e.index)).Wrap()
	f.Text = fmt.Sprintf("The index error is %s: %s against the mean of the pairs before.", e.signed(index), e.signed(change))
	if limit := e.limits.Index; change.Abs() > limit.Value {
		f.Severity = Warn
		f.Text += fmt.Sprintf(" The limit of its spread is %s.", e.size(limit.Value))
	}
	return f
}

func (e *Expectation) closingDifference(a reduce.Angle) Finding {
	f := Finding{Code: "closing", Severity: Note}
	other := e.slot
	other.Closing = !other.Closing
	first, _ := e.setup.At(other)
	m := (a - first.Angle()).Wrap()
	if !e.slot.Closing {
		m = -m
	}
	f.Text = fmt.Sprintf("The half closes on the RO with %s.", e.signed(m))
	if limit := e.limits.ROMisclosure; m.Abs() > limit.Value {
		f.Severity = Warn
		f.Text += fmt.Sprintf(" The limit is %s.", e.size(limit.Value))
	}
	return f
}

// signed prints a difference with its sign: in seconds, on a gon circle in
// milligon, while it is small, else in the unit of the booking.
func (e *Expectation) signed(a reduce.Angle) string {
	a = a.Round(e.step())
	i := e.setup.Spec.Instrument
	switch {
	case a.Abs() < 10*reduce.Arcminute && a >= 0:
		return "+" + e.size(a)
	case a.Abs() < 10*reduce.Arcminute:
		return "−" + e.size(a)
	case a > 0:
		return "+" + a.Format(i.Unit, i.Places())
	}
	return a.Format(i.Unit, i.Places())
}

// size prints a small angle without its sign.
func (e *Expectation) size(a reduce.Angle) string {
	if e.setup.Spec.Instrument.Unit != reduce.GonUnit {
		return e.setup.seconds(a)
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
