package spec

import (
	"example.org/readback/reduce"

	"example.org/readback/reduce/precision"
)

// Before is what the book knew when a setup was opened, from the setups before it:
// how closely the instrument is sighted, the altitudes of the targets from earlier
// occupations of the station, and what was set of plausible lengths. It is recorded with the setup, so that a
// replay judges it by the same. What it says nothing of is its zero value.
type Before struct {
	S      float64 `json:"s,omitempty"`      // seconds: of one direction, both faces, one round, pooled over the instrument's setups
	Dof    int     `json:"dof,omitempty"`    // degrees of freedom of S
	Setups int     `json:"setups,omitempty"` // how many they were

	Altitudes map[string]reduce.Angle `json:"altitudes,omitempty"` // by target

	Lengths *Lengths `json:"lengths,omitempty"` // plausible heights and lengths, where the book sets its own
}

// beforeWeight is what the setups before may weigh at most, in degrees of freedom,
// against what the readings of this one show: another day, another air (assumed).
const beforeWeight = 30

// Spread returns what the setups before show of one direction on both faces in one
// round, as far as it counts.
func (b Before) Spread() precision.Spread {
	if !(b.S > 0) || b.Dof < 1 {
		return precision.Spread{}
	}
	return precision.Spread{S: b.S, Dof: min(b.Dof, beforeWeight)}
}
