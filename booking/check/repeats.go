package check

import (
	"fmt"
	"math"

	"example.org/readback/booking"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
)

// criticalRange is the factor f(n) by which the standard deviation of one value is
// multiplied: the range of n values of a normal distribution passes f(n)·σ five
// times in a hundred. From n = 2 on. [ISO 5725-6, 5.2.2.1, table 1: from memory; held
// against the distribution of the range by a test]
var criticalRange = [...]float64{2: 2.8, 3: 3.3, 4: 3.6, 5: 3.9, 6: 4.0, 7: 4.2, 8: 4.3, 9: 4.4, 10: 4.5}

// Spreads of what was measured again where no standard deviation is stated:
// common practice, no source.
const (
	distanceSpread = 10 * lengths.Millimetre
	heightSpread   = 3 * lengths.Millimetre
)

const noSource = "common practice, no source"

// checkRepeats holds the spread of what was measured several times against its
// limit: distances and heights against the stated standard deviation, altitudes
// against the limit of the rounds.
func checkRepeats(s booking.Setup) []Check {
	var cs []Check
	for _, r := range reduction.Repeats(s) {
		cs = append(cs, checkRepeated(s, r))
	}
	for _, h := range reduction.RepeatedHalves(s) {
		cs = append(cs, checkHalf(s, h))
	}
	return cs
}

// checkHalf holds the sights of a half that were read several times against each
// other. The limit of two is that of the RO's misclosure, which is two readings of
// one sight on one face as well; of more it grows as the range does.
func checkHalf(s booking.Setup, h reduction.RepeatedHalf) Check {
	w := h.Widest()
	l := reduction.Of(s).Comparison.Limits.ROMisclosure
	n := min(len(w.Readings), len(criticalRange)-1)
	limit := reduce.FromSeconds(l.Value.Seconds() * criticalRange[n] / criticalRange[2])
	c := Check{Name: "repeats", Met: w.Spread <= limit, From: l.From}
	spread, most := w.Spread.SizeAgainst(limit, s.Spec.Instrument.Unit)
	what := fmt.Sprintf("%s of round %d", h.Face.Words(), h.Round)
	if len(h.Sights) == 1 {
		c.Text = fmt.Sprintf("%s on %s was read %d times: mean %s, spread %s, limit %s.", w.Slot.Target, what, len(w.Readings),
			w.Mean.Format(s.Spec.Instrument.Unit, s.Spec.Instrument.Places()+1), spread, most)
	} else {
		c.Text = fmt.Sprintf("%d sights on %s were read again: largest spread %s on %s, limit %s; their means count.", len(h.Sights), what, spread, w.Slot.Target, most)
	}
	if !c.Met {
		c.Again = fmt.Sprintf("observe %s again, or leave one of them out with its reason", what)
	}
	return c
}

func checkRepeated(s booking.Setup, r reduction.Repeated) Check {
	what := map[spec.Quantity]string{spec.Slope: "distance to ", spec.TargetHeight: "target height of ",
		spec.InstrumentHeight: "instrument height", spec.Vertical: "altitude of "}[r.Quantity] + r.Target
	limit, from := repeatLimit(s.Spec, r)
	c := Check{Name: "repeats", Met: r.Spread <= limit, From: from}
	c.Text = fmt.Sprintf("The %s was measured %d times: mean %s, spread %s, limit %s.", what, r.N,
		repeatText(s.Spec, r, r.Mean), spreadText(s.Spec, r, r.Spread), spreadText(s.Spec, r, limit))
	if !c.Met {
		c.Again = fmt.Sprintf("measure the %s again, or leave one out with its reason", what)
	}
	return c
}

func repeatLimit(agreed spec.Spec, r reduction.Repeated) (limit int64, from string) {
	i := agreed.Instrument
	switch {
	case r.Quantity == spec.Vertical:
		return int64(agreed.Limits.Rounds.Value), agreed.Limits.Rounds.From
	case r.Quantity != spec.Slope:
		return int64(heightSpread), noSource
	case i.DistanceSD == 0:
		return int64(distanceSpread), noSource
	}
	sd := float64(i.DistanceSD) + float64(i.DistancePPM*1e-6*float64(r.Mean))
	return int64(math.Round(criticalRange[min(r.N, len(criticalRange)-1)] * sd)), "the stated σ, ISO 5725-6"
}

func repeatText(spec spec.Spec, r reduction.Repeated, v int64) string {
	if r.Quantity.Angular() {
		return reduce.Angle(v).Format(spec.Instrument.Unit, spec.Instrument.Places()+1)
	}
	places := 4
	if spec.LengthUnit != lengths.Metres {
		places = 3
	}
	return lengths.Length(v).Format(spec.LengthUnit, places) + " " + spec.LengthUnit.String()
}

func spreadText(spec spec.Spec, r reduction.Repeated, v int64) string {
	if r.Quantity.Angular() {
		return reduce.Angle(v).FormatSize(spec.Instrument.Unit)
	}
	return fmt.Sprintf("%.1f mm", float64(v)/float64(lengths.Millimetre))
}
