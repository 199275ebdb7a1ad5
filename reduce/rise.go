package reduce

import "math"

// EarthRadius is the mean radius used for curvature and refraction, metres.
const EarthRadius = 6_371_000.0

// HeightDifference returns the height of the target mark over the station mark
// in metres, from a slope distance S, an altitude, the heights of instrument and
// target (all metres) and the coefficient of refraction k:
//
//	Δh = S sin α + hᵢ − hₜ + (1 − k) · HD² / 2R,  HD = S cos α  [TRADE 2]
func HeightDifference(slope float64, alt Angle, hi, ht, k float64) float64 {
	hd := slope * math.Cos(alt.Radians())
	return slope*math.Sin(alt.Radians()) + hi - ht + (1-k)*hd*hd/(2*EarthRadius)
}
