package reduce

import (
	"fmt"
	"math"
)

// A Unit is the notation an instrument's circle is read in.
type Unit uint8

// The units of a circle. The numbers are stored: they never change meaning.
const (
	DMS     Unit = 1 // degrees, minutes, seconds: 360 to the circle
	GonUnit Unit = 2 // decimal gon: 400 to the circle
)

// String returns "dms" or "gon", the words of the readings file.
func (u Unit) String() string {
	switch u {
	case DMS:
		return "dms"
	case GonUnit:
		return "gon"
	}
	return fmt.Sprintf("unit %d", uint8(u))
}

// Places returns how many decimals a reading with the given least count has:
// decimals of the second for DMS, of the gon for GonUnit.
func Places(u Unit, leastCount Angle) int {
	step := Arcsecond
	if u == GonUnit {
		step = Gon
	}
	for n := 0; n < 7; n++ {
		if leastCount <= 0 || leastCount%step == 0 || step < 10 {
			return n
		}
		step /= 10
	}
	return 7
}

// AssumedNoise returns the standard deviation of one reading on one face, in
// seconds, taken for an instrument that states none: 0.4 of the least count, never
// under 2″ (assumed, no source: how finely a circle reads says little of how
// closely it is sighted).
func AssumedNoise(leastCount Angle) float64 {
	return math.Max(2, 0.4*leastCount.Seconds())
}
