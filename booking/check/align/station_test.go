package align_test

import (
	"math"
	"testing"

	"example.org/readback/reduce"
)

// Assumed, as the documents say: 0.4 of the least count, never under 2″; an
// instrument that shows 1″ is no closer for that.
func TestAssumedNoise(t *testing.T) {
	for _, c := range []struct {
		leastCount reduce.Angle
		want       float64
	}{
		{reduce.Arcsecond / 10, 2}, {reduce.Arcsecond, 2}, {5 * reduce.Arcsecond, 2},
		{6 * reduce.Arcsecond, 2.4}, {20 * reduce.Arcsecond, 8}, {reduce.Arcminute, 24},
	} {
		if got := reduce.AssumedNoise(c.leastCount); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%v: %v, want %v", c.leastCount, got, c.want)
		}
	}
}

// A stated standard deviation is taken as it is, however small.
func TestNoise_Stated(t *testing.T) {
	s := station()
	s.Sigma = 0.5
	if got, want := s.Noise(), math.Sqrt(0.25+1.0/12); math.Abs(got-want) > 1e-9 {
		t.Errorf("%v, want %v", got, want)
	}
}
