package spec

import (
	"fmt"
	"strings"

	"example.org/readback/booking/spec/field"
	"example.org/readback/reduce/lengths"
)

// Lengths are the ranges in which heights and lengths are plausible, and how far they
// may differ from what is known. What lies beyond a range books when it was read again.
type Lengths struct {
	LeastInstrument lengths.Length `json:"instrument_least"` // instrument height
	MostInstrument  lengths.Length `json:"instrument_most"`
	MostTarget      lengths.Length `json:"target_most"` // target height
	LeastSlope      lengths.Length `json:"distance_least"`
	MostSlope       lengths.Length `json:"distance_most"`
	Again           lengths.Length `json:"height_again"`   // the instrument height measured again: beyond it the tripod is held
	Known           lengths.Length `json:"distance_known"` // a distance against the one known beforehand, at least
}

// DefaultLengths are those taken unless the book sets others (assumed: a tripod, a
// rod, a distance meter; marks and centring).
func DefaultLengths() Lengths {
	const mm, m = lengths.Millimetre, 1000 * lengths.Millimetre
	return Lengths{LeastInstrument: 200 * mm, MostInstrument: 2500 * mm, MostTarget: 6 * m, LeastSlope: 500 * mm, MostSlope: 8000 * m, Again: 5 * mm, Known: 50 * mm}
}

// Lengths returns the ranges that the setup is held against: those the book had set
// when it was opened.
func (s Spec) Lengths() Lengths {
	if s.Before.Lengths != nil {
		return *s.Before.Lengths
	}
	return DefaultLengths()
}

// Validate finds ranges whose least value lies above their largest, and says so in a unit.
func (l Lengths) Validate(u lengths.Unit) (faults []field.Fault) {
	for _, x := range []struct {
		of          field.Name
		what        string
		least, most lengths.Length
	}{{field.InstrumentRange, "instrument height", l.LeastInstrument, l.MostInstrument}, {field.DistanceRange, "distance", l.LeastSlope, l.MostSlope}} {
		if x.least > x.most {
			faults = append(faults, field.Fault{Field: x.of, Text: fmt.Sprintf("the least plausible %s, %s, is above the largest, %s", x.what, lengthText(x.least, u), lengthText(x.most, u))})
		}
	}
	return faults
}

// lengthText prints a length in a unit without idle zeros.
func lengthText(l lengths.Length, u lengths.Unit) string {
	return strings.TrimRight(strings.TrimRight(l.Format(u, 6), "0"), ".") + " " + u.String()
}
