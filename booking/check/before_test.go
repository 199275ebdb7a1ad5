package check

import (
	"math"
	"testing"

	"example.org/readback/booking/day"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

// A setup that is opened is told σ from the instrument's setups before it: worked by
// hand, s² = Σ f·s²/Σ f (pooled variance, any textbook of statistics; from memory)
// over 4 degrees at 3″/0.75 and 12 degrees at 2″: s² = (4·16 + 12·4)/16 = 7. Setups
// on Hold, of another instrument, read otherwise, or that show nothing, stay out.
func TestBeforeOf_PoolsTheInstrumentsSetups(t *testing.T) {
	own := spec.Instrument{Name: "Theodolite", Serial: "7", LeastCount: reduce.Arcsecond}
	other, coarse, unnamed := own, own, own
	other.Serial, coarse.LeastCount, unnamed.Serial = "8", 5*reduce.Arcsecond, ""
	setups := []day.Summary{
		{Instrument: own, State: day.StateLifted, S0: 3, Dof: 4, Low: 0.75},
		{Instrument: own, State: day.StateHold, S0: 90, Dof: 50},
		{Instrument: own, State: day.StateLiftedOnHold, S0: 90, Dof: 50},
		{Instrument: other, State: day.StateLifted, S0: 90, Dof: 50},
		{Instrument: coarse, State: day.StateLifted, S0: 90, Dof: 50},
		{Instrument: unnamed, State: day.StateLifted, S0: 90, Dof: 50},
		{Instrument: own, State: day.StateLifted},
		{Instrument: own, State: day.StateLift, S0: 2, Dof: 12},
	}
	b := BeforeOf(setups, spec.Spec{Instrument: own})
	if math.Abs(b.S-math.Sqrt(7)) > 1e-12 || b.Dof != 16 || b.Setups != 2 {
		t.Errorf("pooled %v of %d degrees, %d setups; want √7, 16, 2", b.S, b.Dof, b.Setups)
	}
	if got := b.Spread(); got.Dof != 16 || got.S != b.S {
		t.Errorf("counts as %+v", got)
	}
	if b := BeforeOf(setups[1:7], spec.Spec{Instrument: own}); b.S != 0 || b.Dof != 0 || b.Setups != 0 {
		t.Errorf("told from nothing: %+v", b)
	}
}

// Only the last 20 setups count, and however many degrees they have, they weigh no
// more than 30 against what the setup itself shows.
func TestBeforeOf_TheLastTwenty(t *testing.T) {
	own := spec.Instrument{Name: "Theodolite", LeastCount: reduce.Arcsecond}
	setups := []day.Summary{{Instrument: own, State: day.StateLifted, S0: 50, Dof: 4}}
	for range 20 {
		setups = append(setups, day.Summary{Instrument: own, State: day.StateLifted, S0: 2, Dof: 4})
	}
	b := BeforeOf(setups, spec.Spec{Instrument: own})
	if math.Abs(b.S-2) > 1e-12 || b.Dof != 80 || b.Setups != 20 || b.Spread().Dof != 30 {
		t.Errorf("%+v counts as %+v", b, b.Spread())
	}
}
