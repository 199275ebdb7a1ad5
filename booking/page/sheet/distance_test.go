package sheet

import (
	"strings"
	"testing"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce/lengths"
	"example.org/readback/testdata/crew"
)

// A setup in US survey feet whose instrument states the deviation of its
// distances prints lengths in its unit, and the deviations in its annex: 512.34 ft
// are 156.16 m; on the level 5 mm + 2 mm per km give 5.3 mm along, and 2″ give
// 156.16 m · 2/206265 = 1.5 mm up.
func TestText_DistancesWithDeviations(t *testing.T) {
	agreed := smallSpec()
	agreed.CloseHalves, agreed.LengthUnit = false, lengths.USFeet
	agreed.Instrument.DistanceSD, agreed.Instrument.DistancePPM = 5*lengths.Millimetre, 2
	agreed.Targets = []string{"Alder"}
	c := crew.Open(t, 1, agreed)
	c.KeyAt(spec.Slot{Quantity: spec.InstrumentHeight}, "5.000")
	c.Key("0 05 10", "45 10 20", "225 10 25", "180 05 15", "90 05 10", "135 10 20", "315 10 25", "270 05 15")
	c.Key("90 00 00", "89 09 00", "270 51 00", "270 00 00", "512.340", "5.000", "230.118", "5.000")
	var b strings.Builder
	all := binder("us.book", c.Setup)
	all.Annex = true
	if err := all.Text(&b, 80); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Stated σ of a distance: 5 mm + 2 mm per km.", "Target Target h. usft Horizontal usft Rise usft", "Spire 5.000 512.340 +0.005", "Target Horizontal Rise", "Spire 5.3 1.5"} {
		if !strings.Contains(squeeze(strings.ReplaceAll(b.String(), "-", "")), want) {
			t.Errorf("%q is not on the sheet:\n%s", want, b.String())
		}
	}
}

func squeeze(s string) string { return strings.Join(strings.Fields(s), " ") }
