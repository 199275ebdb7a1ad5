package booking

import (
	"slices"

	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// A Phase is where in the programme a setup stands.
type Phase uint8

// The phases, in order.
const (
	InRounds    Phase = 1
	InVerticals Phase = 2
	InDistances Phase = 3
	AtVerdict   Phase = 4 // nothing is left to call: lift, or observe again
	AfterLift   Phase = 5
)

// A Prompt is what is keyed next and what the observer does for it.
type Prompt struct {
	Phase Phase
	Slot  Slot

	// SetCircle: the circle is set from From inclusive to To exclusive before
	// the sight; first sight of a round only.
	SetCircle bool
	From, To  reduce.Angle

	Transit   bool // the telescope is transited before this sight
	Again     bool // it was booked before and struck
	Returning bool // it was hidden before and is called again
	Extra     bool // a round beyond those planned, because the rounds disagree or are incomplete
}

// VerticalSlots returns the vertical circle readings in observed order.
func (s Spec) VerticalSlots(face faces.Face) []Slot {
	var slots []Slot
	if !s.Verticals {
		return nil
	}
	for _, t := range s.Sighted() {
		if !slices.Contains(s.NoVertical, t) {
			slots = append(slots, Slot{Quantity: Vertical, Face: face, Target: t})
		}
	}
	if face == faces.FR {
		slices.Reverse(slots)
	}
	return slots
}

// DistanceSlots returns the instrument height, which is called here only where
// it was not measured before the first sight, and the distances and target
// heights, in the order read.
func (s Spec) DistanceSlots() []Slot {
	if !s.Distances {
		return nil
	}
	slots := []Slot{{Quantity: InstrumentHeight}}
	for _, t := range s.Sighted() {
		if !slices.Contains(s.NoDistance, t) {
			slots = append(slots, Slot{Quantity: Slope, Target: t}, Slot{Quantity: TargetHeight, Target: t})
		}
	}
	return slots
}

// Expect returns what is called next. It is a function of the state alone, so a
// book opened again stands at the pointing where it was left.
func (s Setup) Expect() Prompt {
	if s.Lift != nil || s.Void != nil {
		return Prompt{Phase: AfterLift}
	}
	if slot, back, ok := s.expectHalf(); ok {
		return s.PromptFor(InRounds, slot, back)
	}
	if p, ok := s.expectRound(); ok {
		return p
	}
	if slot, ok := s.expectRepeat(); ok {
		return s.PromptFor(InVerticals, slot, false)
	}
	for _, face := range []faces.Face{faces.FL, faces.FR} {
		if slot, back, ok := s.nextOpen(s.Spec.VerticalSlots(face)); ok {
			return s.PromptFor(InVerticals, slot, back)
		}
	}
	if slot, back, ok := s.nextOpen(s.distancesCalled()); ok {
		return s.PromptFor(InDistances, slot, back)
	}
	return Prompt{Phase: AtVerdict}
}

// expectRound returns the next pointing of the rounds. Only the latest round is
// completed: once the circle has been set anew, an earlier one cannot be.
func (s Setup) expectRound() (Prompt, bool) {
	latest := s.latestRound()
	if latest != nil && latest.LeftOut == nil {
		for _, sweep := range s.Spec.Sweeps(latest.Number) {
			if slot, back, ok := s.nextOpen(calledIn(*latest, sweep)); ok {
				return s.PromptFor(InRounds, slot, back), true
			}
		}
	}
	want, extra := s.wantsRound()
	if !want {
		return Prompt{}, false
	}
	first := s.Spec.Sweeps(len(s.Rounds) + 1)[0][0]
	p := s.PromptFor(InRounds, first, false)
	p.Extra = extra
	return p, true
}

// calledIn keeps the pointings of a sweep that are called: those of the agreement,
// without the targets that were added too late for the round.
func calledIn(r Round, sweep []Slot) []Slot {
	return slices.DeleteFunc(sweep, func(k Slot) bool { return slices.Contains(r.Without, k.Target) })
}

// distancesCalled returns the distances and heights called: a target height serves
// nothing where its distance is blocked.
func (s Setup) distancesCalled() []Slot {
	return slices.DeleteFunc(s.Spec.DistanceSlots(), func(k Slot) bool {
		_, blocked := s.Skipped(Slot{Quantity: Slope, Target: k.Target})
		return k.Quantity == TargetHeight && blocked
	})
}

// latestRound returns the last round that is not void, or nil.
func (s Setup) latestRound() *Round {
	for i := len(s.Rounds) - 1; i >= 0; i-- {
		if s.Rounds[i].Void == nil {
			return &s.Rounds[i]
		}
	}
	return nil
}

// mostRounds is the number of rounds called without being asked for: after them
// the crew compares which rounds agree, or asks for another.
const mostRounds = 4

// wantsRound tells whether another round is called, all begun ones being
// complete as far as they go; extra says that it goes beyond the plan.
func (s Setup) wantsRound() (want, extra bool) {
	begun := 0
	for _, r := range s.Rounds {
		if r.Void == nil {
			begun++
		}
	}
	switch {
	case begun < max(s.Spec.Rounds, LeastRounds):
		return true, false
	case begun < s.asked:
		return true, true
	case begun >= max(mostRounds, s.Spec.Rounds):
		return false, false
	}
	used := s.usedRounds()
	c := s.compare(used, s.practice())
	if !c.Agrees {
		c = s.comparison(used)
	}
	return !c.Agrees || len(c.Complete) < LeastRounds, true
}

// nextOpen returns the first slot that is neither booked nor passed over; when
// there is none, the first that was passed over for now (back is true).
func (s Setup) nextOpen(slots []Slot) (slot Slot, back, ok bool) {
	for _, k := range slots {
		if passed, _ := s.passed(k); passed {
			continue
		}
		if _, booked := s.At(k); !booked {
			return k, false, true
		}
	}
	for _, k := range slots {
		if _, blocked := s.passed(k); blocked {
			continue
		}
		if _, booked := s.At(k); !booked {
			return k, true, true
		}
	}
	return Slot{}, false, false
}

// passed tells whether a slot was passed over, and whether it is blocked. Target by
// target, what is hidden on one face is not sighted on the other either.
func (s Setup) passed(k Slot) (over, blocked bool) {
	if len(s.Skips) == 0 {
		return false, false
	}
	times, blocked := s.Skipped(k)
	if s.Spec.Order == ByTarget && k.Quantity == Horizontal {
		if _, booked := s.At(k.Pair()); !booked {
			more, hidden := s.Skipped(k.Pair())
			times, blocked = times+more, blocked || hidden
		}
	}
	if k.Quantity == Accumulated { // without its single sight an angle is not repeated
		k.Quantity = Horizontal
		if _, booked := s.At(k); !booked {
			more, hidden := s.Skipped(k)
			times, blocked = times+more, blocked || hidden
		}
	}
	return times > 0, blocked
}

// PromptFor fills in what the observer does before the sight.
func (s Setup) PromptFor(phase Phase, slot Slot, back bool) Prompt {
	p := Prompt{Phase: phase, Slot: slot, Returning: back}
	for _, r := range s.Readings {
		p.Again = p.Again || r.Slot == slot && !r.Stands()
	}
	if slot.Quantity == Horizontal && slot.Face == faces.FL && !s.AnyIn(slot.Round) {
		setting := s.NextSetting()
		if r, begun := s.Round(slot.Round); begun {
			setting = r.Setting
		}
		p.From, p.To, p.SetCircle = s.Spec.CircleStart(setting)
	}
	if last, ok := s.lastAngular(); ok && slot.Quantity.Angular() {
		p.Transit = last.Slot.Face != slot.Face
	}
	return p
}

// AnyIn tells whether a standing horizontal reading of the round is booked.
func (s Setup) AnyIn(round int) bool {
	return slices.ContainsFunc(s.Readings, func(r Reading) bool {
		return r.Stands() && r.Slot.Quantity == Horizontal && r.Slot.Round == round
	})
}

// lastAngular returns the circle reading booked last, struck or not: it tells
// on which face the telescope is.
func (s Setup) lastAngular() (Reading, bool) {
	for i := len(s.Readings) - 1; i >= 0; i-- {
		if s.Readings[i].Slot.Quantity.Angular() {
			return s.Readings[i], true
		}
	}
	return Reading{}, false
}

// LeastRounds is the least number of complete rounds that agree before the
// tripod may be lifted (common practice).
const LeastRounds = 2

// NextSetting returns the circle setting of the round that would be begun next.
func (s Setup) NextSetting() int {
	setting := 1
	for _, r := range s.Rounds {
		if r.Void == nil {
			setting++
		}
	}
	return setting
}
