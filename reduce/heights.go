package reduce

import "math"

// EarthRadius is the mean radius used for curvature and refraction, metres.
// [TRADE]
const EarthRadius = 6_371_000.0

// Refraction is the coefficient of refraction k used unless another is set: the
// radius of the Earth over that of the line of sight. Some books print
// m = k/2, the angle of refraction over the central angle. [TRADE] [M9]
const Refraction = 0.13

// SlopeReduce returns the horizontal distance at the height of the instrument and
// the height of the target mark over the station mark, from a slope distance S, an
// altitude, the heights of instrument and target and the coefficient of refraction
// k, all lengths in metres:
//
//	HD = S·cos α − S²·cos α·sin α·(1 − k/2)/R  [TRADE] [F15] [F27] [F30]
//	Δh = S sin α + hᵢ − hₜ + (1 − k) · (S cos α)² / 2R  [TRADE]
//
// k = 1 leaves curvature and refraction out: HD = S·cos α.
func SlopeReduce(slope float64, alt Angle, hi, ht, k float64) (hd, dh float64) {
	sin, cos := math.Sincos(alt.Radians())
	hd = slope * cos
	dh = float64(slope*sin) + hi - ht + curvatureRefraction(hd, k, EarthRadius)
	if k != 1 {
		hd -= float64(hd * slope * sin * (1 - k/2) / EarthRadius)
	}
	return hd, dh
}

// curvatureRefraction returns (1 − k)·HD²/2R, by how much a distant mark stands
// higher than a level line of sight says. Distance, radius and result are in one
// unit. [TRADE] [F14] [M9]
func curvatureRefraction(hd, k, radius float64) float64 { return (1 - k) * hd * hd / (2 * radius) }

// SlopeSDs are the standard deviations of what SlopeReduce works from: metres,
// the altitude in seconds, and the coefficient k.
type SlopeSDs struct {
	Slope, Altitude, HI, HT, K float64
}

// SlopeSD returns the standard deviations in metres of the two results of
// SlopeReduce, the inputs being independent:
//
//	σ²(HD) = (cos α·σ_S)² + (S sin α·σ_α)² + (S² cos α sin α/2R·σ_k)²
//	σ²(Δh) = (sin α·σ_S)² + (S cos α·σ_α)² + σ²(hᵢ) + σ²(hₜ) + (HD²/2R·σ_k)²
//
// The change of the curvature with S and α is left out: it is under 0.2 % of σ_S
// and of the altitude's part up to 10 km. [F29]
func SlopeSD(slope float64, alt Angle, sd SlopeSDs) (hd, dh float64) {
	sin, cos := math.Sincos(alt.Radians())
	across := slope * sd.Altitude / HalfTurn.Seconds() * math.Pi
	hd = norm(cos*sd.Slope, sin*across, slope*slope*cos*sin/(2*EarthRadius)*sd.K)
	bend := slope * slope * cos * cos / (2 * EarthRadius) * sd.K
	return hd, norm(sin*sd.Slope, cos*across, sd.HI, sd.HT, bend)
}

func norm(xs ...float64) float64 {
	sum := 0.0
	for _, x := range xs {
		sum += float64(x * x)
	}
	return math.Sqrt(sum)
}

// An End is what was measured at one end of a line sighted both ways: the
// altitude seen there, the height of instrument there and the height of the
// target sighted at the other end, in the unit of the distance.
type End struct {
	Altitude Angle
	HI, HT   float64
}

// Reciprocal returns the height of mark B over mark A from altitudes seen at
// both ends, which is free of curvature and of a refraction alike at both, and
// the coefficient k that the pair shows:
//
//	Δh = (p − q)/2, k = 1 + R/HD²·(p + q), with p = S sin α_A + hᵢ − hₜ, q likewise at B
//
// The radius is in the unit of the distance. k is worth little on short lines:
// see ReciprocalSD. [F13] [F33]
func Reciprocal(slope float64, a, b End, radius float64) (dh, k float64) {
	p := float64(slope*math.Sin(a.Altitude.Radians())) + a.HI - a.HT
	q := float64(slope*math.Sin(b.Altitude.Radians())) + b.HI - b.HT
	hd := slope * math.Cos((a.Altitude-b.Altitude).Radians()/2)
	return (p - q) / 2, 1 + float64(radius/(hd*hd)*(p+q))
}

// ReciprocalSD returns the standard deviations of the results of Reciprocal for
// altitudes with the standard deviation sdAltitude (seconds) at either end and
// heights of instrument and target with sdHeight each.
func ReciprocalSD(slope float64, a, b End, radius, sdAltitude, sdHeight float64) (dh, k float64) {
	hd := slope * math.Cos((a.Altitude-b.Altitude).Radians()/2)
	across := hd * sdAltitude / HalfTurn.Seconds() * math.Pi
	sum := norm(across, across, sdHeight, sdHeight, sdHeight, sdHeight) // of p + q and of p − q
	return sum / 2, radius / (hd * hd) * sum
}
