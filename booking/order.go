package booking

import (
	"fmt"
	"slices"

	"example.org/readback/reduce"
)

// An Order is in which order the pointings of a round are observed. The numbers
// are stored: they never change meaning.
type Order uint8

// The orders.
const (
	// ByHalves: face left from the RO clockwise, then face right in reverse order,
	// back to the RO (common practice; the order of a setup that says nothing).
	ByHalves Order = 0
	// ByTarget: every target on face left, then at once on face right, clockwise
	// from the RO (common practice where the tripod may turn, or the air changes
	// quickly: the two faces of a pair lie a minute apart).
	ByTarget Order = 1
)

var orderWords = [...]string{"by halves", "target by target"}

// String returns the words of the files: "by halves" or "target by target".
func (o Order) String() string {
	if int(o) < len(orderWords) {
		return orderWords[o]
	}
	return fmt.Sprintf("order %d", uint8(o))
}

// Stretch names what is closed on the RO, and at whose end is called again what was
// passed over in it: a half, or the round.
func (o Order) Stretch() string {
	if o == ByTarget {
		return "round"
	}
	return "half"
}

// ParseOrder reads the words String writes.
func ParseOrder(s string) (Order, error) {
	if i := slices.Index(orderWords[:], s); i >= 0 {
		return Order(i), nil
	}
	return 0, fmt.Errorf("order %q: expected by halves or target by target", s)
}

// Sweeps returns the programme of a round, the pointings in the order observed:
// one list for each stretch at whose end is called again what was passed over in
// it for now. All that depends on the order of observing asks it.
func (s Spec) Sweeps(round int) [][]Slot {
	left := s.faceSlots(round, reduce.FL)
	if s.Order == ByTarget {
		both := make([]Slot, 0, 2*len(left))
		for _, k := range left {
			both = append(both, k, k.Pair())
		}
		return [][]Slot{both}
	}
	right := s.faceSlots(round, reduce.FR)
	slices.Reverse(right)
	return [][]Slot{left, right}
}

// faceSlots returns the pointings of one face, clockwise from the RO.
func (s Spec) faceSlots(round int, face reduce.Face) []Slot {
	slots := make([]Slot, 0, 2*len(s.Targets)+4)
	for _, t := range s.Names() {
		slots = append(slots, Slot{Quantity: Horizontal, Round: round, Face: face, Target: t})
	}
	if s.CloseHalves {
		slots = append(slots, Slot{Quantity: Horizontal, Round: round, Face: face, Target: s.RO, Closing: true})
	}
	return slots
}

// RoundSlots returns the pointings of a round in observed order.
func (s Spec) RoundSlots(round int) []Slot { return slices.Concat(s.Sweeps(round)...) }

// HalfSlots returns the pointings of one face of a round in observed order.
func (s Spec) HalfSlots(round int, face reduce.Face) []Slot {
	slots := s.faceSlots(round, face)
	if face == reduce.FR && s.Order == ByHalves {
		slices.Reverse(slots)
	}
	return slots
}

// SweepOf returns the stretch of the round that a horizontal pointing belongs to, or
// one that is read again as a check.
func (s Spec) SweepOf(k Slot) []Slot {
	k.Repeat = 0
	sweeps := s.Sweeps(k.Round)
	for _, sweep := range sweeps {
		if slices.Contains(sweep, k) {
			return sweep
		}
	}
	return sweeps[0]
}

// Closes tells whether a sight is the one of the RO that closes the readings of
// its face in a round: observed last of them.
func (s Spec) Closes(k Slot) bool {
	if !s.CloseHalves || k.Quantity != Horizontal || k.Target != s.RO {
		return false
	}
	k.Repeat = 0
	half := s.HalfSlots(k.Round, k.Face)
	return half[len(half)-1] == k
}

// follows tells whether the readings of a round that stand were booked one after
// the other in the order of the spec.
func (s Spec) follows(round int, readings []Reading) bool {
	slots, last := s.RoundSlots(round), -1
	for _, r := range readings {
		if r.Slot.Quantity != Horizontal || r.Slot.Round != round || !r.Stands() {
			continue
		}
		at := slices.Index(slots, r.Slot)
		if at < last {
			return false
		}
		last = at
	}
	return true
}
