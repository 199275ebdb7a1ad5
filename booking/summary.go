package booking

import (
	"time"

	"example.org/readback/reduce"
)

// A Summary is what a work list, a figure and an instrument's history need of a
// setup, small enough to be kept beside the events. It is derived and can be
// rebuilt from them.
type Summary struct {
	Setup      int          `json:"setup"`
	Station    string       `json:"station"`
	RO         string       `json:"ro"`
	Targets    []string     `json:"targets"`
	Instrument Instrument   `json:"instrument"`
	Observer   string       `json:"observer"`
	Booker     string       `json:"booker"`
	Opened     time.Time    `json:"opened"`
	Lifted     *time.Time   `json:"lifted,omitempty"`
	State      string       `json:"state"` // "open", "hold", "lift", "lifted", "lifted on hold"
	Readings   int          `json:"readings"`
	Sights     []SightLine  `json:"sights,omitempty"`
	S0         float64      `json:"s0,omitempty"` // seconds
	Dof        int          `json:"dof,omitempty"`
	TwoC       *Span        `json:"two_c,omitempty"`
	Index      *Span        `json:"index,omitempty"`
	Collim     reduce.Angle `json:"collimation,omitempty"` // mean c of the setup's pairs
	IndexMean  reduce.Angle `json:"index_mean,omitempty"`
	Figure     Limit        `json:"figure"`
	Paper      bool         `json:"paper,omitempty"` // keyed afterwards
	Refraction float64      `json:"refraction"`      // the coefficient its rises were worked with
}

// A SightLine is what one setup says of the line to one of its targets, the RO
// included.
type SightLine struct {
	Target     string       `json:"target"`
	Direction  reduce.Angle `json:"direction"` // from the RO
	SD         float64      `json:"sd,omitempty"`
	Altitude   reduce.Angle `json:"altitude,omitempty"`
	HasAlt     bool         `json:"has_alt,omitempty"`
	Horizontal float64      `json:"horizontal,omitempty"` // metres, 0: not measured
	Rise       float64      `json:"rise,omitempty"`       // metres
	HasRise    bool         `json:"has_rise,omitempty"`
}

// Summary returns the summary of the setup as it stands.
func (s Setup) Summary() Summary {
	r := s.Reduce()
	m := Summary{
		Setup: s.Number, Station: s.Spec.Station, RO: s.Spec.RO, Targets: s.Spec.Targets,
		Instrument: s.Spec.Instrument, Observer: s.Spec.Observer, Booker: s.Spec.Booker,
		Opened: s.Opened, State: s.state(r), Readings: len(s.Readings),
		S0: r.S0, Dof: r.Dof, TwoC: r.TwoC, Index: r.Index, Figure: s.Spec.Limits.Figure,
		Paper: s.Spec.KeyedAfterwards != nil, Refraction: s.Spec.Refraction,
	}
	if s.Lift != nil {
		at := s.Lift.At
		m.Lifted = &at
	}
	m.Collim, m.IndexMean = meanErrors(r)
	m.Sights = sightLines(s.Spec.RO, r)
	return m
}

// state names where the setup stands for the work list.
func (s Setup) state(r Reduction) string {
	switch {
	case s.Lift != nil && s.Lift.Despite != "":
		return "lifted on hold"
	case s.Lift != nil:
		return "lifted"
	case len(s.Readings) == 0 || s.Expect().Phase != AtVerdict:
		return "open"
	}
	return s.VerdictOf(r).Word()
}

// meanErrors returns the mean collimation and the mean index error.
func meanErrors(r Reduction) (c, index reduce.Angle) {
	var sum reduce.Angle
	var n int64
	for _, w := range r.Rounds {
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
func sightLines(ro string, r Reduction) []SightLine {
	lines := []SightLine{{Target: ro}}
	for _, d := range r.Directions {
		lines = append(lines, SightLine{Target: d.Target, Direction: d.Direction, SD: d.SD})
	}
	for i := range lines {
		l := &lines[i]
		for _, v := range r.Verticals {
			if v.Target != l.Target {
				continue
			}
			l.Altitude, l.HasAlt = v.Altitude, v.HasPair
			l.Horizontal, l.Rise, l.HasRise = v.Horizontal, v.Rise, v.HasRise
		}
	}
	return lines
}
