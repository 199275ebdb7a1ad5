package check

import (
	"math"
	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/check/align"
	"example.org/readback/booking/check/forecast"
	"example.org/readback/booking/event"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// faceStation gives the standing horizontal readings of the rounds that are used
// to the work on single faces.
func faceStation(s *booking.Setup) align.Station {
	agreed := &s.Spec
	st := align.Station{
		Names: agreed.Names(), Unit: agreed.Instrument.Unit, LeastCount: agreed.Instrument.LeastCount,
		Circle: agreed.Instrument.Circle, Sigma: agreed.Instrument.Sigma.Seconds() * math.Sqrt2, Readings: make([]align.Reading, 0, len(s.Readings)),
	}
	place := make(map[string]int, len(st.Names))
	for i, n := range slices.Backward(st.Names) {
		place[n] = i
	}
	again := false
	for i := range s.Readings {
		r := &s.Readings[i]
		if r.Slot.Quantity != spec.Horizontal || !r.Counts() || r.Slot.Round > len(s.Rounds) || !s.Rounds[r.Slot.Round-1].Used() {
			continue
		}
		target, ok := place[r.Slot.Target]
		if !ok {
			target = -1
		}
		st.Readings = append(st.Readings, align.Reading{
			Round: r.Slot.Round, Target: target,
			Face: r.Slot.Face, Closing: r.Slot.Closing, Value: r.Direction(), Keyed: r.Text, Doubted: doubted(r), Again: doubted(r),
		})
		again = again || r.Slot.Repeat > 0
	}
	if again {
		st.Readings = onePerSight(st.Readings)
	}
	for i := range st.Readings {
		if k := rivalOf(st, i); k >= 0 {
			st.Readings[k].Doubted = true
		}
	}
	return st
}

// onePerSight takes the mean of what was read several times of one sight on one
// face: it stands in the place of the first.
func onePerSight(rs []align.Reading) []align.Reading {
	var out []align.Reading
	var sums []reduce.Angle
	var counts []int64
	for _, r := range rs {
		i := slices.IndexFunc(out, func(q align.Reading) bool {
			return q.Round == r.Round && q.Target == r.Target && q.Face == r.Face && q.Closing == r.Closing
		})
		if i < 0 {
			out, sums, counts = append(out, r), append(sums, 0), append(counts, 1)
			continue
		}
		sums[i] += r.Value.Sub(out[i].Value)
		counts[i]++
		out[i].Doubted, out[i].Again = out[i].Doubted || r.Doubted, true
	}
	for i := range out {
		out[i].Value = out[i].Value.Add(sums[i].Div(counts[i]))
	}
	return out
}

// rivalOf returns the one reading that the reading in place i was confirmed against,
// where it is one alone: the other face, or the first sight of the RO in the half.
// It may as well be the one that is wrong. −1: none.
func rivalOf(st align.Station, i int) int {
	r := &st.Readings[i]
	rival := -1
	if !r.Doubted {
		return rival
	}
	for k, q := range st.Readings[:i] {
		switch {
		case q.Target != r.Target:
		case rival >= 0 || q.Round != r.Round:
			return -1
		default:
			rival = k
		}
	}
	return rival
}

// doubted tells whether the reading was confirmed although it did not fit the
// others; a circle set elsewhere is no such doubt.
func doubted(r *booking.Reading) bool {
	return r.Confirmed && slices.ContainsFunc(r.Findings, func(f event.Finding) bool {
		return f.Severity == event.Stop && f.Code != codeCircle && f.Code != codeFace
	})
}

// expectDirection fills in what is expected of a horizontal reading.
func (e *Expectation) expectDirection(known Known) {
	s := &e.setup
	if first, ok := e.first(); ok {
		e.expectSame(first)
		return
	}
	if e.slot.Face == faces.FL && !e.slot.Closing && e.slot.Target == s.Spec.RO && !s.AnyIn(e.slot.Round) {
		e.expectSetting()
		return
	}
	st := faceStation(s)
	st.Readings = slices.DeleteFunc(st.Readings, func(r align.Reading) bool {
		return r.Round == e.slot.Round && st.Names[r.Target] == e.slot.Target &&
			r.Face == e.slot.Face && r.Closing == e.slot.Closing
	})
	e.pairs = grouped(twoCs(st, e.slot), max(s.Spec.Limits.TwoC.Value, reduce.FromSeconds(2*entryFactor*st.Noise())))
	sure := knownDirections(st.Names, known)
	e.known = slices.ContainsFunc(sure, func(k forecast.Known) bool { return st.Names[k.Target] == e.slot.Target })
	e.fit = forecast.New(st, forecast.Before{
		Directions: sure, Collimation: known.Collimation.Value.Seconds(), CollimationSD: known.Collimation.SD,
	})
	for _, x := range e.fit.Reading(e.slot.Round, slices.Index(st.Names, e.slot.Target), e.slot.Face) {
		e.bands = append(e.bands, band{
			centre: x.Reading.Angle(), sd: reduce.FromSeconds(x.SD),
			limit: entryLimit(s.Spec.Limits, s.Spec.Instrument.LeastCount, x.SD),
		})
	}
	if len(e.bands) > 0 {
		e.basis = e.madeOf()
	}
}

func knownDirections(names []string, known Known) []forecast.Known {
	if known.Direction == nil {
		return nil
	}
	var list []forecast.Known
	for i, n := range names[1:] {
		if d, sd, ok := known.Direction(n); ok {
			list = append(list, forecast.Known{Target: i + 1, Direction: d, SD: max(sd, 0.1)})
		}
	}
	return list
}

// settingMargin is how far outside the degree of its circle setting the first
// reading of a round may lie (assumed).
const settingMargin = 2 * reduce.Arcminute

// expectSetting expects the circle setting of the round.
func (e *Expectation) expectSetting() {
	p := programme.PromptFor(e.setup, programme.InRounds, e.slot, false)
	if !p.SetCircle {
		return
	}
	e.basis = onSetting
	half := (p.To - p.From) / 2
	e.bands = []band{{centre: (p.From + half).Normalize(), limit: half + settingMargin}}
}

// madeOf tells what the difference of the reading is best told against.
func (e *Expectation) madeOf() basis {
	s := &e.setup
	if _, ok := s.At(e.slot.Pair()); ok {
		return onPair
	}
	other := e.slot
	other.Closing = !other.Closing
	if _, ok := s.At(other); ok {
		return onClosing
	}
	return onDirections
}

// twoCs lists the 2c of the pairs of a station, that of the slot left out.
func twoCs(st align.Station, but spec.Slot) []pairError {
	type sight struct {
		round, target int
		closing       bool
	}
	left := make(map[sight]reduce.Direction, len(st.Readings)/2+1)
	list := make([]pairError, 0, len(st.Readings)/2)
	for _, face := range [2]faces.Face{faces.FL, faces.FR} {
		for _, r := range st.Readings {
			k := sight{r.Round, r.Target, r.Closing}
			if r.Face != face || r.Round == but.Round && r.Closing == but.Closing && st.Names[r.Target] == but.Target {
				continue
			}
			if l, ok := left[k]; face == faces.FR && ok {
				list = append(list, pairError{st.Names[r.Target], faces.TwoC(l, r.Value)})
			}
			if face == faces.FL {
				left[k] = r.Value
			}
		}
	}
	return list
}
