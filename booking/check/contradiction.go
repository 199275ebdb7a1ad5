package check

import (
	"fmt"
	"math"

	"example.org/readback/booking/spec"
	"example.org/readback/booking/spec/field"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/precision"
)

// A Contradiction is a limit that was stated and holds more sound stations than it
// can be meant to: it contradicts the stated σ.
type Contradiction struct {
	Field field.Name
	Share float64 // of sound stations held, 0 to 1
	Text  string  // one sentence
}

// contradicts is the share of sound stations from which on a limit that was stated
// contradicts the stated σ (assumed).
const contradicts = 0.05

// Contradictions holds the limits that a contract or the crew states against the
// stated σ, as the setup is planned: which share of sound stations each would hold.
// A limit of practice gives way and contradicts nothing; without a stated σ nothing
// can be said.
//
//	rounds         1 − P(range of n ≤ limit / (√2·s))^targets
//	RO misclosure  1 − P(|z| ≤ limit / 2s)^halves
//	2c             1 − P(range of n·t ≤ limit / 2s)
//	index error    1 − P(range of t ≤ limit / s)       [QR]
//
// with s² = σ² + least count²/24, n rounds and t sights in a half. The targets share
// their RO, so the first is a little too large.
func Contradictions(s spec.Spec) []Contradiction {
	i := s.Instrument
	if i.Sigma <= 0 || i.LeastCount <= 0 || s.Rounds < spec.LeastRounds || len(s.Targets) == 0 {
		return nil
	}
	lc := i.LeastCount.Seconds() * i.LeastCount.Seconds() / 24
	sd := math.Sqrt(i.Sigma.Seconds()*i.Sigma.Seconds() + lc)
	upright := math.Sqrt(i.AltitudeSigma().Seconds()*i.AltitudeSigma().Seconds() + lc)
	sights, apart := len(s.Names()), math.Sqrt2
	verticals, halves := 0, 0
	if s.CloseHalves {
		sights, halves = sights+1+len(s.MoreROs), 2*s.Rounds*(1+len(s.MoreROs))
		if s.ClosingRule != faces.ClosingSpread {
			apart = math.Sqrt(1.5)
		}
	}
	if s.Order == spec.ByRepetition {
		halves = 2 * s.Rounds
	}
	if s.Verticals {
		verticals = len(s.VerticalSlots(faces.FL))
	}
	var list []Contradiction
	add := func(field field.Name, limit spec.Limit, held float64) {
		if limit.From == spec.CommonPractice || limit.Value <= 0 || held < contradicts {
			return
		}
		text := fmt.Sprintf("The %s contradicts σ %s: %s sound stations would be held.", field, i.Sigma.FormatSize(i.Unit), proportion(held))
		list = append(list, Contradiction{field, held, text})
	}
	beyond := func(limit spec.Limit, scale float64, n int) float64 {
		return 1 - precision.RangeWithin(limit.Value.Seconds()/scale, n)
	}
	l := s.Limits
	add(field.LimitRounds, l.Rounds, 1-math.Pow(1-beyond(l.Rounds, apart*sd, s.Rounds), float64(len(s.Targets))))
	if halves > 0 {
		within := 1 - beyond(l.ROMisclosure, math.Sqrt2*sd*s.TurnedApart(), 2) // the range of two is √2·|z|: closing − opening of one face
		add(field.LimitClosing, l.ROMisclosure, 1-math.Pow(within, float64(halves)))
	}
	add(field.LimitTwoC, l.TwoC, beyond(l.TwoC, 2*sd, s.Rounds*sights))
	if verticals > 1 {
		add(field.LimitIndex, l.Index, beyond(l.Index, upright, verticals))
	}
	return list
}

// proportion says a share in words.
func proportion(share float64) string {
	switch {
	case share > 0.97:
		return "nearly all"
	case share > 0.85:
		return "nine of ten"
	case share > 0.7:
		return "three of four"
	case share > 0.58:
		return "two of three"
	case share > 0.42:
		return "half of all"
	}
	return fmt.Sprintf("one in %.0f of the", 1/share)
}
