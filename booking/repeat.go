package booking

import (
	"slices"

	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
)

// A Repeated is a measurement that was made several times as a check: its mean
// and how far the values lie apart. Lengths are nanometres, angles
// micro-arcseconds.
type Repeated struct {
	Quantity Quantity
	Target   string
	Readings []Reading // those that count; of a vertical circle the face-left ones
	N        int
	Mean     int64
	Spread   int64 // largest less smallest
}

// Again returns the place of one more measurement of what was measured already:
// a direction, a vertical pair, a distance, a height. The first stays as it is. A
// direction is read again only while the circle setting of its round stands.
func (s Setup) Again(slot Slot) (Slot, error) {
	slot.Repeat = 0
	if slot.Quantity == InstrumentHeight && slot.Closing {
		return Slot{}, Refuse(noSuchPlace, "it is the measurement made again already: strike it, then it is called once more")
	}
	if r, ok := s.Round(slot.Round); slot.Quantity.OfRound() && ok {
		switch latest := s.latestRound(); {
		case r.Void != nil:
			return Slot{}, Refuse(roundIsVoid, "round %d is void", r.Number)
		case latest.Number != r.Number && s.Spec.Plan != FreePlan:
			return Slot{}, Refuse(noSuchPlace, "the circle was set anew after round %d: ask for another round", r.Number)
		}
	}
	if !s.hasSlot(slot) {
		return Slot{}, Refuse(noSuchPlace, "%s is not a pointing of this setup", slot)
	}
	for ; slot.Repeat <= MaxRepeats; slot.Repeat++ {
		_, booked := s.At(slot)
		_, pair := s.At(slot.Pair())
		switch {
		case booked || slot.Quantity == Vertical && pair:
		case slot.Repeat == 0:
			return Slot{}, Refuse(noSuchPlace, "%s was not measured yet", slot)
		default:
			return slot, nil
		}
	}
	return Slot{}, Refuse(placeTaken, "it was measured %d times over: that is enough", MaxRepeats)
}

// expectRepeat returns the other face of a vertical pair that is being repeated.
func (s Setup) expectRepeat() (Slot, bool) {
	for _, r := range s.Readings {
		if r.Slot.Repeat == 0 || r.Slot.Quantity != Vertical || !r.Stands() {
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
	return Slot{}, false
}

// repeats returns the readings of a place and of its repetitions that count.
func (s Setup) repeats(slot Slot) []Reading {
	var rs []Reading
	for slot.Repeat = 0; slot.Repeat <= MaxRepeats; slot.Repeat++ {
		if r, ok := s.Counting(slot); ok {
			rs = append(rs, r)
		}
		if slot.Repeat == 0 && !s.repeated {
			break
		}
	}
	return rs
}

// lengths returns the mean and the first of what was measured in a place, nil
// where nothing counts.
func (s Setup) lengths(slot Slot) (mean lengths.Length, first *Reading) {
	rs := s.repeats(slot)
	if len(rs) == 0 {
		return 0, nil
	}
	return lengths.Length(meanOf(rs)), &rs[0]
}

func meanOf(rs []Reading) int64 {
	var sum int64
	for _, r := range rs {
		sum += r.Value
	}
	return int64(reduce.Angle(sum).Div(int64(len(rs))))
}

// Repeats returns what was measured several times, in the order of the page.
func (s Setup) Repeats() []Repeated {
	if !s.repeated {
		return nil
	}
	var out []Repeated
	add := func(slot Slot) {
		if rs := s.repeats(slot); len(rs) > 1 {
			out = append(out, repeatedOf(slot, rs, func(r Reading) int64 { return r.Value }))
		}
	}
	add(Slot{Quantity: InstrumentHeight})
	for _, v := range s.workVerticals() {
		if len(v.Pairs) > 1 {
			var left []Reading
			altitude := map[uint64]int64{}
			for _, p := range v.Pairs {
				left = append(left, *p.FL)
				altitude[p.FL.Seq] = int64(p.Altitude)
			}
			slot := Slot{Quantity: Vertical, Target: v.Target}
			out = append(out, repeatedOf(slot, left, func(r Reading) int64 { return altitude[r.Seq] }))
		}
	}
	for _, t := range s.Spec.Sighted() {
		add(Slot{Quantity: Slope, Target: t})
		add(Slot{Quantity: TargetHeight, Target: t})
	}
	return out
}

func repeatedOf(slot Slot, rs []Reading, value func(Reading) int64) Repeated {
	var values []int64
	var sum int64
	for _, r := range rs {
		values = append(values, value(r))
		sum += value(r)
	}
	return Repeated{Quantity: slot.Quantity, Target: slot.Target, Readings: rs, N: len(rs),
		Mean: int64(reduce.Angle(sum).Div(int64(len(rs)))), Spread: slices.Max(values) - slices.Min(values)}
}
