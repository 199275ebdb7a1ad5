package reduction

import (
	"example.org/readback/booking"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// A PairWork is one pointing of a round worked: both faces side by side.
type PairWork struct {
	Target       string
	Closing      bool
	FL, FR       *booking.Reading // the first that count; nil: not booked
	Left, Right  reduce.Direction // of each face: the mean, where the sight was read several times
	SumFL, SumFR *booking.Reading // by repetition, after the last one; nil: not booked
	TwoC         reduce.Angle     // of a repeated angle: of its single sights
	Mean         reduce.Direction // on the face-left frame, [0, full circle)
	Direction    reduce.Direction // to the RO, [0, full circle)
	HasPair      bool             // both faces stand: TwoC and Mean have a meaning
	HasDirection bool             // the RO of the round has a mean: Direction has a meaning
}

// A RoundWork is one round worked on its own.
type RoundWork struct {
	booking.Round
	Pairs    []PairWork // in face-left order, the closing one last
	RO       reduce.Direction
	HasRO    bool
	Complete bool            // every pointing booked on both faces
	Closings []Closing       // of the halves that are closed, by reference object, face left first
	Repeated []RepeatedAngle // by repetition, of the faces that have one, face left first
}

// A Closing is how a half closes on one of its reference objects. The RO's two sights
// go into its direction by the closing rule; the second one of a further reference
// object is a check and goes into no mean.
type Closing struct {
	Target     string
	Face       faces.Face
	Misclosure reduce.Angle // closing − opening
}

// Direction returns the reduced direction of a target in this round.
func (w RoundWork) Direction(target string) (reduce.Direction, bool) { return w.direction(target, 0) }

// direction is Direction, looked for in one place first: usually it is the same in
// every round.
func (w *RoundWork) direction(target string, place int) (reduce.Direction, bool) {
	if place < len(w.Pairs) && w.Pairs[place].Target == target && w.Pairs[place].reduced() {
		return w.Pairs[place].Direction, true
	}
	for i := range w.Pairs {
		if p := &w.Pairs[i]; p.Target == target && p.reduced() {
			return p.Direction, true
		}
	}
	return reduce.Direction{}, false
}

// reduced tells whether the pair says a direction of its target.
func (p *PairWork) reduced() bool { return !p.Closing && p.HasDirection }

// WorkRound works one round: 2c and mean of every pair, the RO's direction by
// the closing rule of the setup, and every direction reduced to it.
func WorkRound(s booking.Setup, r booking.Round) RoundWork {
	return workRound(s, r, byRound(&s)[r.Number], s.Spec.HalfSlots(r.Number, faces.FL))
}

// workRound is WorkRound with the readings that count and the slots of a face-left half.
func workRound(s booking.Setup, r booking.Round, of counted, slots []spec.Slot) RoundWork {
	w := RoundWork{Round: r, Complete: true, Pairs: make([]PairWork, 0, len(slots))}
	var left, right int
	for _, slot := range slots {
		if slot.Round = r.Number; slot.Quantity == spec.Horizontal {
			w.Pairs = append(w.Pairs, of.workPair(slot, &left, &right, s.Repeated))
		}
	}
	w.repeat(of, s)
	for _, p := range w.Pairs {
		w.Complete = w.Complete && p.HasPair
	}
	w.reduceToRO(s.Spec)
	for _, name := range s.Spec.Closers() {
		for _, face := range [2]faces.Face{faces.FL, faces.FR} {
			if m, ok := of.misclosure(r.Number, face, name, s.Repeated); ok {
				w.Closings = append(w.Closings, Closing{name, face, m})
			}
		}
	}
	return w
}

// A counted list holds the readings of one round that go into its means: a large
// setup is not searched for each of them.
type counted []*booking.Reading

// byRound sorts the readings that go into the means of rounds by their round.
func byRound(s *booking.Setup) map[int]counted {
	of := make(map[int]counted, len(s.Rounds))
	for i := range s.Readings {
		if r := &s.Readings[i]; r.Slot.Quantity.OfRound() && r.Counts() {
			list := of[r.Slot.Round]
			if list == nil {
				list = make(counted, 0, 2*len(s.Spec.Targets)+4)
			}
			of[r.Slot.Round] = append(list, r)
		}
	}
	return of
}

// at returns the reading of a slot, nil where there is none. A half is observed in
// its order: the reading is looked for beside the one found last, then everywhere.
func (c counted) at(slot spec.Slot, last *int) *booking.Reading {
	for _, i := range [...]int{*last + 1, *last - 1} {
		if i >= 0 && i < len(c) && c[i].Slot == slot {
			*last = i
			return c[i]
		}
	}
	for i, r := range c {
		if r.Slot == slot {
			*last = i
			return r
		}
	}
	return nil
}

// sight returns the first reading of a sight that counts, and the mean where it was
// read several times; nil where there is none. again: something of the setup was.
func (c counted) sight(slot spec.Slot, last *int, again bool) (*booking.Reading, reduce.Direction) {
	if !again {
		if r := c.at(slot, last); r != nil {
			return r, r.Direction()
		}
		return nil, reduce.Direction{}
	}
	var first *booking.Reading
	var ds []reduce.Direction
	for _, r := range c {
		k := r.Slot
		k.Repeat = 0
		if k != slot {
			continue
		}
		if first == nil || r.Slot.Repeat < first.Slot.Repeat {
			first = r
		}
		ds = append(ds, r.Direction())
	}
	if first == nil {
		return nil, reduce.Direction{}
	}
	return first, sightMean(ds)
}

func (c counted) workPair(slot spec.Slot, left, right *int, again bool) PairWork {
	p := PairWork{Target: slot.Target, Closing: slot.Closing}
	p.FL, p.Left = c.sight(slot, left, again)
	p.FR, p.Right = c.sight(slot.Pair(), right, again)
	if p.FL != nil && p.FR != nil {
		p.HasPair = true
		p.TwoC = faces.TwoC(p.Left, p.Right)
		p.Mean = faces.PairMean(p.Left, p.Right)
	}
	return p
}

// reduceToRO fills in the RO's direction of the round and every direction to it.
func (w *RoundWork) reduceToRO(agreed spec.Spec) {
	var opening, closing faces.Pointing
	var targets []faces.Pointing
	for _, p := range w.Pairs {
		sight := faces.Pointing{Value: p.Mean, OK: p.HasPair}
		switch {
		case p.Closing && p.Target == agreed.RO:
			closing = sight
		case p.Closing:
		case p.Target == agreed.RO:
			opening = sight
		default:
			targets = append(targets, sight)
		}
	}
	r, ok := faces.ReduceRound(opening, targets, closing, agreed.ClosingRule)
	if !ok {
		return
	}
	w.RO, w.HasRO = r.RO, true
	for i := range w.Pairs {
		p := &w.Pairs[i]
		if p.Closing && p.Target != agreed.RO {
			continue
		}
		p.HasDirection = p.HasPair
		if p.HasPair && p.Target != agreed.RO {
			p.Direction = r.Directions[i-1].Value
		}
	}
}

// misclosure returns closing − opening of a reference object in a half; not ok where
// either is not booked.
func (c counted) misclosure(round int, face faces.Face, ro string, again bool) (m reduce.Angle, ok bool) {
	slot := spec.Slot{Quantity: spec.Horizontal, Round: round, Face: face, Target: ro}
	var last int
	first, opening := c.sight(slot, &last, again)
	slot.Closing = true
	second, closing := c.sight(slot, &last, again)
	if first == nil || second == nil {
		return 0, false
	}
	return closing.Sub(opening), true
}

// workRounds works every round begun, void ones too.
func workRounds(s booking.Setup) []RoundWork {
	ws := make([]RoundWork, 0, len(s.Rounds))
	of, slots := byRound(&s), s.Spec.HalfSlots(1, faces.FL)
	for _, r := range s.Rounds {
		ws = append(ws, workRound(s, r, of[r.Number], slots))
	}
	return ws
}
