package check

import (
	"math"
	"testing"

	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// published.md F29 (bartleby; the page's own uncertainty mis-copies 6.5″, the
// recomputed one is used): S 4807.68 ± 0.018, Z 95 27 46 ± 6.5″ → H 4785.845, its
// standard deviation 0.0230. The page is in feet; the unit does not matter here.
func TestReduce_StandardDeviationOfHorizontalDistance(t *testing.T) {
	agreed := testSpec()
	agreed.Refraction = 1 // the source works without curvature and refraction
	agreed.Instrument.LeastCount, agreed.Instrument.Sigma = reduce.Arcsecond, reduce.FromSeconds(6.5)
	agreed.Instrument.DistanceSD = 18 * lengths.Millimetre
	b := newBench(t, agreed)
	for slot, text := range map[spec.Slot]string{
		{Quantity: spec.Vertical, Face: faces.FL, Target: "Mast"}: "95 27 46",
		{Quantity: spec.Vertical, Face: faces.FR, Target: "Mast"}: "264 32 14",
		{Quantity: spec.Slope, Target: "Mast"}:                    "4807.68",
	} {
		e, err := Read(b.s, slot, text, true, Known{})
		if err != nil {
			t.Fatal(err)
		}
		b.do(e)
	}
	v := reduction.Of(b.s).Verticals[0]
	if math.Abs(v.Horizontal-4785.845) > 0.0005 || math.Abs(v.HorizontalSD-0.0230) > 0.00005 {
		t.Errorf("H %.4f, sd %.5f", v.Horizontal, v.HorizontalSD)
	}
	if v.HasRise || v.Rise != 0 || v.RiseSD != 0 {
		t.Errorf("a rise without heights: %v", v.Rise)
	}
}
