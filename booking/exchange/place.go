package exchange

import (
	"slices"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// placeRows gives every row its pointing and refuses a pointing that stands
// twice.
func (p *Paper) placeRows() error {
	for _, r := range p.rows {
		r.slot = spec.Slot{Quantity: r.Quantity, Round: r.Round, Face: r.Face, Target: r.Target, Repeat: r.Repeat}
		if r.Quantity == spec.Horizontal && r.Closing {
			r.slot.Closing, p.closed = true, true
		}
		if r.Quantity == spec.Accumulated && !slices.Contains(p.Spec.Targets, r.Target) {
			return p.fault(r, colTarget, "%s has no single sight in setup %d: expected one, and then the accumulated reading", quoted(r.Target), p.Number)
		}
	}
	for n := 1; p.hasRound(n); n++ {
		if err := p.placeClosing(n); err != nil {
			return err
		}
	}
	if err := p.placeHeights(); err != nil {
		return err
	}
	standing := make(map[spec.Slot]*row, len(p.rows))
	for _, r := range p.rows {
		if !p.stands(r) {
			continue
		}
		if first := standing[r.slot]; first != nil {
			return p.fault(r, colTarget, "%s of setup %d stands on line %d already: expected each once, or one of them struck",
				r.slot, p.Number, first.Line)
		}
		standing[r.slot] = r
	}
	return nil
}

func (p *Paper) hasRound(n int) bool {
	return slices.ContainsFunc(p.rows, func(r *row) bool { return r.Round == n })
}

// placeHeights marks the instrument height measured again: the second that
// stands, with the struck ones before it.
func (p *Paper) placeHeights() error {
	var rows []*row
	for _, r := range p.rows {
		if r.Quantity == spec.InstrumentHeight && r.Repeat == 0 {
			rows = append(rows, r)
		}
	}
	sights := p.sights(rows)
	for i, s := range sights {
		if i > 1 && p.stands(s[len(s)-1]) {
			return p.fault(s[len(s)-1], colQuantity, "a third instrument height of setup %d, after lines %d and %d: expected one, and one measured again",
				p.Number, sights[0][len(sights[0])-1].Line, sights[1][len(sights[1])-1].Line)
		}
		for _, r := range s {
			r.slot.Closing = i > 0
		}
	}
	return nil
}

// recognizeCircle tells from the vertical pairs that stand how the circle is
// graduated: zenith unless every pair says horizon.
func (p *Paper) recognizeCircle() faces.Circle {
	const tolerance = 10 * reduce.Degree
	left := map[spec.Slot]*row{}
	horizon := 0
	for _, r := range p.rows {
		if r.Quantity != spec.Vertical || !p.stands(r) {
			continue
		}
		pair := spec.Slot{Target: r.Target, Repeat: r.Repeat}
		other := left[pair]
		if other == nil {
			left[pair] = r
			continue
		}
		c, ok := faces.RecognizeCircle(reduce.Angle(other.Value), reduce.Angle(r.Value), tolerance)
		if !ok || c != faces.Horizon {
			return faces.Zenith
		}
		horizon++
	}
	if horizon > 0 {
		return faces.Horizon
	}
	return faces.Zenith
}
