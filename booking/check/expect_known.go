package check

import (
	"math"

	"example.org/readback/booking/day"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/precision"
)

// Of an instrument's earlier setups: how many are looked at, and the least its
// errors are taken to wander from one to the next, in seconds (assumed).
const (
	earlierSetups = 10
	leastWander   = 4.0
	unsureWander  = 10.0 // where there is only one
)

// InstrumentBefore says what earlier setups, the oldest first, tell of the
// collimation and the index error of an instrument. Instruments are told apart
// by serial number, by name where there is none.
func InstrumentBefore(setups []day.Summary, i spec.Instrument) (collimation, index Earlier) {
	var cs, es []reduce.Angle
	for k := len(setups) - 1; k >= 0 && (len(cs) < earlierSetups || len(es) < earlierSetups); k-- {
		m := setups[k]
		if i.Serial == "" && i.Name == "" {
			break // it is not said yet which it is
		}
		if m.Instrument.Serial != i.Serial || i.Serial == "" && m.Instrument.Name != i.Name {
			continue
		}
		if m.State == day.StateHold || m.State == day.StateLiftedOnHold {
			continue // what holds a tripod does not speak for the instrument
		}
		if m.TwoC != nil && len(cs) < earlierSetups {
			cs = append(cs, m.Collim)
		}
		if m.Index != nil && len(es) < earlierSetups {
			es = append(es, m.IndexMean)
		}
	}
	return earlierOf(cs), earlierOf(es)
}

// earlierOf returns the mean of values and how far they wander.
func earlierOf(list []reduce.Angle) Earlier {
	switch len(list) {
	case 0:
		return Earlier{}
	case 1:
		return Earlier{Value: list[0], SD: unsureWander}
	}
	m := mean(list)
	sum := 0.0
	for _, a := range list {
		d := (a - m).Seconds()
		sum += d * d
	}
	return Earlier{Value: m, SD: math.Max(leastWander, math.Sqrt(sum/float64(len(list)-1)))}
}

// mostBefore is how many earlier setups of an instrument are pooled.
const mostBefore = 20

// BeforeOf says what setups, the oldest first, tell a setup that is opened: the pooled
// standard deviation of one direction of its instrument, from those that were lifted
// on Lift and read to the same least count, and the altitudes of the station's
// targets, the latest of each. Setups on Hold say nothing: what is wrong in them is
// not settled.
func BeforeOf(setups []day.Summary, s spec.Spec) spec.Before {
	var b spec.Before
	var spreads []precision.Spread
	for k := len(setups) - 1; k >= 0; k-- {
		m := setups[k]
		if m.State != day.StateLifted && m.State != day.StateLift {
			continue
		}
		if m.Station == s.Station {
			for _, l := range m.Sights {
				if _, known := b.Altitudes[l.Target]; l.HasAlt && !known {
					if b.Altitudes == nil {
						b.Altitudes = map[string]reduce.Angle{}
					}
					b.Altitudes[l.Target] = l.Altitude
				}
			}
		}
		i := m.Instrument
		if i.Serial == "" && i.Name == "" || i.Serial != s.Instrument.Serial || i.Serial == "" && i.Name != s.Instrument.Name || i.LeastCount != s.Instrument.LeastCount {
			continue
		}
		if m.Dof > 0 && len(spreads) < mostBefore {
			low := 1.0
			if m.Low > 0 {
				low = m.Low
			}
			spreads = append(spreads, precision.Spread{S: m.S0 / low, Dof: m.Dof})
		}
	}
	if all := precision.Pool(spreads...); all.Dof > 0 && all.S > 0 {
		b.S, b.Dof, b.Setups = all.S, all.Dof, len(spreads)
	}
	return b
}
