package exchange

import (
	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/faces"
)

// An order puts the readings of a setup in the order to be written: see Rows.
type order struct {
	s        booking.Setup
	reversed map[int]bool // by round: face right begins with the closing sight
}

// inOrder returns the readings in the order to be written, mostly as booked.
func inOrder(s booking.Setup) []booking.Reading {
	o := order{s: s, reversed: map[int]bool{}}
	if s.Spec.CloseHalves && s.Spec.Order == spec.ByHalves {
		for _, r := range s.Rounds {
			o.reversed[r.Number] = o.isReversed(r.Number)
		}
	}
	if !o.differs() {
		return s.Readings
	}
	return o.readings()
}

// isReversed tells what a reader will take the order of a face-right half for.
func (o order) isReversed(round int) bool {
	right := o.half(round, faces.FR)
	own, all := o.lean(right), 0
	for i := 0; own == 0 && i < len(o.s.Rounds); i++ { // the others are asked where its own order does not tell
		all += o.lean(o.half(o.s.Rounds[i].Number, faces.FR))
	}
	return reversedOrder(own, all, o.half(round, faces.FL), right)
}

// half returns where the readings of a half stand.
func (o order) half(round int, face faces.Face) (at []int) {
	for i, r := range o.s.Readings {
		if k := r.Slot; k.Quantity == spec.Horizontal && k.Repeat == 0 && k.Round == round && k.Face == face && (!k.Closing || k.Target == o.s.Spec.RO) {
			at = append(at, i)
		}
	}
	return at
}

// lean is that of the order in which the readings list their targets.
func (o order) lean(at []int) int {
	targets := make([]int, len(at))
	for i, k := range at {
		targets[i] = slices.Index(o.s.Spec.Targets, o.s.Readings[k].Slot.Target)
	}
	return lean(targets)
}

// isRO tells whether the slot is a sight of the RO in a half.
func (o order) isRO(slot spec.Slot) bool {
	return slot.Quantity == spec.Horizontal && slot.Repeat == 0 && slot.Target == o.s.Spec.RO
}

// leads tells whether the sight of the RO is the one that comes first in its
// half: the opening one on face left, the closing one on a reversed face right.
func (o order) leads(slot spec.Slot) bool {
	return slot.Closing == (slot.Face == faces.FR && o.reversed[slot.Round])
}

// otherSight returns the other sight of the RO in the same half.
func otherSight(slot spec.Slot) spec.Slot {
	slot.Closing = !slot.Closing
	return slot
}

// before tells whether a reading of the slot was booked before reading i.
func (o order) before(i int, slot spec.Slot) bool {
	return slices.ContainsFunc(o.s.Readings[:i], func(r booking.Reading) bool { return r.Slot == slot })
}

// differs tells whether the order booked is not the order to be written.
func (o order) differs() bool {
	first := true
	for i, r := range o.s.Readings {
		if r.Slot.Quantity != spec.Horizontal {
			continue
		}
		ro := o.isRO(r.Slot)
		if first && !ro || ro && (!r.Stands() || o.leads(r.Slot) && o.before(i, otherSight(r.Slot))) {
			return true
		}
		first = false
	}
	return false
}

// readings keeps all readings of one sight of the RO together, the sight that
// leads its half where it was booked first and the other where it was booked
// last, and puts the RO before all other horizontal readings.
func (o order) readings() []booking.Reading {
	var out []booking.Reading
	written := map[spec.Slot]bool{}
	write := func(slot spec.Slot) {
		if written[slot] {
			return
		}
		written[slot] = true
		for _, r := range o.s.Readings {
			if r.Slot == slot {
				out = append(out, r)
			}
		}
	}
	for i, r := range o.s.Readings {
		switch {
		case !o.isRO(r.Slot):
			out = append(out, r)
		case o.leads(r.Slot):
			write(r.Slot)
		case !slices.ContainsFunc(o.s.Readings[i+1:], func(q booking.Reading) bool { return q.Slot == r.Slot }):
			write(otherSight(r.Slot))
			write(r.Slot)
		}
	}
	horizontal := slices.IndexFunc(out, func(r booking.Reading) bool { return r.Slot.Quantity == spec.Horizontal })
	ro := slices.IndexFunc(out, func(r booking.Reading) bool { return o.isRO(r.Slot) })
	if ro > horizontal {
		first := out[ro]
		out = slices.Insert(slices.Delete(out, ro, ro+1), horizontal, first)
	}
	return out
}
