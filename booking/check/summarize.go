package check

import (
	"example.org/readback/booking"
	"example.org/readback/booking/day"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/reduction"
	"example.org/readback/reduce"
)

// Summarize returns the summary of the setup as it stands.
func Summarize(s booking.Setup) day.Summary {
	r := reduction.Of(s)
	m := day.Summary{
		Setup: s.Number, Station: s.Spec.Station, RO: s.Spec.RO, Targets: s.Spec.Targets,
		Instrument: s.Spec.Instrument, Observer: s.Spec.Observer, Booker: s.Spec.Booker,
		Opened: s.Opened, State: StateOf(s, r), Readings: len(s.Readings),
		S0: r.S0, Dof: r.Dof, Low: r.Low, TwoC: r.TwoC, Index: r.Index, Figure: s.Spec.Limits.Figure,
		Paper: s.Spec.KeyedAfterwards != nil, Refraction: s.Spec.Refraction,
	}
	scaled := false
	if d := s.Spec.Making; d != nil {
		m.AtSeaLevel, scaled = d.SeaLevel != nil, d.Scale != 0
	}
	m.Scaled = &scaled
	if s.Lift != nil {
		at := s.Lift.At
		m.Lifted = &at
	}
	if from, to, ok := s.Observed(); ok {
		m.From, m.To = &from, &to
	}
	m.Collim, m.IndexMean = meanErrors(r)
	if s.Void == nil {
		m.Sights = sightLines(s.Spec.RO, r)
	}
	return m
}

// StateOf names where the setup stands for the work list.
func StateOf(s booking.Setup, r reduction.Reduction) string {
	switch {
	case s.Void != nil:
		return day.StateStruck
	case s.Lift != nil && s.Lift.Despite != "":
		return day.StateLiftedOnHold
	case s.Lift != nil:
		return day.StateLifted
	case len(s.Readings) == 0 || programme.Expect(s).Phase != programme.AtVerdict:
		return day.StateOpen
	}
	return JudgeReduction(s, r).Word()
}

// meanErrors returns the mean collimation of the rounds that are used, and the mean
// index error.
func meanErrors(r reduction.Reduction) (c, index reduce.Angle) {
	var sum reduce.Angle
	var n int64
	for _, w := range r.Comparison.Rounds {
		for _, p := range w.Pairs {
			if p.HasPair {
				sum += p.TwoC
				n++
			}
		}
	}
	if n > 0 {
		c = sum.Div(2 * n)
	}
	sum, n = 0, 0
	for _, v := range r.Verticals {
		if v.HasPair {
			sum += v.Index
			n++
		}
	}
	if n > 0 {
		index = sum.Div(n)
	}
	return c, index
}

// sightLines gathers directions, altitudes and distances by target.
func sightLines(ro string, r reduction.Reduction) []day.SightLine {
	lines := make([]day.SightLine, 1, 1+len(r.Directions))
	lines[0] = day.SightLine{Target: ro, Rounds: len(r.Comparison.Rounds)}
	for _, d := range r.Directions {
		lines = append(lines, day.SightLine{Target: d.Target, Direction: d.Direction, SD: d.SD, Rounds: d.Rounds})
	}
	for i := range lines {
		l := &lines[i]
		for _, v := range r.Verticals {
			if v.Target != l.Target {
				continue
			}
			l.Altitude, l.HasAlt = v.Altitude, v.HasPair
			l.Horizontal, l.Rise, l.HasRise = v.Horizontal, v.Rise, v.HasRise
			l.HorizontalSD, l.RiseSD = v.HorizontalSD, v.RiseSD
		}
	}
	return lines
}
