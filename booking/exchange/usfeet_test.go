package exchange

import (
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/lengths"
)

// The readings file knows metres and international feet. A length read in US
// survey feet, 1200/3937 m (definition), is written in metres:
// 492.13 · 1200/3937 = 150.001524… m.
func TestText_USSurveyFeet(t *testing.T) {
	l, err := lengths.Parse("492.13", lengths.USFeet)
	if err != nil {
		t.Fatal(err)
	}
	slot := spec.Slot{Quantity: spec.Slope, Target: "Alder"}
	s := booking.Setup{Number: 1, Spec: spec.Spec{Station: "Weir", LengthUnit: lengths.USFeet},
		Readings: []booking.Reading{{Slot: slot, Text: "492.13", Value: int64(l)}}}
	text := written(t, s)
	if !strings.Contains(text, ",slope,150.001524,m,") {
		t.Error(text)
	}
	f, err := readAll(strings.NewReader(text), "usft.csv")
	if err != nil || (allRows(t, f)[0].Value-int64(l)) > 500 || allRows(t, f)[0].Value-int64(l) < -500 {
		t.Errorf("%v: %+v, booked %d nm", err, f, l)
	}
}
