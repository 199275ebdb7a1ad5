package booking

import (
	"example.org/readback/reduce"
)

// A PairWork is one pointing of a round worked: both faces side by side.
type PairWork struct {
	Target       string
	Closing      bool
	FL, FR       *Reading // nil: not booked
	TwoC         reduce.Angle
	Mean         reduce.Direction // on the face-left frame, [0, full circle)
	Direction    reduce.Direction // to the RO, [0, full circle)
	HasPair      bool             // both faces stand: TwoC and Mean have a meaning
	HasDirection bool             // the RO of the round has a mean: Direction has a meaning
}

// A RoundWork is one round worked on its own.
type RoundWork struct {
	Round
	Pairs    []PairWork // in face-left order, the closing one last
	RO       reduce.Direction
	HasRO    bool
	Complete bool // every pointing booked on both faces
	// Misclosure of each half, closing − opening, where the half is closed.
	ClosingFL, ClosingFR *reduce.Angle
}

// Direction returns the reduced direction of a target in this round.
func (w RoundWork) Direction(target string) (reduce.Direction, bool) {
	for _, p := range w.Pairs {
		if p.Target == target && !p.Closing && p.HasDirection {
			return p.Direction, true
		}
	}
	return reduce.Direction{}, false
}

// WorkRound works one round: 2c and mean of every pair, the RO's direction by
// the closing rule of the setup, and every direction reduced to it.
func (s Setup) WorkRound(r Round) RoundWork {
	w := RoundWork{Round: r, Complete: true}
	of := s.ofRound(r.Number)
	for _, slot := range s.Spec.HalfSlots(r.Number, reduce.FL) {
		p := of.workPair(slot)
		w.Complete = w.Complete && p.HasPair
		w.Pairs = append(w.Pairs, p)
	}
	w.reduceToRO(s.Spec)
	w.ClosingFL = of.misclosure(r.Number, reduce.FL, s.Spec.RO)
	w.ClosingFR = of.misclosure(r.Number, reduce.FR, s.Spec.RO)
	return w
}

// A counted list holds the readings of one round that go into its means: a large
// setup is not searched for each of them.
type counted []*Reading

// ofRound lists the readings of a round that go into its means.
func (s *Setup) ofRound(number int) counted {
	list := make(counted, 0, 2*len(s.Spec.Targets)+4)
	for i := range s.Readings {
		if r := &s.Readings[i]; r.Slot.Round == number && r.Slot.Quantity == Horizontal && r.Counts() {
			list = append(list, r)
		}
	}
	return list
}

// at returns the reading of a slot, nil where there is none.
func (c counted) at(slot Slot) *Reading {
	for _, r := range c {
		if r.Slot == slot {
			return r
		}
	}
	return nil
}

func (c counted) workPair(slot Slot) PairWork {
	p := PairWork{Target: slot.Target, Closing: slot.Closing}
	p.FL, p.FR = c.at(slot), c.at(slot.Pair())
	if p.FL != nil && p.FR != nil {
		p.HasPair = true
		p.TwoC = reduce.TwoC(p.FL.Direction(), p.FR.Direction())
		p.Mean = reduce.PairMean(p.FL.Direction(), p.FR.Direction())
	}
	return p
}

// reduceToRO fills in the RO's direction of the round and every direction to it.
func (w *RoundWork) reduceToRO(spec Spec) {
	var opening, closing reduce.Pointing
	var targets []reduce.Pointing
	for _, p := range w.Pairs {
		sight := reduce.Pointing{Value: p.Mean, OK: p.HasPair}
		switch {
		case p.Closing:
			closing = sight
		case p.Target == spec.RO:
			opening = sight
		default:
			targets = append(targets, sight)
		}
	}
	r, ok := reduce.ReduceRound(opening, targets, closing, spec.ClosingRule)
	if !ok {
		return
	}
	w.RO, w.HasRO = r.RO, true
	for i := range w.Pairs {
		p := &w.Pairs[i]
		p.HasDirection = p.HasPair
		if p.HasPair && p.Target != spec.RO {
			p.Direction = r.Directions[i-1].Value
		}
	}
}

// misclosure returns closing − opening of the RO in a half, nil where either is
// not booked.
func (c counted) misclosure(round int, face reduce.Face, ro string) *reduce.Angle {
	slot := Slot{Quantity: Horizontal, Round: round, Face: face, Target: ro}
	opening := c.at(slot)
	slot.Closing = true
	closing := c.at(slot)
	if opening == nil || closing == nil {
		return nil
	}
	m := closing.Direction().Sub(opening.Direction())
	return &m
}

// workRounds works every round begun, void ones too.
func (s Setup) workRounds() []RoundWork {
	var ws []RoundWork
	for _, r := range s.Rounds {
		ws = append(ws, s.WorkRound(r))
	}
	return ws
}
