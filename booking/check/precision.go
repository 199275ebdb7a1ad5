package check

import (
	"fmt"
	"math"
	"sync"

	"example.org/readback/booking"
	"example.org/readback/booking/reduction"
	"example.org/readback/reduce"
	"example.org/readback/reduce/precision"
)

// Precision is what the spread of a setup's rounds says of the instrument, and
// what the rounds could reveal.
type Precision struct {
	Low, High float64        // seconds: s₀ lies between them with 95 % confidence
	Stated    precision.Test // s₀ against the stated σ, χ² at 5 % risk; not Possible without both
	Sigma     float64        // seconds: the stated σ

	// Detectable is the least slip in one pair, in seconds, that the present
	// rounds reveal with a power of 80 % at a risk of 0.1 %, for the pair it hides
	// in best; +Inf where nothing checks it. Another is the same with one more
	// complete round. Both need a stated σ and are 0 without.
	Detectable, Another float64

	Counted bool // the two sights of the closed RO are counted: s₀ as printed is lower

	Unit reduce.Unit // of the circle: what Sentences prints in
}

// Risk and power of the least slip that can be detected (Baarda's usual choice,
// from memory), and the confidence and risk of the tests of a spread.
const (
	slipRisk, slipPower    = 0.001, 0.80
	confidence, spreadRisk = 0.95, 0.05
)

// PrecisionOf judges a reduction of this setup.
func PrecisionOf(s booking.Setup, r reduction.Reduction) Precision {
	p := Precision{Sigma: s.Spec.Instrument.Sigma.Seconds(), Unit: s.Spec.Instrument.Unit}
	if r.Dof > 0 && r.Low > 0 {
		p.Counted = r.Low < 1
		r.S0 /= r.Low
	}
	spread := precision.Spread{S: r.S0, Dof: r.Dof}
	if r.Dof > 0 {
		p.Low, p.High = confidenceOf(spread)
		p.Stated = spread.AgainstStated(p.Sigma, spreadRisk)
	}
	if p.Sigma > 0 && len(r.Comparison.Rounds) > 0 {
		p.Detectable = precision.DetectableError(r.Least, p.Sigma, slipRisk, slipPower)
		p.Another = precision.DetectableAfterRounds(len(r.Comparison.Rounds)+1, len(s.Spec.Names()), p.Sigma, slipRisk, slipPower)
	}
	return p
}

// confidenceOf returns the interval that holds the true standard deviation. Its ends
// are so many times the spread, and how many takes longer to find than a small station
// to adjust.
func confidenceOf(s precision.Spread) (low, high float64) {
	if f, ok := factors.Load(s.Dof); ok {
		f := f.([2]float64)
		return s.S * f[0], s.S * f[1]
	}
	low, high = precision.Spread{S: 1, Dof: s.Dof}.Confidence(confidence)
	factors.Store(s.Dof, [2]float64{low, high})
	return s.S * low, s.S * high
}

// factors keeps what was worked out, by degrees of freedom. It is a table that is
// filled as it is asked: no answer depends on what is kept.
var factors sync.Map // of int: [2]float64

// Sentences says the precision in whole sentences; none where nothing can be
// said.
func (p Precision) Sentences() []string {
	var out []string
	if p.High > 0 && !math.IsInf(p.High, 1) {
		s0 := "s₀"
		if p.Counted {
			s0 = "s₀, both sights of the closed reference object counted,"
		}
		out = append(out, fmt.Sprintf(s0+" lies between %s and %s with 95 %% confidence.", p.size(p.Low), p.size(p.High)))
	}
	if p.Stated.Possible {
		word := "fits"
		if !p.Stated.Passed {
			word = "is more than fits"
		}
		out = append(out, fmt.Sprintf("The spread %s the stated %s of the instrument: χ² %.1f, limit %.1f at 5 %% risk.",
			word, p.size(p.Sigma), p.Stated.Statistic, p.Stated.High))
	}
	if p.Detectable > 0 {
		out = append(out, p.slipSentence())
	}
	return out
}

func (p Precision) slipSentence() string {
	another := "another complete round would bring that to " + p.size(p.Another)
	if math.IsInf(p.Another, 1) {
		another = "another round alone would not change that"
	}
	if math.IsInf(p.Detectable, 1) {
		return "At least one pair is not checked by any other; " + another + "."
	}
	return fmt.Sprintf("A slip of %s in one pair would show with 80 %% power (σ %s); %s.", p.size(p.Detectable), p.size(p.Sigma), another)
}

// size prints a number of seconds in the small unit of the circle.
func (p Precision) size(seconds float64) string {
	if !p.Unit.Decimal() && seconds >= 10 {
		return reduce.FormatDeviation(seconds, p.Unit, 0)
	}
	return reduce.FormatDeviation(seconds, p.Unit, 1)
}
