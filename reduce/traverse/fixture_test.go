package traverse

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"example.org/readback/reduce"
)

func num(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func dms(t *testing.T, s string) reduce.Angle {
	t.Helper()
	a, err := reduce.ParseDMS(s)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// printed compares got with a printed figure to half a unit of its last digit.
func printed(t *testing.T, what string, got float64, want string) {
	t.Helper()
	half := 0.5
	if _, dec, ok := strings.Cut(want, "."); ok {
		half = 0.5 * math.Pow10(-len(dec))
	}
	if d := math.Abs(got - num(t, want)); d > half+1e-9 {
		t.Errorf("%s: %.5f, printed %s", what, got, want)
	}
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
