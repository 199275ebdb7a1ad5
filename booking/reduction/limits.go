package reduction

import (
	"fmt"
	"math"

	"example.org/readback/booking"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/precision"
)

// checkRisk is the risk of one check of a station at which a sound one is held:
// rounds, RO, 2c and index error share one in a hundred.
const checkRisk = 0.0025

// mostLikely is the largest standard deviation of a direction, both faces, in
// seconds, that is believed where none is stated, or half the least count where
// that is more: a limit never gives way further than for an instrument like that
// (assumed).
const mostLikely = 6.0

// A Scale is how closely the directions of a setup are sighted: S is the standard
// deviation of one direction on both faces in one round in seconds, the rounding
// of its readings counted, with Dof degrees of freedom; 0: it is stated. Shown is
// what the readings alone say of it, where it is not stated.
type Scale struct {
	S     float64
	Dof   int
	Shown precision.Spread
	Least float64 // the part of the rounding: readings that all round alike say no less
}

// assumedWeight is what an assumed standard deviation weighs in degrees of freedom
// against what the readings show. It is a guess, so the limits count it as one.
const assumedWeight = 1

// scaleOf returns the scale of the setup: what is stated of the instrument,
//
//	s² = σ² + least count²/24,
//
// else what its earlier setups in the book show (Before), or what is assumed for its
// least count (reduce.AssumedNoise), drawn to what 2c of the pairs shows, those left
// out that Pope's test finds apart. The differences of the faces say nothing of the means,
// so the limits of the rounds are truly held against something else.
func scaleOf(s booking.Setup, used []RoundWork) Scale {
	i := s.Spec.Instrument
	if i.Sigma > 0 {
		return Scale{S: stated(i.Sigma, i.LeastCount)}
	}
	var half []float64 // c in seconds, the first one as zero
	var first *reduce.Angle
	for _, w := range used {
		for _, p := range w.Pairs {
			if !p.HasPair {
				continue
			}
			if first == nil {
				first = &p.TwoC
			}
			half = append(half, (p.TwoC-*first).Wrap().Seconds()/2)
		}
	}
	_, shown := precision.SampleSpread(withoutStrays(half))
	before := s.Spec.Before.Spread()
	shown = precision.Pool(shown, before)
	all := shown
	if before.Dof == 0 {
		assumed := stated(reduce.FromSeconds(reduce.AssumedNoise(i.LeastCount)/math.Sqrt2), i.LeastCount)
		all = precision.Pool(shown, precision.Spread{S: assumed, Dof: assumedWeight})
	}
	least := stated(0, i.LeastCount)
	return Scale{S: math.Max(least, math.Min(all.S, worst(i.LeastCount))), Dof: all.Dof, Shown: shown, Least: least}
}

// Upright returns the scale of altitudes on both faces, and so of index errors: the
// stated one of altitudes, else that of directions, which are judged alike.
func (c Scale) Upright(i spec.Instrument) Scale {
	if i.SigmaUpright > 0 {
		return Scale{S: stated(i.SigmaUpright, i.LeastCount)}
	}
	return c
}

// worst is the scale of the largest standard deviation that is believed.
func worst(leastCount reduce.Angle) float64 {
	return stated(reduce.FromSeconds(math.Max(mostLikely, leastCount.Seconds()/2)), leastCount)
}

// stated returns the scale of a stated σ: two roundings to the least count lie in
// a mean of both faces.
func stated(sigma, leastCount reduce.Angle) float64 {
	lc := leastCount.Seconds()
	return math.Sqrt(float64(sigma.Seconds()*sigma.Seconds()) + float64(lc*lc)/24)
}

// strayRisk is the risk of leaving out a value of sound ones.
const strayRisk = 0.01

// withoutStrays leaves out, one after the other, what stands apart from the rest,
// a third at most.
func withoutStrays(values []float64) []float64 {
	for most := len(values) / 3; most > 0 && len(values) > 3; most-- {
		mean, spread := precision.SampleSpread(values)
		worst := 0
		for k, x := range values {
			if math.Abs(x-mean) > math.Abs(values[worst]-mean) {
				worst = k
			}
		}
		n := float64(len(values))
		if tau, ok := precision.Deviate(values[worst]-mean, (n-1)/n, spread.S); !ok || tau <= tauLimit(strayRisk, len(values), spread.Dof) {
			break
		}
		values = append(values[:worst:worst], values[worst+1:]...)
	}
	return values
}

// usedRounds works the rounds that are neither void nor left out.
func usedRounds(s booking.Setup) []RoundWork { return used(workRounds(s)) }

// used keeps the rounds that are neither void nor left out.
func used(rounds []RoundWork) []RoundWork {
	var kept []RoundWork
	for _, w := range rounds {
		if w.Used() {
			kept = append(kept, w)
		}
	}
	return kept
}

// LimitsNow returns what the readings are held against. A limit that was stated,
// by a contract or the crew, is taken as it is. One of common practice gives way
// to what 9,975 of 10,000 sound setups of this scale, with as many rounds, targets
// and pairs, stay inside, where that is larger (q: the studentised range, z: the
// normal deviate or Student's t):
//
//	rounds         q(1 − 0.0025/targets; rounds) · √2 · s
//	RO misclosure  z(1 − 0.0025/halves) · 2 · s
//	2c             q(1 − 0.0025; pairs) · 2 · s
//	index error    q(1 − 0.0025; vertical pairs) · s
//
// each rounded up to what readings of the least count can make. With the RO closed
// and its mean taken, √2 is √1.5. By repetition the mean of n less the single angle takes
// the place of the misclosure, and √(1 + 1/n) · 2 that of 2.
func LimitsNow(s booking.Setup) spec.Limits {
	used := usedRounds(s)
	return limitsOf(s, used, scaleOf(s, used))
}

