package programme

import (
	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
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
	Slot  spec.Slot

	// SetCircle: the circle is set from From inclusive to To exclusive before
	// the sight; first sight of a round only.
	SetCircle bool
	From, To  reduce.Angle

	Transit   bool // the telescope is transited before this sight
	Again     bool // it was booked before and struck
	Returning bool // it was hidden before and is called again
	Extra     bool // a round beyond those planned, because the rounds disagree or are incomplete
}

// Expect returns what is called next. It is a function of the state alone, so a
// book opened again stands at the pointing where it was left.
func Expect(s booking.Setup) Prompt {
	if s.Lift != nil || s.Void != nil {
		return Prompt{Phase: AfterLift}
	}
	if slot, back, ok := s.HalfCalled(); ok {
		return PromptFor(s, InRounds, slot, back)
	}
	if p, ok := expectRound(s); ok {
		return p
	}
	if slot, ok := expectRepeat(s); ok {
		return PromptFor(s, InVerticals, slot, false)
	}
	for _, face := range []faces.Face{faces.FL, faces.FR} {
		if slot, back, ok := s.NextOpen(s.Spec.VerticalSlots(face)); ok {
			return PromptFor(s, InVerticals, slot, back)
		}
	}
	if slot, back, ok := s.NextOpen(distancesCalled(s)); ok {
		return PromptFor(s, InDistances, slot, back)
	}
	return Prompt{Phase: AtVerdict}
}

// expectRound returns the next pointing of the rounds. Only the latest round is
// completed: once the circle has been set anew, an earlier one cannot be.
func expectRound(s booking.Setup) (Prompt, bool) {
	latest := s.LatestRound()
	if latest != nil && latest.LeftOut == nil {
		for _, sweep := range s.Spec.Sweeps(latest.Number) {
			if slot, back, ok := s.NextOpen(latest.Called(sweep)); ok {
				return PromptFor(s, InRounds, slot, back), true
			}
		}
	}
	want, extra := wantsRound(s)
	if !want {
		return Prompt{}, false
	}
	first := s.Spec.Sweeps(len(s.Rounds) + 1)[0][0]
	p := PromptFor(s, InRounds, first, false)
	p.Extra = extra
	return p, true
}

// distancesCalled returns the distances and heights called: a target height serves
// nothing where its distance is blocked.
func distancesCalled(s booking.Setup) []spec.Slot {
	return slices.DeleteFunc(s.Spec.DistanceSlots(), func(k spec.Slot) bool {
		_, blocked := s.Skipped(spec.Slot{Quantity: spec.Slope, Target: k.Target})
		return k.Quantity == spec.TargetHeight && blocked
	})
}

// mostRounds is the number of rounds called without being asked for: after them
// the crew compares which rounds agree, or asks for another.
const mostRounds = 4

// wantsRound tells whether another round is called, all begun ones being
// complete as far as they go; extra says that it goes beyond the plan.
func wantsRound(s booking.Setup) (want, extra bool) {
	begun := 0
	for _, r := range s.Rounds {
		if r.Void == nil {
			begun++
		}
	}
	switch {
	case begun < max(s.Spec.Rounds, spec.LeastRounds):
		return true, false
	case begun < s.Asked:
		return true, true
	case begun >= max(mostRounds, s.Spec.Rounds):
		return false, false
	}
	return !reduction.Enough(s), true
}

// PromptFor fills in what the observer does before the sight.
func PromptFor(s booking.Setup, phase Phase, slot spec.Slot, back bool) Prompt {
	p := Prompt{Phase: phase, Slot: slot, Returning: back}
	for _, r := range s.Readings {
		p.Again = p.Again || r.Slot == slot && !r.Stands()
	}
	if slot.Quantity == spec.Horizontal && slot.Face == faces.FL && !s.AnyIn(slot.Round) {
		setting := s.NextSetting()
		if r, begun := s.Round(slot.Round); begun {
			setting = r.Setting
		}
		p.From, p.To, p.SetCircle = s.Spec.CircleStart(setting)
	}
	if last, ok := lastAngular(s); ok && slot.Quantity.Angular() {
		p.Transit = last.Slot.Face != slot.Face
	}
	return p
}

// lastAngular returns the circle reading booked last, struck or not: it tells
// on which face the telescope is.
func lastAngular(s booking.Setup) (booking.Reading, bool) {
	for i := len(s.Readings) - 1; i >= 0; i-- {
		if s.Readings[i].Slot.Quantity.Angular() {
			return s.Readings[i], true
		}
	}
	return booking.Reading{}, false
}

// expectRepeat returns the other face of a vertical pair that is being repeated.
func expectRepeat(s booking.Setup) (spec.Slot, bool) {
	for _, r := range s.Readings {
		if r.Slot.Repeat == 0 || r.Slot.Quantity != spec.Vertical || !r.Stands() {
			continue
		}
		other := r.Slot.Pair()
		if _, blocked := s.Skipped(other); blocked {
			continue
		}
		if _, booked := s.At(other); !booked {
			return other, true
		}
	}
	return spec.Slot{}, false
}
