package check

import (
	"math"

	"example.org/readback/booking"
	"example.org/readback/reduce"
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
func InstrumentBefore(setups []booking.Summary, i booking.Instrument) (collimation, index Earlier) {
	var cs, es []reduce.Angle
	for k := len(setups) - 1; k >= 0 && (len(cs) < earlierSetups || len(es) < earlierSetups); k-- {
		m := setups[k]
		if m.Instrument.Serial != i.Serial || i.Serial == "" && m.Instrument.Name != i.Name {
			continue
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
