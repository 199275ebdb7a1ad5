package check

import (
	"fmt"
	"math"

	"example.org/readback/booking"
	"example.org/readback/reduce"
)

// criticalRange is the factor f(n) by which the standard deviation of one value is
// multiplied: the range of n values of a normal distribution passes f(n)·σ five
// times in a hundred. From n = 2 on. [ISO 5725-6, 5.2.2.1, table 1: from memory; held
// against the distribution of the range by a test]
var criticalRange = [...]float64{2: 2.8, 3: 3.3, 4: 3.6, 5: 3.9, 6: 4.0, 7: 4.2, 8: 4.3, 9: 4.4, 10: 4.5}

// Spreads of what was measured again where no standard deviation is stated:
// common practice, no source.
const (
	distanceSpread = 10 * reduce.Millimetre
	heightSpread   = 3 * reduce.Millimetre
)

const noSource = "common practice, no source"

// checkRepeats holds the spread of what was measured several times against its
// limit: distances and heights against the stated standard deviation, altitudes
// against the limit of the rounds.
func checkRepeats(s booking.Setup) []Check {
	var cs []Check
	for _, r := range s.Repeats() {
		cs = append(cs, checkRepeated(s, r))
	}
	return cs
}

func checkRepeated(s booking.Setup, r booking.Repeated) Check {
	what := map[booking.Quantity]string{booking.Slope: "distance to ", booking.TargetHeight: "target height of ",
		booking.InstrumentHeight: "instrument height", booking.Vertical: "altitude of "}[r.Quantity] + r.Target
	limit, from := repeatLimit(s.Spec, r)
	c := Check{Name: "repeats", Met: r.Spread <= limit, From: from}
	c.Text = fmt.Sprintf("The %s was measured %d times: mean %s, spread %s, limit %s.", what, r.N,
		repeatText(s.Spec, r, r.Mean), spreadText(s.Spec, r, r.Spread), spreadText(s.Spec, r, limit))
	if !c.Met {
		c.Again = fmt.Sprintf("measure the %s again, or leave one out with its reason", what)
	}
	return c
}

func repeatLimit(spec booking.Spec, r booking.Repeated) (limit int64, from string) {
	i := spec.Instrument
	switch {
	case r.Quantity == booking.Vertical:
		return int64(spec.Limits.Rounds.Value), spec.Limits.Rounds.From
	case r.Quantity != booking.Slope:
		return int64(heightSpread), noSource
	case i.DistanceSD == 0:
		return int64(distanceSpread), noSource
	}
	sd := float64(i.DistanceSD) + float64(i.DistancePPM*1e-6*float64(r.Mean))
	return int64(math.Round(criticalRange[min(r.N, len(criticalRange)-1)] * sd)), "the stated σ, ISO 5725-6"
}

func repeatText(spec booking.Spec, r booking.Repeated, v int64) string {
	if r.Quantity.Angular() {
		return reduce.Angle(v).Format(spec.Instrument.Unit, spec.Instrument.Places()+1)
	}
	places := 4
	if spec.LengthUnit != reduce.Metres {
		places = 3
	}
	return reduce.Length(v).Format(spec.LengthUnit, places) + " " + spec.LengthUnit.String()
}

func spreadText(spec booking.Spec, r booking.Repeated, v int64) string {
	if r.Quantity.Angular() {
		return reduce.Angle(v).FormatSize(spec.Instrument.Unit)
	}
	return fmt.Sprintf("%.1f mm", float64(v)/float64(reduce.Millimetre))
}
