package network

import (
	"example.org/readback/booking/day"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/slope"
)

// refraction returns the coefficient of refraction that two rises of one line
// show, there and back, whose sum is given, and its standard deviation.
func (n *net) refraction(from, to string, sum, distance float64) (k, sd float64) {
	there, okThere := n.riseFrom(from, to)
	back, okBack := n.riseFrom(to, from)
	if !okThere || !okBack || distance <= 0 {
		return 0, 0
	}
	sigma := max(altitudeSD(there.Instrument), altitudeSD(back.Instrument))
	sd = slope.CoefficientSD(distance, slope.EarthRadius, sigma, n.in.Settings.Centring)
	return slope.Coefficient((there.Refraction+back.Refraction)/2, sum, distance, slope.EarthRadius), sd
}

// altitudeSD is the standard deviation of an altitude in seconds: the stated one,
// else half a least count.
func altitudeSD(i spec.Instrument) float64 {
	if s := i.AltitudeSigma(); s > 0 {
		return s.Seconds()
	}
	return i.LeastCount.Seconds() / 2
}

// riseFrom returns the latest setup that has a rise from one name to another.
func (n *net) riseFrom(from, to string) (day.Summary, bool) {
	ms := n.at[from]
	for i := len(ms) - 1; i >= 0; i-- {
		if l, ok := line(ms[i], to); ok && l.HasRise {
			return *ms[i], true
		}
	}
	return day.Summary{}, false
}
