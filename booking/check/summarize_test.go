package check

import (
	"math"
	"testing"

	"example.org/readback/booking/reduction"
	"example.org/readback/reduce"
)

// σ of altitudes is its own setting: the scale of index errors is √(σ² + lc²/24),
// two roundings in a mean of both faces (a rounding has lc²/12; common practice, no
// source). Not stated, it is that of directions. Worked by hand: 10″ and 5″ make
// √(100 + 25/24).
func TestUpright_SigmaOfVerticals(t *testing.T) {
	spec := testSpec()
	directions := reduction.Scale{S: 3}
	if got := directions.Upright(newBench(t, spec).s.Spec.Instrument); got != directions {
		t.Errorf("not stated: %+v", got)
	}
	spec.Instrument.SigmaUpright = 10 * reduce.Arcsecond
	s := newBench(t, spec).s
	if got := directions.Upright(s.Spec.Instrument); math.Abs(got.S-math.Sqrt(100+25./24)) > 1e-12 {
		t.Errorf("stated: %+v", got)
	}
}

// A round left out counts nowhere: the collimation of a setup is that of the rounds
// used. Worked by hand: the eight pairs of two rounds have 2c −5″ six times and −10″
// twice, c = −50″/16; a third round of −65″ moves it until it is left out.
func TestSummarize_CollimationWithoutRoundsLeftOut(t *testing.T) {
	spec := testSpec()
	spec.Rounds = 3
	b := newBench(t, spec)
	b.keys(soundOne...)
	b.keys(soundTwo...)
	want := reduce.FromSeconds(-50. / 16)
	if got := Summarize(b.s).Collim; got != want {
		t.Errorf("two rounds: c %s, want %s", got, want)
	}
	b.keys("45 05 10", "90 10 20", "165 30 00", "295 00 45", "115 01 50", "345 31 05", "270 11 25", "225 06 15")
	if got := Summarize(b.s).Collim; got == want {
		t.Error("the third round does not count")
	}
	out, err := b.s.LeaveOut(3, "the tripod settled")
	if err != nil {
		t.Fatal(err)
	}
	b.do(out)
	if got := Summarize(b.s).Collim; got != want {
		t.Errorf("the third left out: c %s, want %s", got, want)
	}
}
