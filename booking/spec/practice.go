package spec

import "example.org/readback/reduce"

// A Limit is the largest allowed value of a check and where it came from.
type Limit struct {
	Value reduce.Angle `json:"value"`
	From  string       `json:"from"`
}

// Limits are the limits of a setup as its crew opened it. They are part of the
// SetupOpened event, so a replay never judges old readings by other limits.
type Limits struct {
	Rounds       Limit `json:"rounds"`        // spread of one reduced direction over the rounds
	ROMisclosure Limit `json:"ro_misclosure"` // closing − opening of the RO within a half
	TwoC         Limit `json:"two_c"`         // spread of 2c over the setup
	Index        Limit `json:"index"`         // spread of the index error over the setup
	Figure       Limit `json:"figure"`        // per angle; the limit of a figure is Value × √n
}

// CommonPractice is the source printed beside a default limit.
const CommonPractice = "common practice"

// SetByCrew is the source printed beside a limit that the crew changed.
const SetByCrew = "set by the crew"

// DefaultLimits returns the limits common practice gives an instrument of this
// least count:
//
//	rounds agree          10″ at a 5″ least count, else 2 × least count, never under 5″
//	RO misclosure         2 × least count, never under 5″
//	spread of 2c          4 × least count, never under 10″
//	spread of index error half of that: it is half of FL + FR − 360°
//	figure                2 × least count × √n
func DefaultLimits(leastCount reduce.Angle) Limits {
	const s = reduce.Arcsecond
	at := func(a reduce.Angle) Limit { return Limit{Value: a, From: CommonPractice} }
	return Limits{
		Rounds:       at(max(2*leastCount, 5*s)),
		ROMisclosure: at(max(2*leastCount, 5*s)),
		TwoC:         at(max(4*leastCount, 10*s)),
		Index:        at(max(2*leastCount, 5*s)),
		Figure:       at(2 * leastCount),
	}
}
