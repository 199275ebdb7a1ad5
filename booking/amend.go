package booking

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/faces"
)

// Amend puts right what was agreed when the setup was opened: freely before the
// first reading, with a reason after it. agreed is what is meant, renamed says
// which names in it stand for names of before. It returns a *specError for a
// spec that no setup may have, and a Refused for one that the readings that
// stand, or the lift, deny.
func (s Setup) Amend(agreed spec.Spec, renamed []spec.Rename, reason string) (event.SetupAmended, error) {
	agreed.KeyedAfterwards = s.Spec.KeyedAfterwards
	reason = strings.TrimSpace(reason)
	if s.Void != nil {
		return event.SetupAmended{}, Refuse(setupIsVoid, "the setup was struck")
	}
	if faults := agreed.ValidateInstead(s.Spec); len(faults) > 0 {
		return event.SetupAmended{}, &specError{Faults: faults}
	}
	if reason == "" && len(s.Readings) > 0 && len(renamed) == 0 && s.Spec.OnlySays(agreed) {
		reason = "not said before"
	}
	was := s.Spec.Rename(renamed)
	switch {
	case len(renamed) == 0 && reflect.DeepEqual(s.Spec, agreed):
		return event.SetupAmended{}, Refuse(nothingToAmend, "the setup is so already")
	case len(s.Readings) > 0 && reason == "":
		return event.SetupAmended{}, Refuse(ReasonMissing, "readings are booked: write the reason beside the change")
	}
	if why := s.liftDenies(was, agreed); why != "" {
		return event.SetupAmended{}, Refuse(TripodLifted, "%s", why)
	}
	if why := s.readingsDeny(was, agreed); why != "" {
		return event.SetupAmended{}, Refuse(ReadingsDeny, "%s", why)
	}
	return event.SetupAmended{Spec: agreed, Renamed: renamed, Reason: reason, By: agreed.Booker, AfterLift: s.Lift != nil}, nil
}

// liftDenies says what of the change cannot be meant once the tripod was lifted:
// what was to be observed.
func (s Setup) liftDenies(was, is spec.Spec) string {
	if s.Lift == nil {
		return ""
	}
	if dropped, added := was.Differ(is); len(dropped)+len(added) > 0 {
		return "the tripod was lifted: a target can be renamed, and none added or dropped"
	}
	if was.Rounds != is.Rounds || was.Plan != is.Plan || was.Ordered() != is.Ordered() || was.Verticals != is.Verticals || was.Distances != is.Distances {
		return "the tripod was lifted: what was to be observed stands as it was agreed"
	}
	return ""
}

// ReadingsDeny says what of the change contradicts readings that stand.
func (s Setup) readingsDeny(was, is spec.Spec) string {
	for _, r := range s.Readings {
		if !r.Stands() {
			continue
		}
		i, lc := is.Instrument, is.Instrument.LeastCount
		switch angular := r.Slot.Quantity.Angular(); {
		case angular && was.Instrument.Unit != i.Unit:
			return fmt.Sprintf("%s is booked as %s: the unit of the circle cannot change over readings that stand", r.Slot, r.Text)
		case angular && r.Value%int64(lc) != 0:
			return fmt.Sprintf("%s is booked as %s, which is no multiple of this least count", r.Slot, r.Text)
		case !angular && was.LengthUnit != is.LengthUnit:
			return fmt.Sprintf("%s is booked as %s: the unit of length cannot change over readings that stand", r.Slot, r.Text)
		case r.Slot.Quantity == spec.Accumulated && was.Ordered() != is.Ordered():
			return fmt.Sprintf("%s is booked after %d repetitions", r.Slot, was.Repetitions)
		case r.Slot.Quantity == spec.Horizontal && was.RO != is.RO:
			return fmt.Sprintf("round %d is booked from %s: another reference object needs a new setup", r.Slot.Round, was.RO)
		case r.Slot.Quantity == spec.Horizontal && !slices.Equal(was.Closers(), is.Closers()):
			return fmt.Sprintf("round %d is begun: its halves close, or do not, as agreed", r.Slot.Round)
		case r.Slot.Quantity == spec.Horizontal && was.Order != is.Order && inOrder(was, r.Slot.Round, s.Readings) && !inOrder(is, r.Slot.Round, s.Readings):
			return fmt.Sprintf("round %d is booked %s: it was not observed %s", r.Slot.Round, was.Order, is.Order)
		}
	}
	return ""
}

// foldAmended changes the agreement: names follow, the readings of dropped
// targets are struck, and a target that was added is called from the next half
// that can take it.
func (s *Setup) foldAmended(e event.Entry, v event.SetupAmended) string {
	renamed := s.Spec.Rename(v.Renamed)
	for i := range s.Readings {
		s.Readings[i].Slot = s.Readings[i].Slot.Rename(v.Renamed)
	}
	for i := range s.Skips {
		s.Skips[i].Slot = s.Skips[i].Slot.Rename(v.Renamed)
	}
	dropped, added := renamed.Differ(v.Spec)
	was := *s
	was.Spec = renamed
	for i := range s.Rounds {
		r := &s.Rounds[i]
		if r.Void != nil {
			void := *r.Void
			void.From = void.From.Rename(v.Renamed)
			r.Void = &void
		}
		next, _, open := was.NextOpen(r.Called(was.Spec.Sweeps(r.Number)[0]))
		if !open || i+1 < len(s.Rounds) || next.Face == faces.FR && next.Target == was.Spec.RO && was.Spec.Closes(next) {
			r.Without = append(slices.Clone(r.Without), added...)
		}
	}
	before := s.Spec
	s.Spec = v.Spec
	for i := range s.Readings {
		r := &s.Readings[i]
		switch {
		case r.Struck != nil:
		case slices.Contains(dropped, r.Slot.Target):
			r.Struck = &Strike{Reason: v.Reason, By: v.By, At: e.At, Seq: e.Seq, AfterLift: v.AfterLift}
		case !s.Spec.Has(r.Slot):
			return fmt.Sprintf("reading %d (%s) has no place after it", r.Seq, r.Slot)
		}
	}
	s.Amended = append(s.Amended, Amendment{SetupAmended: v, Was: before, At: e.At, Seq: e.Seq})
	return ""
}

// StrikeWhole strikes a setup that was opened by mistake and holds no reading
// that stands. Empty reason: opened by mistake.
func (s Setup) StrikeWhole(reason string) (event.SetupStruck, error) {
	standing := 0
	for _, r := range s.Readings {
		if r.Stands() {
			standing++
		}
	}
	switch {
	case s.Void != nil:
		return event.SetupStruck{}, Refuse(setupIsVoid, "the setup was struck already")
	case s.Lift != nil:
		return event.SetupStruck{}, Refuse(TripodLifted, "the tripod was lifted")
	case standing > 0:
		return event.SetupStruck{}, Refuse(ReadingsDeny, "readings stand in it (%d): a setup is struck whole only while none does", standing)
	}
	if blank(reason) {
		reason = "opened by mistake"
	}
	return event.SetupStruck{Reason: strings.TrimSpace(reason), By: s.Spec.Booker}, nil
}

// Changes says in words what the amendment changed, a phrase each.
func (a Amendment) Changes() []string { return a.Was.Changes(a.Spec, a.Renamed) }

// inOrder tells whether the readings of a round that stand were booked one after
// the other in the order of the spec.
func inOrder(s spec.Spec, round int, readings []Reading) bool {
	slots, last := s.RoundSlots(round), -1
	for _, r := range readings {
		if !r.Slot.Quantity.OfRound() || r.Slot.Round != round || !r.Stands() {
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
