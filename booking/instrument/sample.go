package instrument

import (
	"math"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/fieldtest"
	"example.org/readback/reduce/precision"
)

// A Value is one error of an instrument in one setup, seconds. N is 0 where the
// setup does not tell it.
type Value struct {
	Seconds float64
	SD      float64 // of Seconds; 0 where nothing is left over to tell
	N       int     // pairs it comes from
}

// A Sample is what one setup says of its instrument.
type Sample struct {
	Setup       int
	Station     string
	At          time.Time // when the first reading was observed; where that is not known, when the setup was keyed
	Keyed       bool      // At is when the setup was keyed
	Instrument  spec.Instrument
	Collimation Value // on a level line: half of 2c
	Tilt        Value // of the trunnion axis; N is 0 where the altitudes cannot separate it
	Level       bool  // altitudes of every target were read, too close together to separate a tilt
	Index       Value // of the vertical circle: every reading is this much too large

	Doubt string // why the setup should not speak for its instrument; empty: nothing is against it
}

// SampleOf works the sample of a setup. Left-out rounds count too: they are the
// same instrument.
func SampleOf(s booking.Setup) Sample { return SampleFrom(s, reduction.Of(s)) }

// SampleFrom is SampleOf where the reduction of the setup is at hand.
func SampleFrom(s booking.Setup, r reduction.Reduction) Sample {
	out := Sample{Setup: s.Number, Station: s.Spec.Station, At: s.Opened, Keyed: true, Instrument: s.Spec.Instrument}
	if from, _, ok := s.Observed(); ok {
		out.At, out.Keyed = from, false
	}
	pairs, altitudes := pairsOf(r)
	axes := fieldtest.FindAxes(pairs)
	out.Collimation = Value{Seconds: axes.C0, SD: axes.SDC0, N: axes.Used}
	if axes.Separated {
		out.Tilt = Value{Seconds: axes.Tilt, SD: axes.SDTilt, N: axes.Used}
	}
	out.Level = altitudes && !axes.Separated
	out.Index = indexOf(r)
	return out
}

// pairsOf lists the horizontal pairs with the altitude of their target; where one
// of them has none, all are taken as level and altitudes is false.
func pairsOf(r reduction.Reduction) (pairs []fieldtest.Pair, altitudes bool) {
	altitude := map[string]reduce.Angle{}
	for _, v := range r.Verticals {
		if v.HasPair {
			altitude[v.Target] = v.Altitude
		}
	}
	every := true
	for _, w := range r.Rounds {
		for _, p := range w.Pairs {
			if !p.HasPair {
				continue
			}
			a, ok := altitude[p.Target]
			every = every && ok
			pairs = append(pairs, fieldtest.Pair{C: p.TwoC.Half(), Altitude: a})
		}
	}
	if !every {
		for i := range pairs {
			pairs[i].Altitude = 0
		}
	}
	return pairs, every && len(pairs) > 0
}

// indexOf returns the mean index error of the vertical pairs.
func indexOf(r reduction.Reduction) Value {
	var es []float64
	for _, v := range r.Verticals {
		if v.HasPair {
			es = append(es, v.Index.Seconds())
		}
	}
	mean, s := precision.SampleSpread(es)
	return Value{Seconds: mean, SD: meanSD(s, len(es)), N: len(es)}
}

// meanSD is the standard deviation of the mean of n values.
func meanSD(s precision.Spread, n int) float64 {
	if n == 0 {
		return 0
	}
	return s.S / math.Sqrt(float64(n))
}
