package precision

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// leastRedundancy is the redundancy below which a residual says nothing.
const leastRedundancy = 1e-9

// Deviate returns |v| / (σ·√r), the residual v over its own standard deviation, with
// the standard deviation sigma of one observation (same unit as v) and the redundancy
// number r of this one: Baarda's normal deviate where sigma is stated, Pope's τ where it
// is estimated from the same readings. ok is false where r or sigma is 0: nothing checks
// the reading. [M12] [S1] [S2]
func Deviate(v, r, sigma float64) (w float64, ok bool) {
	if r < leastRedundancy || !(sigma > 0) {
		return 0, false
	}
	return math.Abs(v) / (sigma * math.Sqrt(r)), true
}

// NormalLimit returns the two-sided limit of the normal Deviate at the risk alpha of
// flagging a sound reading: 3.29 at 0.001, 1.96 at 0.05. It returns +Inf where
// alpha is not between 0 and 1. [M12]
func NormalLimit(alpha float64) float64 {
	if !(alpha > 0 && alpha < 1) {
		return math.Inf(1)
	}
	return distuv.UnitNormal.Quantile(1 - alpha/2)
}

// TauLimit returns Pope's critical value for the largest of n residuals with dof
// degrees of freedom at the risk alpha for all of them together:
// τ = t·√ν / √(ν − 1 + t²) with t the 1 − α/2n quantile of Student's distribution
// at ν − 1. It is never above √ν. With ν below 2 the statistic is the same
// whatever the readings are; then it returns +Inf: nothing can be rejected. [M12]
func TauLimit(alpha float64, n, dof int) float64 {
	if !(alpha > 0 && alpha < 1) || n < 1 || dof < 2 {
		return math.Inf(1)
	}
	nu := float64(dof)
	t := studentQuantile(1-alpha/(2*float64(n)), nu-1)
	return t * math.Sqrt(nu) / math.Sqrt(nu-1+float64(t*t))
}

// nonCentrality returns δ, the size of a slip in standard deviations of its own
// residual that the two-sided normal test at the risk alpha finds with the given
// power: 4.13 at 0.001 and 0.80. [M12]
func nonCentrality(alpha, power float64) float64 {
	if !(power > 0 && power < 1) {
		return math.Inf(1)
	}
	return NormalLimit(alpha) + distuv.UnitNormal.Quantile(power)
}

// DetectableError returns the least slip in one reading, in the unit of sigma,
// that the readings could reveal at the risk alpha with the given power: σ·δ/√r.
// +Inf where nothing checks the reading. [M12]
func DetectableError(r, sigma, alpha, power float64) float64 {
	if r < leastRedundancy {
		return math.Inf(1)
	}
	return sigma * nonCentrality(alpha, power) / math.Sqrt(r)
}

// DetectableAfterRounds returns what DetectableError comes to on a station of t
// targets once n complete rounds are booked, every direction being checked alike
// by (n−1)(t−1)/(n·t). It is +Inf for a single round or a single target. [M12]
func DetectableAfterRounds(n, t int, sigma, alpha, power float64) float64 {
	if n < 1 || t < 1 {
		return math.Inf(1)
	}
	return DetectableError(float64(n-1)*float64(t-1)/(float64(n)*float64(t)), sigma, alpha, power)
}

// studentQuantile is the p quantile of Student's distribution.
func studentQuantile(p, nu float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: nu}.Quantile(p)
}
