package check

import (
	"testing"

	"example.org/readback/booking/reduction"
	"example.org/readback/reduce"
)

// The sentence that the rounds do not agree shows the judgement: the spread beside
// the limit, with the decimals that tell them apart, in the unit of the book.
func TestApart_ShowsSpreadAndLimit(t *testing.T) {
	spec := testSpec()
	second := func(x float64) reduce.Angle { return reduce.FromSeconds(x) }
	for _, c := range []struct {
		unit   reduce.Unit
		limit  reduce.Angle
		spread []reduce.Angle // of Alder, Quarry
		angle  reduce.Angle   // between Alder and Mast, of a round without the RO
		want   string
	}{
		{reduce.DMS, second(15), []reduce.Angle{second(35), second(2.5)}, 0, "The rounds do not agree on Alder: spread 35″, limit 15″."},
		{reduce.DMS, second(13.75), []reduce.Angle{second(13.76)}, 0, "The rounds do not agree on Alder: spread 13.76″, limit 13.75″."},
		{reduce.DMS, second(13.75), []reduce.Angle{second(13.76), second(35)}, 0, "The rounds do not agree on Alder (spread 13.76″), Quarry (spread 35″); limit 13.75″."},
		{reduce.DMS, second(15), []reduce.Angle{second(3)}, second(100), "The rounds do not agree on the angle from Alder to Mast: spread 100″, limit 15″."},
		{reduce.GonUnit, reduce.Milligon, []reduce.Angle{reduce.Milligon * 11 / 10}, 0, "The rounds do not agree on Alder: spread 1.1 mgon, limit 1 mgon."},
		{reduce.DMS, second(15), []reduce.Angle{second(15)}, 0, ""},
	} {
		x := reduction.Comparison{Limit: c.limit}
		for i, s := range c.spread {
			x.Targets = append(x.Targets, reduction.TargetSpread{Target: spec.Targets[i], Spread: s, Agrees: s <= c.limit})
		}
		if c.angle > 0 {
			x.WithoutRO = []reduction.AngleSpread{{Round: 2, Other: 1, From: "Alder", To: "Mast", Spread: c.angle}}
		}
		spec.Instrument.Unit = c.unit
		if got := Apart(spec, x); got != c.want {
			t.Errorf("%q, expected %q", got, c.want)
		}
	}
}