// Exceeds tells whether a difference is beyond a limit of today, and which that is.
// What practice allows needs no further work.
func Exceeds(s booking.Setup, a reduce.Angle, pick func(spec.Limits) spec.Limit) (spec.Limit, bool) {
	if l := pick(practice(s)); a.Abs() <= l.Value {
		return l, false
	}
	l := pick(LimitsNow(s))
	return l, a.Abs() > l.Value
}

// practice returns the limits as stated, or as practice has them: those of LimitsNow
// are never smaller.
func practice(s booking.Setup) spec.Limits {
	l := s.Spec.Limits
	if s.AsSaid() {
		return l
	}
	today := spec.DefaultLimits(s.Spec.Instrument.LeastCount)
	for _, x := range []struct{ limit, practice *spec.Limit }{
		{&l.Rounds, &today.Rounds}, {&l.ROMisclosure, &today.ROMisclosure}, {&l.TwoC, &today.TwoC}, {&l.Index, &today.Index},
	} {
		if x.limit.From == spec.CommonPractice {
			x.limit.Value = x.practice.Value
		}
	}
	return l
}

func limitsOf(s booking.Setup, used []RoundWork, scale Scale) spec.Limits {
	l := practice(s)
	if s.AsSaid() {
		return l
	}
	n := count(s, used)
	lc := s.Spec.Instrument.LeastCount
	most := Scale{S: worst(lc)}
	for _, x := range []struct {
		limit  *spec.Limit
		likely func(Scale) float64
		step   reduce.Angle
	}{
		{&l.Rounds, func(c Scale) float64 { return n.rounds(c, s.Spec) }, max(lc/4, 1)},
		{&l.ROMisclosure, n.closing, lc},
		{&l.TwoC, func(c Scale) float64 { return rangeLimit(checkRisk, n.pairs, c.Dof) * 2 * c.S }, lc},
		{&l.Index, func(c Scale) float64 { return rangeLimit(checkRisk, n.verticals, c.Dof) * c.S }, max(lc/2, 1)},
	} {
		if x.limit.From != spec.CommonPractice {
			continue
		}
		scale := scale
		if x.limit == &l.Index {
			scale = scale.Upright(s.Spec.Instrument)
		}
		seconds := x.likely(scale)
		if scale.Dof > 0 {
			seconds = math.Min(seconds, x.likely(most))
		}
		likely := reduce.FromSeconds(seconds)
		if likely = (likely + x.step - 1) / x.step * x.step; likely > x.limit.Value {
			*x.limit = spec.Limit{Value: likely, From: likelyFrom(s, scale)}
		}
	}
	return l
}

// likelyFrom names where a limit came from that is larger than practice.
func likelyFrom(s booking.Setup, scale Scale) string {
	i := s.Spec.Instrument
	if scale.Dof == 0 {
		return fmt.Sprintf("what σ %s makes likely", i.Sigma.FormatSize(i.Unit))
	}
	if n := s.Spec.Before.Setups; n > 0 {
		return fmt.Sprintf("what the scatter of the readings and %d earlier setups of the instrument make likely", n)
	}
	return "what the scatter of the readings makes likely"
}

// counts are the numbers that a limit depends on.
type counts struct {
	used, targets, pairs, verticals, halves int
	apart                                   float64 // of what is held against the limit of a half, per s; see TurnedApart
}

func count(s booking.Setup, used []RoundWork) counts {
	n := counts{used: len(used), targets: len(s.Spec.Targets), apart: 2 * s.Spec.TurnedApart()}
	for _, w := range used {
		for _, p := range w.Pairs {
			if p.HasPair {
				n.pairs++
			}
		}
		n.halves += len(w.Closings) + len(w.Repeated)
	}
	for i := range s.Readings {
		r := &s.Readings[i]
		if r.Slot.Quantity == spec.Vertical && r.Slot.Face == faces.FL && r.Stands() {
			if _, ok := s.At(r.Slot.Pair()); ok {
				n.verticals++
			}
		}
	}
	return n
}

// rounds returns what the spread of a direction over the rounds stays inside.
func (n counts) rounds(c Scale, agreed spec.Spec) float64 {
	apart := math.Sqrt2
	if agreed.CloseHalves && agreed.ClosingRule == faces.ClosingMean {
		apart = math.Sqrt(1.5)
	}
	return rangeLimit(checkRisk/float64(max(n.targets, 1)), n.used, c.Dof) * apart * c.S
}

// closing returns what the misclosure of a half stays inside, or by repetition the mean
// less the single angle.
func (n counts) closing(c Scale) float64 {
	if n.halves == 0 {
		return 0
	}
	risk := checkRisk / float64(n.halves)
	if c.Dof > 0 {
		return studentLimit(risk, c.Dof) * n.apart * c.S
	}
	return precision.NormalLimit(risk) * n.apart * c.S
}
