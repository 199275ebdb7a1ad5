package slope

import (
	"math"

	"example.org/readback/reduce"
)

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
func Reduce(slope float64, alt reduce.Angle, hi, ht, k float64) (hd, dh float64) {
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
type SDs struct {
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
func SD(slope float64, alt reduce.Angle, sd SDs) (hd, dh float64) {
	sin, cos := math.Sincos(alt.Radians())
	across := slope * sd.Altitude / reduce.HalfTurn.Seconds() * math.Pi
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

// Coefficient returns the coefficient of refraction that the two rises of one line
// show, there and back, whose sum is given: they were worked with k₀ already, and what
// is left of their sum is the change of it, k = k₀ + R/HD²·(Δh_AB + Δh_BA). The radius
// is in the unit of the distance. k is worth little on short lines: see CoefficientSD.
// [F13] [F33]
func Coefficient(k0, sum, hd, radius float64) float64 { return k0 + float64(radius*sum/float64(hd*hd)) }

// CoefficientSD returns the standard deviation of a Coefficient from altitudes with the
// standard deviation sdAltitude (seconds) at either end, and heights of instrument and
// target with sdHeight each.
func CoefficientSD(hd, radius, sdAltitude, sdHeight float64) float64 {
	across := hd * sdAltitude / reduce.HalfTurn.Seconds() * math.Pi
	return radius / (hd * hd) * norm(across, across, sdHeight, sdHeight, sdHeight, sdHeight)
}

// Gradient returns the gradient of a line in percent, 100 tan alt. It is
// infinite at ±90°. [S12]
func Gradient(alt reduce.Angle) float64 {
	if alt.Abs() == reduce.QuarterTurn {
		return math.Inf(int(alt / reduce.QuarterTurn))
	}
	return 100 * math.Tan(alt.Radians())
}
