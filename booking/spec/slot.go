package spec

import (
	"fmt"
	"slices"

	"example.org/readback/reduce/faces"
)

// A Quantity is what a reading is a reading of.
type Quantity uint8

// The quantities. The numbers are stored: they never change meaning.
const (
	Horizontal       Quantity = 1
	Vertical         Quantity = 2
	Slope            Quantity = 3
	TargetHeight     Quantity = 4
	InstrumentHeight Quantity = 5
	// Accumulated is the horizontal circle on a target after its angle was repeated:
	// the first sight of it is the single angle, this one that many times the angle on.
	Accumulated Quantity = 6
)

var quantityWords = [...]string{"", "horizontal", "vertical", "slope", "target height", "instrument height", "accumulated"}

// String returns the word of the readings file: "horizontal", "vertical",
// "slope", "target height", "instrument height" or "accumulated".
func (q Quantity) String() string {
	if int(q) < len(quantityWords) {
		return quantityWords[q]
	}
	return fmt.Sprintf("quantity %d", uint8(q))
}

// ParseQuantity reads the words String writes.
func ParseQuantity(s string) (Quantity, error) {
	for i, w := range quantityWords {
		if i > 0 && w == s {
			return Quantity(i), nil
		}
	}
	return 0, fmt.Errorf("quantity %q: expected horizontal, vertical, slope, target height, instrument height or accumulated", s)
}

// Angular tells whether the reading is a circle reading.
func (q Quantity) Angular() bool { return q.OfRound() || q == Vertical }

// OfRound tells whether the reading is one of the horizontal circle, in a round.
func (q Quantity) OfRound() bool { return q == Horizontal || q == Accumulated }

// A Slot is one place on the page: the pointing a reading belongs to. Slots are
// comparable.
//
// Closing marks the second sight of the reference object in a half; the
// face-right half of a closed round begins with it, so that the closing
// readings of both faces are one pair. For an instrument height it marks the
// one measured again before the tripod is lifted.
//
// Repeat counts the measurements that were made again as a check, without
// striking the first: vertical pairs, distances, heights.
type Slot struct {
	Quantity Quantity   `json:"quantity"`
	Round    int        `json:"round,omitempty"`
	Face     faces.Face `json:"face,omitempty"`
	Target   string     `json:"target,omitempty"`
	Closing  bool       `json:"closing,omitempty"`
	Repeat   int        `json:"repeat,omitempty"` // 0: the first; 1, 2, …: measured again as a check
}

// String names the slot for a message: "round 2 FR Alder (closing), horizontal".
func (s Slot) String() string {
	t := ""
	if s.Round > 0 {
		t = fmt.Sprintf("round %d ", s.Round)
	}
	if s.Face != faces.NoFace {
		t += s.Face.String() + " "
	}
	if s.Target != "" {
		t += s.Target + " "
	}
	if s.Closing && s.Quantity == Horizontal {
		t += "(closing) "
	}
	if s.Closing && s.Quantity == InstrumentHeight {
		t += "measured again, "
	}
	if s.Repeat > 0 {
		return fmt.Sprintf("%s%s, repeat %d", t, s.Quantity, s.Repeat)
	}
	return t + s.Quantity.String()
}

// Pair returns the slot of the same sight on the other face.
func (s Slot) Pair() Slot {
	s.Face = s.Face.Other()
	return s
}

// MaxRepeats is how often a measurement can be made again as a check.
const MaxRepeats = 9

// maxRounds bounds the rounds of a setup, so that a damaged number cannot ask
// for a million of them.
const maxRounds = 99

// Has tells whether the slot is a place on the page of the setup.
func (s *Spec) Has(k Slot) bool {
	if k.Repeat < 0 || k.Repeat > MaxRepeats || k.Repeat > 0 && k.Quantity == InstrumentHeight && k.Closing {
		return false
	}
	named := k.Target == s.RO || slices.Contains(s.Targets, k.Target) ||
		!k.Quantity.OfRound() && slices.Contains(s.HeightsOnly, k.Target)
	faced := k.Face == faces.FL || k.Face == faces.FR
	switch k.Quantity {
	case Horizontal:
		return named && faced && k.Round >= 1 && k.Round <= maxRounds && (!k.Closing || s.closesOn(k.Target))
	case Accumulated:
		return named && faced && s.Order == ByRepetition && k.Target != s.RO && k.Round >= 1 && k.Round <= maxRounds && !k.Closing
	case Vertical:
		return named && faced && k.Round == 0 && !k.Closing
	case Slope, TargetHeight:
		return named && k.Face == faces.NoFace && k.Round == 0 && !k.Closing
	case InstrumentHeight:
		return k.Target == "" && k.Face == faces.NoFace && k.Round == 0
	}
	return false
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

// LeastRounds is the least number of complete rounds that agree before the
// tripod may be lifted (common practice).
const LeastRounds = 2
