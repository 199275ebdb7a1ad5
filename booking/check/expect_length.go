package check

import (
	"fmt"
	"math"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// The codes of the findings about lengths. They are stored: they never change
// meaning.
const (
	codeRange    = "range"    // beyond what is plausible for a height or a distance
	codeTwice    = "twice"    // against the same measured before
	codeDistance = "distance" // against the distance known beforehand
)

// judgeLength finds what is to be said of a height or a distance.
func (e *Expectation) judgeLength(l lengths.Length) []event.Finding {
	stop := func(code, format string, args ...any) []event.Finding {
		return []event.Finding{{Code: code, Severity: event.Stop, Text: fmt.Sprintf(format, args...) + " Have it read again."}}
	}
	set := e.setup.Spec.Lengths()
	size := func(x lengths.Length) string { return e.length(x.Metres()) }
	switch e.slot.Quantity {
	case spec.InstrumentHeight:
		if l < set.LeastInstrument || l > set.MostInstrument {
			return stop(codeRange, "An instrument hardly stands that high or low: expected %s to %s.", size(set.LeastInstrument), size(set.MostInstrument))
		}
		first, ok := e.setup.Counting(spec.Slot{Quantity: spec.InstrumentHeight})
		if off := apartBy(l, first.Length()); e.slot.Closing && ok && off > set.Again {
			return stop(codeTwice, "The instrument height differs by %s from the one before the first sight, limit %s.", size(off), size(set.Again))
		}
	case spec.TargetHeight:
		if l < 0 || l > set.MostTarget {
			return stop(codeRange, "A target hardly stands that high: expected at most %s.", size(set.MostTarget))
		}
	case spec.Slope:
		if l < set.LeastSlope || l > set.MostSlope {
			return stop(codeRange, "A distance is hardly that short or long: expected %s to %s.", size(set.LeastSlope), size(set.MostSlope))
		}
		return e.judgeSlope(l.Metres(), stop)
	}
	return nil
}

// scaleDoubt is the share of a distance that projection and height above the sea
// may take away (common practice: under 400 mm for a kilometre).
const scaleDoubt = 4e-4

// judgeSlope holds a slope distance against what is known of the line: reduced
// where the vertical pair is booked, else only that it isn't shorter.
func (e *Expectation) judgeSlope(slope float64, stop func(code, format string, args ...any) []event.Finding) []event.Finding {
	if e.told.Horizontal == nil {
		return nil
	}
	known, sd, from, ok := e.told.Horizontal(e.slot.Target)
	if !ok {
		return nil
	}
	limit := math.Max(e.setup.Spec.Lengths().Known.Metres(), entryFactor*sd) + known*scaleDoubt
	if alt, ok := e.altitudeOf(e.slot.Target); ok {
		hd := reduction.MadeRight(e.setup, slope, alt, 0).Grid
		if math.Abs(hd-known) > limit {
			return stop(codeDistance, "The horizontal distance differs by %s from %s, limit %s.", e.length(math.Abs(hd-known)), from, e.length(limit))
		}
		return nil
	}
	if slope < known-limit {
		return stop(codeDistance, "The slope distance is %s shorter than the horizontal distance of %s, limit %s.", e.length(known-slope), from, e.length(limit))
	}
	return nil
}

// altitudeOf returns the altitude of a target whose vertical pair is booked.
func (e *Expectation) altitudeOf(target string) (reduce.Angle, bool) {
	slot := spec.Slot{Quantity: spec.Vertical, Face: faces.FL, Target: target}
	l, left := e.setup.Counting(slot)
	r, right := e.setup.Counting(slot.Pair())
	if !left || !right {
		return 0, false
	}
	alt, _ := faces.VerticalPair(l.Angle(), r.Angle(), e.setup.Spec.Instrument.Circle)
	return alt, true
}

// length prints metres in the unit of the setup, to a length that tells.
func (e *Expectation) length(metres float64) string {
	u := e.setup.Spec.LengthUnit
	return lengths.FromMetres(metres).Format(u, 3) + " " + u.String()
}

func apartBy(a, b lengths.Length) lengths.Length { return max(a-b, b-a) }

// checkInstrumentHeight holds the tripod where the instrument height was measured
// again and isn't the same: it sank, was changed, or one was misread.
func checkInstrumentHeight(s booking.Setup, r reduction.Reduction) Check {
	h := r.Heights
	if h.Before == nil || h.After == nil {
		return Check{}
	}
	off, limit, from := apartBy(h.After.Length(), h.Mean), s.Spec.Lengths().Again, "assumed, no source"
	if s.Spec.Before.Lengths != nil {
		from = "set for this setup"
	}
	c := Check{Name: "instrument height", Met: off <= limit, From: from}
	u := s.Spec.LengthUnit
	c.Text = fmt.Sprintf("The instrument height measured again differs by %s %s, limit %s %s.", off.Format(u, 4), u, limit.Format(u, 4), u)
	if !c.Met {
		c.Again = "measure the instrument height again, and look whether the tripod stands as it did"
	}
	return c
}
