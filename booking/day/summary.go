package day

import (
	"time"

	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

// A Summary is what a work list, a figure and an instrument's history need of a
// setup, small enough to be kept beside the events. It is derived and can be
// rebuilt from them.
type Summary struct {
	Setup      int             `json:"setup"`
	Station    string          `json:"station"`
	RO         string          `json:"ro"`
	Targets    []string        `json:"targets"`
	Instrument spec.Instrument `json:"instrument"`
	Observer   string          `json:"observer"`
	Booker     string          `json:"booker"`
	Opened     time.Time       `json:"opened"`
	Lifted     *time.Time      `json:"lifted,omitempty"`
	From       *time.Time      `json:"from,omitempty"` // when the first reading was observed; nil: not known
	To         *time.Time      `json:"to,omitempty"`   // and the last
	State      string          `json:"state"`          // StateOpen and the others
	Readings   int             `json:"readings"`
	Sights     []SightLine     `json:"sights,omitempty"`
	S0         float64         `json:"s0,omitempty"` // seconds
	Dof        int             `json:"dof,omitempty"`
	Low        float64         `json:"low,omitempty"` // what S0 is of the standard deviation of one direction, on average; 0: the same
	TwoC       *reduction.Span `json:"two_c,omitempty"`
	Index      *reduction.Span `json:"index,omitempty"`
	Collim     reduce.Angle    `json:"collimation,omitempty"` // mean c of the setup's pairs
	IndexMean  reduce.Angle    `json:"index_mean,omitempty"`
	Figure     spec.Limit      `json:"figure"`
	Paper      bool            `json:"paper,omitempty"`        // keyed afterwards
	Refraction float64         `json:"refraction"`             // the coefficient its rises were worked with
	AtSeaLevel bool            `json:"at_sea_level,omitempty"` // its distances are reduced to sea level
	Scaled     *bool           `json:"scaled,omitempty"`       // and to the grid, by a scale keyed with them; nil: made before this was said
}

// Where a setup stands. One that was struck whole is in no figure, no work list
// and no sheet.
const (
	StateOpen         = "open" // something is still to be observed
	StateHold         = "hold"
	StateLift         = "lift"
	StateLifted       = "lifted"
	StateLiftedOnHold = "lifted on hold"
	StateStruck       = "struck"
)

// A SightLine is what one setup says of the line to one of its targets, the RO
// included.
type SightLine struct {
	Target     string           `json:"target"`
	Direction  reduce.Direction `json:"direction"` // from the RO
	SD         float64          `json:"sd,omitempty"`
	Altitude   reduce.Angle     `json:"altitude,omitempty"`
	HasAlt     bool             `json:"has_alt,omitempty"`
	Horizontal float64          `json:"horizontal,omitempty"` // metres, 0: not measured
	Rise       float64          `json:"rise,omitempty"`       // metres
	HasRise    bool             `json:"has_rise,omitempty"`

	Rounds       int     `json:"rounds,omitempty"`        // used rounds it was seen in; 0 in a summary kept before this was counted
	HorizontalSD float64 `json:"horizontal_sd,omitempty"` // metres, from what is stated; 0: not stated
	RiseSD       float64 `json:"rise_sd,omitempty"`       // metres, likewise
}
