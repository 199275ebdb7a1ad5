package spec

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/readback/reduce/faces"
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
	// ByRepetition: one angle, RO and target, and the target again after the angle was
	// turned Repetitions times with the circle carried back to the RO each time. Then the
	// circle is brought back to its first figure on the RO, and face right is the same: so
	// the two faces of a sight still show 2c. The circle counts the sum, and a mean comes
	// finer than it is read (common practice with a repeating theodolite, no source).
	ByRepetition Order = 2
)

// MaxRepetitions is how often an angle is repeated at the most, UsualRepetitions how
// often it usually is (common practice, no source).
const (
	MaxRepetitions   = 24
	UsualRepetitions = 6
)

var orderWords = [...]string{"by halves", "target by target", "repetition"}

// String returns the words of the files: "by halves", "target by target" or
// "repetition".
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

// Ordered says the order of observing in the words of the files: that of String, and
// behind repetition how often, "repetition 6".
func (s Spec) Ordered() string {
	if s.Order == ByRepetition {
		return fmt.Sprintf("%s %d", s.Order, s.Repetitions)
	}
	return s.Order.String()
}

// ParseOrder reads the words Ordered writes: the order, and how often an angle is
// repeated in it.
func ParseOrder(s string) (o Order, repetitions int, err error) {
	if times, ok := strings.CutPrefix(s, ByRepetition.String()+" "); ok {
		if repetitions, err = strconv.Atoi(times); err == nil && repetitions >= 2 && repetitions <= MaxRepetitions {
			return ByRepetition, repetitions, nil
		}
	}
	if i := slices.Index(orderWords[:ByRepetition], s); i >= 0 {
		return Order(i), 0, nil
	}
	return 0, 0, fmt.Errorf("order %q: expected by halves, target by target or repetition with 2 to %d behind it", s, MaxRepetitions)
}

// Sweeps returns the programme of a round, the pointings in the order observed:
// one list for each stretch at whose end is called again what was passed over in
// it for now. All that depends on the order of observing asks it.
func (s Spec) Sweeps(round int) [][]Slot {
	left := s.faceSlots(round, faces.FL)
	if s.Order == ByTarget {
		both := make([]Slot, 0, 2*len(left))
		for _, k := range left {
			both = append(both, k, k.Pair())
		}
		return [][]Slot{both}
	}
	return [][]Slot{left, s.HalfSlots(round, faces.FR)}
}

// faceSlots returns the pointings of one face, clockwise from the RO: the names that
// close it come last, clockwise again; of a repeated angle, the sum behind the sight.
func (s Spec) faceSlots(round int, face faces.Face) []Slot {
	slots := make([]Slot, 0, 2*len(s.Targets)+4+2*len(s.MoreROs))
	for _, t := range s.Names() {
		slots = append(slots, Slot{Quantity: Horizontal, Round: round, Face: face, Target: t})
		if s.Order == ByRepetition && t != s.RO {
			slots = append(slots, Slot{Quantity: Accumulated, Round: round, Face: face, Target: t})
		}
	}
	for _, t := range s.Closers() {
		slots = append(slots, Slot{Quantity: Horizontal, Round: round, Face: face, Target: t, Closing: true})
	}
	return slots
}

// RoundSlots returns the pointings of a round in observed order.
func (s Spec) RoundSlots(round int) []Slot { return slices.Concat(s.Sweeps(round)...) }

// HalfSlots returns the pointings of one face of a round in observed order.
func (s Spec) HalfSlots(round int, face faces.Face) []Slot {
	slots := s.faceSlots(round, face)
	if face == faces.FR && s.Order == ByHalves {
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

// Closers returns what the readings of one face close on, clockwise: the RO and the
// further reference objects; nothing where they are not closed.
func (s Spec) Closers() []string {
	if !s.CloseHalves {
		return nil
	}
	names := append(make([]string, 0, 1+len(s.MoreROs)), s.RO)
	for _, t := range s.Targets {
		if slices.Contains(s.MoreROs, t) {
			names = append(names, t)
		}
	}
	return names
}

// closesOn tells whether a name is sighted again to close the readings of a face.
func (s Spec) closesOn(name string) bool {
	return name == s.RO || slices.Contains(s.MoreROs, name)
}

// Closes tells whether a sight is the one of a reference object that closes the
// readings of its face in a round: observed later than its other one.
func (s Spec) Closes(k Slot) bool {
	if !s.CloseHalves || k.Quantity != Horizontal || !s.closesOn(k.Target) {
		return false
	}
	return k.Closing == (k.Face == faces.FL || s.Order == ByTarget)
}

// TurnedApart is how many times further the mean of n repetitions and the single angle
// lie apart than two sights of the RO, in standard deviations: √(1 + 1/n), for the
// variance of an angle is that of two sights, and that of the mean the n-th part of it.
// 1 in the other orders.
func (s Spec) TurnedApart() float64 {
	if s.Order != ByRepetition {
		return 1
	}
	return math.Sqrt(1 + 1/float64(max(s.Repetitions, 1)))
}
