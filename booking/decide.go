package booking

import (
	"slices"
	"strings"

	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
)

// Parse reads keyed text as a reading of the slot. The error is a
// *reduce.ParseError.
func (s Setup) Parse(slot spec.Slot, text string) (int64, error) {
	i := s.Spec.Instrument
	if slot.Quantity.Angular() {
		a, err := reduce.ParseKeyed(text, i.Unit, i.LeastCount)
		return int64(a), err
	}
	l, err := lengths.Parse(text, s.Spec.LengthUnit)
	return int64(l), err
}

// Bookable tells why a slot cannot take a reading, or nil.
func (s Setup) Bookable(slot spec.Slot) error {
	switch {
	case s.Void != nil:
		return Refuse(setupIsVoid, "the setup was struck")
	case s.Lift != nil && !s.struckAt(slot):
		return Refuse(TripodLifted, "the tripod was lifted: only what was struck can be read again")
	case !s.Spec.Has(slot):
		return Refuse(NoSuchPlace, "%s is not a pointing of this setup", slot)
	}
	if r, ok := s.Round(slot.Round); ok && r.Void != nil {
		return Refuse(roundIsVoid, "round %d is void", slot.Round)
	}
	if _, ok := s.At(slot); ok {
		return Refuse(placeTaken, "%s is booked: strike it first", slot)
	}
	return nil
}

// struckAt tells whether a reading of the slot was struck.
func (s Setup) struckAt(slot spec.Slot) bool {
	return slices.ContainsFunc(s.Readings, func(r Reading) bool { return r.Slot == slot && !r.Stands() })
}

// Strike strikes a reading that stands. The reason must be written.
func (s Setup) Strike(seq uint64, reason string) (event.ReadingStruck, error) {
	r, ok := s.Reading(seq)
	switch {
	case !ok:
		return event.ReadingStruck{}, Refuse(NoSuchReading, "there is no reading %d in this setup", seq)
	case !r.Stands():
		return event.ReadingStruck{}, Refuse(struckAlready, "the reading is struck already")
	case blank(reason):
		return event.ReadingStruck{}, Refuse(ReasonMissing, "write the reason beside the strike")
	}
	return event.ReadingStruck{Seq: seq, Reason: strings.TrimSpace(reason), By: s.Spec.Booker, AfterLift: s.Lift != nil}, nil
}

// Skip passes over a pointing: for now, or as blocked.
func (s Setup) Skip(slot spec.Slot, blocked bool, reason string) (event.PointingSkipped, error) {
	if err := s.Bookable(slot); err != nil {
		return event.PointingSkipped{}, err
	}
	if s.Lift != nil {
		return event.PointingSkipped{}, Refuse(TripodLifted, "the tripod was lifted: the pointing stays struck where it is not read again")
	}
	if blank(reason) {
		reason = "hidden"
	}
	return event.PointingSkipped{Slot: slot, Blocked: blocked, Reason: strings.TrimSpace(reason), By: s.Spec.Booker}, nil
}

// VoidRound ends the round that from belongs to and strikes its readings.
func (s Setup) VoidRound(from spec.Slot, reason string) (event.RoundVoided, error) {
	r, begun := s.Round(from.Round)
	switch {
	case s.Lift != nil:
		return event.RoundVoided{}, Refuse(TripodLifted, "the tripod was lifted")
	case !from.Quantity.OfRound():
		return event.RoundVoided{}, Refuse(noSuchRound, "only a round of directions can be void")
	case !begun || !s.AnyIn(from.Round):
		return event.RoundVoided{}, Refuse(noSuchRound, "round %d has no reading that stands", from.Round)
	case r.Void != nil:
		return event.RoundVoided{}, Refuse(roundIsVoid, "round %d is void already", from.Round)
	case blank(reason):
		return event.RoundVoided{}, Refuse(ReasonMissing, "write the reason beside the void round")
	}
	return event.RoundVoided{Round: from.Round, From: from, Reason: strings.TrimSpace(reason), By: s.Spec.Booker}, nil
}

// LeaveOut leaves a round out of the means. The reason must be written.
func (s Setup) LeaveOut(round int, reason string) (event.RoundLeftOut, error) {
	r, begun := s.Round(round)
	switch {
	case !begun || r.Void != nil || !s.AnyIn(round):
		return event.RoundLeftOut{}, Refuse(noSuchRound, "there is no round %d to leave out", round)
	case r.LeftOut != nil:
		return event.RoundLeftOut{}, Refuse(leftOutAlready, "round %d is left out already", round)
	case blank(reason):
		return event.RoundLeftOut{}, Refuse(ReasonMissing, "write the reason beside the round")
	}
	return event.RoundLeftOut{Round: round, Reason: strings.TrimSpace(reason), By: s.Spec.Booker, AfterLift: s.Lift != nil}, nil
}

