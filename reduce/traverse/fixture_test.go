package traverse

import (
	"testing"

	"example.org/readback/reduce"
	"example.org/readback/testdata"
)

func dms(t *testing.T, s string) reduce.Angle {
	t.Helper()
	return testdata.Parsed(t, reduce.ParseDMS, s)
}

func deg(d, m, s int) reduce.Angle {
	return reduce.Angle(d)*reduce.Degree + reduce.Angle(m)*reduce.Arcminute + reduce.Angle(s)*reduce.Arcsecond
}

// byBearings makes a ring of given bearings: its angles close exactly.
func byBearings(names []string, bearings []reduce.Angle, lengths []float64) Traverse {
	t := Traverse{Ring: true, Stations: names, Start: Known{HasPoint: true, HasBearing: true, Bearing: reduce.DirectionAt(bearings[0])}}
	n := len(names)
	for i := range names {
		a := (bearings[i] - bearings[(i+n-1)%n] - reduce.HalfTurn).Normalize()
		t.Angles = append(t.Angles, StationAngle{Value: a, Observed: true})
		t.Legs = append(t.Legs, Leg{Length: lengths[i]})
	}
	return t
}
