package booking

import "example.org/readback/booking/spec"

// Again returns the place of one more measurement of what was measured already:
// a direction, a vertical pair, a distance, a height. The first stays as it is. A
// direction is read again only while the circle setting of its round stands.
func (s Setup) Again(slot spec.Slot) (spec.Slot, error) {
	slot.Repeat = 0
	if slot.Quantity == spec.InstrumentHeight && slot.Closing {
		return spec.Slot{}, Refuse(NoSuchPlace, "it is the measurement made again already: strike it, then it is called once more")
	}
	if r, ok := s.Round(slot.Round); slot.Quantity.OfRound() && ok {
		switch latest := s.LatestRound(); {
		case r.Void != nil:
			return spec.Slot{}, Refuse(roundIsVoid, "round %d is void", r.Number)
		case latest.Number != r.Number && s.Spec.Plan != spec.FreePlan:
			return spec.Slot{}, Refuse(NoSuchPlace, "the circle was set anew after round %d: ask for another round", r.Number)
		}
	}
	if !s.Spec.Has(slot) {
		return spec.Slot{}, Refuse(NoSuchPlace, "%s is not a pointing of this setup", slot)
	}
	for ; slot.Repeat <= spec.MaxRepeats; slot.Repeat++ {
		_, booked := s.At(slot)
		_, pair := s.At(slot.Pair())
		switch {
		case booked || slot.Quantity == spec.Vertical && pair:
		case slot.Repeat == 0:
			return spec.Slot{}, Refuse(NoSuchPlace, "%s was not measured yet", slot)
		default:
			return slot, nil
		}
	}
	return spec.Slot{}, Refuse(placeTaken, "it was measured %d times over: that is enough", spec.MaxRepeats)
}
