package check

import (
	"fmt"
	"math"

	"example.org/readback/booking"
	"example.org/readback/booking/reduction"
	"example.org/readback/reduce"
	"example.org/readback/reduce/precision"
)

// A twoCWork is 2c of the used rounds as it is judged.
type twoCWork struct {
	span    *reduction.Span
	modeled bool   // its change with the altitude is taken off
	odd     string // the pair that lies furthest off the mean: "Mast in round 2"
	stands  bool   // the circle of its round still stands

	// Where altitudes are not known: the largest spread at one target, and there.
	unknown bool
	same    reduce.Angle
	at      string
}

// unknownAllows is how far 2c may differ between targets whose altitudes are not
// known: twice a tilt of 15″ at 45° (assumed).
const unknownAllows = 2 * tiltSD * reduce.Arcsecond

// beyond tells whether 2c exceeds its limit. Until altitudes are known it is judged
// by how it repeats at the same target from round to round, and over targets only as
// far as unknown altitudes allow.
func (w twoCWork) beyond(limit reduce.Angle) bool {
	switch {
	case w.span == nil || w.span.Width() <= limit:
		return false
	case !w.unknown:
		return true
	}
	return w.same > limit || w.span.Width() > limit+unknownAllows
}

// Of the change of 2c with the altitude: from which altitude on it is taken off, and
// the standard deviation taken for the tilt of the trunnion axis beforehand, in
// seconds (assumed; the search for suspects takes the same).
const (
	steepFrom = 5 * reduce.Degree
	tiltSD    = 15.0
)

// workTwoC spans 2c over the used rounds. Where the altitudes of all targets are
// booked and one is steep, it is judged after its model,
//
//	2c(h) = 2·(c₀/cos h + i·tan h)  [TRADE]
//
// with c₀ and the tilt i fitted, i no further than the altitudes carry it: a sound
// instrument whose axis is tilted does not hold the tripod for a steep sight.
//
// Altitudes of an earlier occupation serve until those of this one are booked.
func workTwoC(s booking.Setup, r reduction.Reduction) twoCWork {
	altitude := altitudesOf(s, r)
	var w twoCWork
	var y, a, b []float64 // 2c in seconds against the first, 2/cos h, 2·tan h
	type where struct {
		target string
		round  int
	}
	var of []where
	var first *reduce.Angle
	known := true
	for _, x := range r.Comparison.Rounds {
		for _, p := range x.Pairs {
			if !p.HasPair {
				continue
			}
			if first == nil {
				first = &p.TwoC
			}
			h, ok := altitude[p.Target]
			known = known && ok && math.Cos(h) > 0.05
			w.modeled = w.modeled || math.Abs(h) > steepFrom.Radians()
			y = append(y, (p.TwoC - *first).Wrap().Seconds())
			a, b = append(a, 2/math.Cos(h)-2), append(b, 2*math.Tan(h))
			of = append(of, where{p.Target, x.Number})
		}
	}
	if len(y) == 0 {
		return w
	}
	if w.modeled = w.modeled && known && len(y) > 2; w.modeled {
		takeAltitude(y, a, b, first.Seconds()/2, 2*r.Comparison.Scale.S)
	}
	if w.unknown = !known; w.unknown {
		at := map[string]*reduction.Span{}
		for k, v := range y {
			t := of[k].target
			if at[t] = at[t].With(reduce.FromSeconds(v)); at[t].Width() > w.same {
				w.same, w.at = at[t].Width(), t
			}
		}
	}
	mean, _ := precision.SampleSpread(y)
	most, odd := -1.0, 0
	for k, v := range y {
		w.span = w.span.With(reduce.FromSeconds(v))
		if off := math.Abs(v - mean); off > most {
			most, odd = off, k
		}
	}
	w.odd = fmt.Sprintf("%s in round %d", of[odd].target, of[odd].round)
	n := len(s.Rounds)
	w.stands = n > 0 && s.Rounds[n-1].Number == of[odd].round
	return w
}

// altitudesOf are the altitudes of the targets in radians: those booked, else those of
// an earlier occupation.
func altitudesOf(s booking.Setup, r reduction.Reduction) map[string]float64 {
	altitude := map[string]float64{}
	for target, h := range s.Spec.Before.Altitudes {
		altitude[target] = h.Radians()
	}
	for _, v := range r.Verticals {
		if v.HasPair {
			altitude[v.Target] = v.Altitude.Radians()
		}
	}
	return altitude
}

// takeAltitude takes the change with the altitude off 2c: the enlargement of the
// collimation c (seconds), as it is, and the tilt, fitted with its standard
// deviation beforehand; sd is that of one 2c.
func takeAltitude(y, a, b []float64, c, sd float64) {
	n := float64(len(y))
	var sumY, sumB, sumBB, sumBY float64
	for k := range y {
		y[k] -= c * a[k]
		sumY, sumB = sumY+y[k], sumB+b[k]
		sumBB, sumBY = sumBB+float64(b[k]*b[k]), sumBY+float64(b[k]*y[k])
	}
	tilt := (sumBY - sumB*sumY/n) / (sumBB - sumB*sumB/n + sd*sd/(tiltSD*tiltSD))
	for k := range y {
		y[k] -= tilt * b[k]
	}
}

// TwoC returns the check of 2c of a reduction of this setup, as the verdict has it, and
// what of 2c is judged; nil where no pair is complete.
func TwoC(s booking.Setup, r reduction.Reduction) (Check, *reduction.Span) {
	w := workTwoC(s, r)
	return checkTwoC(s, r, w), w.span
}

// checkTwoC holds the spread of 2c against its limit, and names the odd pair.
func checkTwoC(s booking.Setup, r reduction.Reduction, w twoCWork) Check {
	of := "2c"
	if w.modeled {
		of = "2c, its change with the altitude taken off,"
	}
	limit, unit := r.Comparison.Limits.TwoC, s.Spec.Instrument.Unit
	again := "observe " + w.odd + " again, on both faces"
	if !w.stands {
		again = w.odd + " lies furthest off: observe another round at the next circle setting"
	}
	c := checkSpan(s, "2c", of, w.span, limit, again)
	if c.Name == "" || c.Met || !w.unknown {
		return c
	}
	switch width, most := w.span.Width().SizeAgainst(limit.Value, unit); {
	case w.same > limit.Value:
		width, most = w.same.SizeAgainst(limit.Value, unit)
		c.Text = fmt.Sprintf("2c at %s differs by %s from round to round, limit %s.", w.at, width, most)
	case w.beyond(limit.Value):
		c.Text = fmt.Sprintf("The spread of 2c over the setup is %s, limit %s, and %s more while altitudes are not known.", width, most, seconds(s, unknownAllows))
	default:
		c.Met, c.Again = true, ""
		c.Text = fmt.Sprintf("The spread of 2c over the setup is %s, and its limit %s at one target: altitudes are not known yet; they may account for %s of it.", width, most, seconds(s, unknownAllows))
	}
	return c
}
