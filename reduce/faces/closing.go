package faces

import "example.org/readback/reduce"

// A ClosingRule says what becomes of the RO's second pointing in a round.
type ClosingRule uint8

// The closing rules. The numbers are stored: they never change meaning.
const (
	ClosingMean   ClosingRule = 1 // the RO's direction is the mean of its opening and closing means and counts once [F16] [F21]
	ClosingSpread ClosingRule = 2 // the closing error is spread linearly over the round [S5]
)

// String returns "mean" or "spread".
func (r ClosingRule) String() string {
	if r == ClosingSpread {
		return "spread"
	}
	return "mean"
}

// A Pointing is the mean of both faces of one pointing, or a reduced direction.
// OK is false where it was not observed.
type Pointing struct {
	Value reduce.Direction
	OK    bool
}

// A RoundResult is one round reduced to its reference object.
type RoundResult struct {
	RO         reduce.Direction // the RO's direction on the circle
	Directions []Pointing       // of the targets, [0°, 360°)
	Misclosure reduce.Angle     // closing − opening; 0 unless Closed
	Closed     bool             // both RO pointings were observed
}

// ReduceRound reduces a round to the RO. The targets stand in the order of the
// face-left half; one that was not observed keeps its place. With one RO pointing
// only, that one is the RO. With both:
//
//	mean:   RO = the mean of the two, D_j = m_j − RO                [F16]
//	spread: RO = the opening, D_j = m_j − RO − j·s/a, with s the
//	        misclosure and a the intervals round the horizon        [S5]
//
// ok is false where the RO was not observed at all.
func ReduceRound(opening Pointing, targets []Pointing, closing Pointing, rule ClosingRule) (r RoundResult, ok bool) {
	switch {
	case opening.OK:
		r.RO = opening.Value
	case closing.OK:
		r.RO = closing.Value
	default:
		return RoundResult{}, false
	}
	r.Closed = opening.OK && closing.OK
	if r.Closed {
		r.Misclosure = closing.Value.Sub(opening.Value)
	}
	var ramp reduce.Angle
	switch {
	case rule == ClosingSpread:
		ramp = r.Misclosure
	default:
		r.RO = r.RO.Add(r.Misclosure.Half())
	}
	intervals := int64(len(targets) + 1)
	for j, t := range targets {
		if t.OK {
			t.Value = reduce.DirectionAt(t.Value.Sub(r.RO) - (reduce.Angle(j+1) * ramp).Div(intervals))
		}
		r.Directions = append(r.Directions, t)
	}
	return r, true
}