// TakeBack takes a round that was left out into the means again; before the lift it is
// refused as AddRound is.
func (s Setup) TakeBack(round int, reason string) (event.RoundTakenBack, error) {
	r, begun := s.Round(round)
	if !begun || r.LeftOut == nil {
		return event.RoundTakenBack{}, Refuse(notLeftOut, "round %d is not left out", round)
	}
	if err := s.room(); err != nil && s.Lift == nil {
		return event.RoundTakenBack{}, err
	}
	return event.RoundTakenBack{Round: round, Reason: strings.TrimSpace(reason), By: s.Spec.Booker, AfterLift: s.Lift != nil}, nil
}

// LeaveOutReading keeps a reading that stands from the means. The reason must be
// written.
func (s Setup) LeaveOutReading(seq uint64, reason string) (event.ReadingLeftOut, error) {
	r, ok := s.Reading(seq)
	switch {
	case !ok:
		return event.ReadingLeftOut{}, Refuse(NoSuchReading, "there is no reading %d in this setup", seq)
	case !r.Stands():
		return event.ReadingLeftOut{}, Refuse(struckAlready, "the reading is struck")
	case r.LeftOut != nil:
		return event.ReadingLeftOut{}, Refuse(leftOutAlready, "the reading is left out already")
	case blank(reason):
		return event.ReadingLeftOut{}, Refuse(ReasonMissing, "write the reason beside the reading")
	}
	return event.ReadingLeftOut{Seq: seq, Reason: strings.TrimSpace(reason), By: s.Spec.Booker, AfterLift: s.Lift != nil}, nil
}

// TakeBackReading takes a reading that was left out into the means again.
func (s Setup) TakeBackReading(seq uint64, reason string) (event.ReadingTakenBack, error) {
	if r, ok := s.Reading(seq); !ok || r.LeftOut == nil {
		return event.ReadingTakenBack{}, Refuse(notLeftOut, "reading %d is not left out", seq)
	}
	return event.ReadingTakenBack{Seq: seq, Reason: strings.TrimSpace(reason), By: s.Spec.Booker, AfterLift: s.Lift != nil}, nil
}

// AddRound asks for one more round than planned. It is refused where as many rounds are
// used as a reading can be judged by while the observer waits: what is left out makes
// room.
func (s Setup) AddRound(reason string) (event.RoundAdded, error) {
	if s.Lift != nil {
		return event.RoundAdded{}, Refuse(TripodLifted, "the tripod was lifted")
	}
	if err := s.room(); err != nil {
		return event.RoundAdded{}, err
	}
	return event.RoundAdded{Reason: strings.TrimSpace(reason), By: s.Spec.Booker}, nil
}

// room refuses where one more round that is used is too many.
func (s Setup) room() error {
	used := 0
	for _, r := range s.Rounds {
		if r.Used() {
			used++
		}
	}
	t, most := max(len(s.Spec.Targets), 1), s.Spec.MostUsed()
	if s.Spec.KeyedAfterwards != nil || used < most {
		return nil
	}
	return Refuse(setupIsFull, "%d rounds on %d targets are used, and a setup holds no more than %d: leave one out with its reason, or lift the tripod and open another setup", used, t, most)
}

// Remark writes a remark beside the reading seq, or on the setup where seq is 0.
func (s Setup) Remark(seq uint64, text string) (event.RemarkMade, error) {
	if blank(text) {
		return event.RemarkMade{}, Refuse(ReasonMissing, "the remark is empty")
	}
	if _, ok := s.Reading(seq); seq != 0 && !ok {
		return event.RemarkMade{}, Refuse(NoSuchReading, "there is no reading %d in this setup", seq)
	}
	return event.RemarkMade{Seq: seq, Text: strings.TrimSpace(text), By: s.Spec.Booker}, nil
}

// Open opens a setup, or returns a *specError.
func Open(agreed spec.Spec) (event.SetupOpened, error) {
	if faults := agreed.Validate(); len(faults) > 0 {
		return event.SetupOpened{}, &specError{faults}
	}
	return event.SetupOpened{Spec: agreed}, nil
}

func blank(s string) bool { return strings.TrimSpace(s) == "" }
