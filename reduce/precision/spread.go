package precision

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// A Spread is a standard deviation with the degrees of freedom it was found
// with; the unit of S is the caller's (seconds, as a rule).
type Spread struct {
	S   float64
	Dof int
}

// sumSquares returns S²·Dof, the sum of squares the spread was found from.
func (s Spread) sumSquares() float64 { return s.S * s.S * float64(s.Dof) }

// Pool joins the spreads of several stations or series: the sums of squares and
// the degrees of freedom are added, the spreads are not averaged. [S4]
func Pool(spreads ...Spread) Spread {
	vv, dof := 0.0, 0
	for _, s := range spreads {
		vv += s.sumSquares()
		dof += s.Dof
	}
	if dof <= 0 {
		return Spread{}
	}
	return Spread{S: math.Sqrt(vv / float64(dof)), Dof: dof}
}

// Confidence returns the interval that holds the true standard deviation with
// the given probability (0.95): S·√(ν/χ²). It is 0 to +Inf without degrees of
// freedom. [TRADE]
func (s Spread) Confidence(probability float64) (low, high float64) {
	if s.Dof < 1 || !(probability > 0 && probability < 1) {
		return 0, math.Inf(1)
	}
	tail := (1 - probability) / 2
	nu := float64(s.Dof)
	return s.S * math.Sqrt(nu/chiQuantile(1-tail, s.Dof)), s.S * math.Sqrt(nu/chiQuantile(tail, s.Dof))
}

// A Test is the outcome of a statistical test: the statistic, the limits it was
// held against and whether it lies between them.
type Test struct {
	Statistic float64
	Low, High float64 // Low is 0 for a one-sided test
	Passed    bool
	Possible  bool // false without degrees of freedom or without a stated value: nothing was tested
}

func judge(x, low, high float64) Test {
	return Test{Statistic: x, Low: low, High: high, Passed: x >= low && x <= high, Possible: true}
}

// Zero holds a mean with its standard deviation against zero at the risk alpha:
// it must lie within t·sd. [ISO]
func Zero(mean, sd float64, dof int, alpha float64) Test {
	limit := StudentLimit(alpha, dof) * sd
	return judge(mean, -limit, limit)
}

// AgainstStated holds the spread against the stated standard deviation sigma of
// the instrument: S²·ν/σ² must not exceed χ² at 1 − alpha, one-sided. [TRADE] [S15] [M3]
func (s Spread) AgainstStated(sigma, alpha float64) Test {
	if s.Dof < 1 || !(sigma > 0) || !(alpha > 0 && alpha < 1) {
		return Test{}
	}
	return judge(s.sumSquares()/(sigma*sigma), 0, chiQuantile(1-alpha, s.Dof))
}

// Between holds the spread against the stated standard deviation sigma on both
// sides: S²/σ² must lie between the alpha/2 and the 1 − alpha/2 quantile of χ²/ν.
// Too small a spread says that sigma is stated too large. [TRADE]
func (s Spread) Between(sigma, alpha float64) Test {
	if s.Dof < 1 || !(sigma > 0) || !(alpha > 0 && alpha < 1) {
		return Test{}
	}
	nu := float64(s.Dof)
	return judge(s.S*s.S/(sigma*sigma), chiQuantile(alpha/2, s.Dof)/nu, chiQuantile(1-alpha/2, s.Dof)/nu)
}

// Against holds two spreads against each other: S₁²/S₂² must lie between the
// alpha/2 and the 1 − alpha/2 quantile of F(ν₁, ν₂). [ISO]
func (s Spread) Against(other Spread, alpha float64) Test {
	if s.Dof < 1 || other.Dof < 1 || !(other.S > 0) || !(alpha > 0 && alpha < 1) {
		return Test{}
	}
	f := distuv.F{D1: float64(s.Dof), D2: float64(other.Dof)}
	return judge(s.S*s.S/(other.S*other.S), f.Quantile(alpha/2), f.Quantile(1-alpha/2))
}

// StatedFactor returns √(χ²/ν) at 1 − alpha: the spread passes AgainstStated up
// to this many times the stated value. 1.20 at dof 32, alpha 0.05. [ISO]
func StatedFactor(dof int, alpha float64) float64 {
	if dof < 1 || !(alpha > 0 && alpha < 1) {
		return math.Inf(1)
	}
	return math.Sqrt(chiQuantile(1-alpha, dof) / float64(dof))
}

// StudentLimit returns the two-sided limit of Student's t at the risk alpha with
// dof degrees of freedom: 2.04 at 0.05 and 32. They need not be whole: a random
// effect that is let into an adjustment takes a part of one. [ISO]
func StudentLimit[N int | float64](alpha float64, dof N) float64 {
	if dof < 1 || !(alpha > 0 && alpha < 1) {
		return math.Inf(1)
	}
	return studentQuantile(1-alpha/2, float64(dof))
}

// StudentLeast returns what StudentLimit is at least, in a hundredth of the time:
// √(ν(exp(z²/ν) − 1)), z the limit of the normal Deviate at the same risk. By Wallace
// (1959), from memory, √(ν ln(1 + t²/ν)) is never less than the normal deviate that is as
// rare as t. 0 where StudentLimit is +Inf.
func StudentLeast(alpha, dof float64) float64 {
	if dof < 1 || !(alpha > 0 && alpha < 1) {
		return 0
	}
	z := NormalLimit(alpha)
	return math.Sqrt(dof * math.Expm1(z*z/dof))
}

// SampleSpread returns the mean of values and their spread with n − 1 degrees of
// freedom; the mean's own standard deviation is S/√n. [F45]
func SampleSpread(values []float64) (mean float64, s Spread) {
	n := len(values)
	if n == 0 {
		return 0, Spread{}
	}
	for _, x := range values {
		mean += x
	}
	mean /= float64(n)
	if n == 1 {
		return mean, Spread{}
	}
	vv := 0.0
	for _, x := range values {
		vv += float64((x - mean) * (x - mean))
	}
	return mean, Spread{S: math.Sqrt(vv / float64(n-1)), Dof: n - 1}
}

// chiQuantile is the p quantile of χ² with dof degrees of freedom.
func chiQuantile(p float64, dof int) float64 {
	return distuv.ChiSquared{K: float64(dof)}.Quantile(p)
}
