package observer

import (
	"slices"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// A Fault is something that goes wrong each time it is asked for: where, and
// what. What is left out of where means all. So
//
//	{Round: 1, Face: FL, Target: "Mast", By: d}       one reading is off by d
//	{Round: 1, Face: FL, Target: "Mast", Exchanged: true}  two digits of it are exchanged
//	{Round: 1, Face: FL, Target: "Mast", Sighted: "Alder"} a wrong target on one face
//	{Round: 1, Target: "Mast", Sighted: "Alder"}      and on both
//	{Round: 1, Face: FR, By: d}                       a half is shifted
//	{Round: 1, Face: FR, From: 2, By: d}              a kick: its third sight and all after it are off
//	{Each: d}                                         drift: every sight of a round is d further off than the one before
//	{Round: 1, Target: RO, By: d}                     the RO alone is off
//
// and two faults are two slips in one station.
type Fault struct {
	Quantity spec.Quantity // 0: horizontal
	Round    int           // 0: every round
	Face     faces.Face    // NoFace: both
	Target   string        // empty: every one
	From     int           // the first sight of the half (target by target, of the round) that it touches, counted from 0 in the order observed

	By        reduce.Angle // the circle shows so much more
	Each      reduce.Angle // and so much more for every sight made in the round before
	Sighted   string       // what is sighted instead
	Exchanged bool         // two neighbouring digits are exchanged, chosen by the seed
}

// A pointing is what a sight is like with all faults.
type pointing struct {
	sighted   int // index of the line
	off       reduce.Angle
	exchanged bool
}

func (o *Observer) pointing(slot spec.Slot) (pointing, bool) {
	i := o.index(slot.Target)
	if i < 0 {
		return pointing{}, false
	}
	p := pointing{sighted: i}
	for _, f := range o.Faults {
		half, round := o.place(slot, i)
		if !f.touches(slot, half) {
			continue
		}
		p.off += f.By + f.Each*reduce.Angle(round)
		p.exchanged = p.exchanged || f.Exchanged
		if k := o.index(f.Sighted); f.Sighted != "" && k >= 0 {
			p.sighted = k
		}
	}
	return p, true
}

// touches tells whether the fault is one of the slot, whose sight has this place
// in its half.
func (f Fault) touches(slot spec.Slot, place int) bool {
	quantity := f.Quantity
	if quantity == 0 {
		quantity = spec.Horizontal
	}
	return slot.Quantity == quantity &&
		(f.Round == 0 || f.Round == slot.Round) &&
		(f.Face == faces.NoFace || f.Face == slot.Face) &&
		(f.Target == "" || f.Target == slot.Target) &&
		place >= f.From
}

// place returns how many sights are made before this one in its half, or in the
// round where that is observed target by target, and in its round.
func (o *Observer) place(slot spec.Slot, i int) (half, round int) {
	if slot.Quantity.OfRound() {
		for _, sweep := range o.Spec.Sweeps(slot.Round) {
			if half = slices.Index(sweep, slot); half >= 0 {
				return half, round + half
			}
			round += len(sweep)
		}
		return 0, 0
	}
	n := len(o.Lines)
	if slot.Face == faces.FR {
		return n - 1 - i, 2*n - 1 - i
	}
	return i, i
}

// exchanged exchanges two neighbouring digits of a reading that differ, so that
// it is still a reading.
func (o *Observer) exchanged(v reduce.Angle, slot spec.Slot) reduce.Angle {
	r := o.random(slot, 0, 2)
	text := called(v, o.Spec.Instrument)
	for range 40 {
		digits, at := digitsOf(text)
		i := r.IntN(len(digits) - 1)
		digits[i], digits[i+1] = digits[i+1], digits[i]
		if a, err := o.parse(withDigits(text, digits, at)); err == nil && a != v {
			return a
		}
	}
	return v
}
