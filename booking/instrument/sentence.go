package instrument

import (
	"fmt"
	"strings"

	"example.org/readback/reduce"
)

// Sentences says what the setup tells of its instrument: collimation and tilt of
// the trunnion axis, the index error, and where altitudes were read that cannot
// separate the first two. None where no pair tells anything.
func (s Sample) Sentences() []string {
	var out []string
	switch {
	case s.Collimation.N == 0:
	case s.Tilt.N > 0:
		out = append(out, fmt.Sprintf("Collimation c₀ %s, tilt of the trunnion axis %s, from %d pairs.",
			s.value(s.Collimation), s.value(s.Tilt), s.Collimation.N))
	default:
		text := fmt.Sprintf("Collimation c₀ %s, from %d pairs.", s.value(s.Collimation), s.Collimation.N)
		if s.Level {
			text += " The altitudes of the targets lie too close together to separate a tilt of the trunnion axis from it."
		}
		out = append(out, text)
	}
	if s.Index.N > 0 {
		out = append(out, fmt.Sprintf("Index error %s, from %d pairs.", s.value(s.Index), s.Index.N))
	}
	return out
}

// value prints a value with its standard deviation where there is one, in the
// small unit of the circle.
func (s Sample) value(v Value) string {
	u := s.Instrument.Unit
	text := signed(v.Seconds, u)
	if v.SD <= 0 {
		return text
	}
	return strings.TrimSuffix(text, reduce.SmallMark(u)) + " ± " + reduce.FormatDeviation(v.SD, u, 1)
}
