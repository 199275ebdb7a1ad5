package booking

import (
	"example.org/readback/booking/event"
	"fmt"
	"slices"
)

// Fold applies the events of one setup in order.
func Fold(entries []event.Entry) (Setup, error) {
	var s Setup
	s.Readings = make([]Reading, 0, len(entries))
	for _, e := range entries {
		if err := s.apply(e); err != nil {
			return s, err
		}
	}
	if len(s.Readings) == 0 {
		s.Readings = nil
	}
	return s, nil
}

// Apply returns the setup after the event. It is the only way a setup changes,
// live and on replay. It judges nothing: it refuses only what is impossible,
// see Entry.Impossible.
func (s Setup) Apply(e event.Entry) (Setup, error) {
	n := s.clone()
	if err := n.apply(e); err != nil {
		return s, err
	}
	return n, nil
}

func (s *Setup) apply(e event.Entry) error {
	if open, ok := e.Event.(event.SetupOpened); ok {
		if s.Number != 0 {
			return e.Impossible("the setup is open already")
		}
		s.Number, s.Opened, s.Spec, s.LastSeq = e.Setup, e.At, open.Spec, e.Seq
		return nil
	}
	switch {
	case s.Number == 0:
		return e.Impossible("the setup was never opened")
	case e.Setup != s.Number:
		return e.Impossible("event of another setup")
	case e.Seq <= s.LastSeq && e.Seq != 0:
		return e.Impossible("its number does not follow")
	case s.Void != nil:
		return e.Impossible("the setup was struck before it")
	case s.Lift != nil && !besideReadings(e.Event) && !afterLift(e.Event):
		return e.Impossible("the tripod was lifted before it")
	case s.Lift == nil && afterLift(e.Event):
		return e.Impossible("it is marked as after the lift, and the tripod stands")
	}
	if why := s.fold(e); why != "" {
		return e.Impossible(why)
	}
	s.LastSeq = e.Seq
	return nil
}

// fold changes the setup by one event and returns why it cannot.
func (s *Setup) fold(e event.Entry) string {
	switch v := e.Event.(type) {
	case event.ReadingBooked:
		return s.foldReading(e, v)
	case event.ReadingStruck:
		i := slices.IndexFunc(s.Readings, func(r Reading) bool { return r.Seq == v.Seq })
		if i < 0 {
			return fmt.Sprintf("it strikes reading %d, which is not of this setup", v.Seq)
		}
		if s.Readings[i].Struck != nil {
			return fmt.Sprintf("it strikes reading %d, which is struck already", v.Seq)
		}
		s.Readings[i].Struck = &Strike{Reason: v.Reason, By: v.By, At: e.At, Seq: e.Seq, AfterLift: v.AfterLift}
	case event.ReadingLeftOut:
		return s.foldOut(v.Seq, &Strike{Reason: v.Reason, By: v.By, At: e.At, Seq: e.Seq, AfterLift: v.AfterLift})
	case event.ReadingTakenBack:
		return s.foldOut(v.Seq, nil)
	case event.PointingSkipped:
		s.roundsUpTo(v.Slot.Round)
		s.Skips = append(s.Skips, Skip{Slot: v.Slot, Blocked: v.Blocked, Reason: v.Reason, By: v.By, Seq: e.Seq})
	case event.RoundVoided:
		return s.foldVoid(e, v)
	case event.RoundLeftOut:
		if _, ok := s.Round(v.Round); !ok {
			return fmt.Sprintf("it leaves out round %d, which was not begun", v.Round)
		}
		s.Rounds[v.Round-1].LeftOut = &v
	case event.RoundTakenBack:
		if _, ok := s.Round(v.Round); !ok {
			return fmt.Sprintf("it takes back round %d, which was not begun", v.Round)
		}
		s.Rounds[v.Round-1].LeftOut = nil
	case event.RemarkMade:
		s.Remarks = append(s.Remarks, Remark{On: v.Seq, Text: v.Text, By: v.By, At: e.At, AfterLift: s.Lift != nil})
	case event.SetupAmended:
		return s.foldAmended(e, v)
	case event.SetupStruck:
		s.Void = &SetupVoid{SetupStruck: v, At: e.At}
	case event.RoundAdded:
		s.Added = append(s.Added, v)
		s.Asked = max(s.Asked, s.NextSetting()-1, s.Spec.Rounds) + 1
	case event.HalfAsked:
		return s.foldHalf(e, v)
	case event.Lifted:
		s.Lift = &Lift{Lifted: v, At: e.At}
	default:
		if s.foldDay(e) {
			return ""
		}
		return "it does not belong to a setup"
	}
	return ""
}

// afterLift tells whether the event is marked as made after the lift.
func afterLift(e event.Event) bool {
	switch v := e.(type) {
	case event.ReadingBooked:
		return v.AfterLift
	case event.ReadingStruck:
		return v.AfterLift
	case event.ReadingLeftOut:
		return v.AfterLift
	case event.ReadingTakenBack:
		return v.AfterLift
	case event.RoundLeftOut:
		return v.AfterLift
	case event.RoundTakenBack:
		return v.AfterLift
	case event.SetupAmended:
		return v.AfterLift
	}
	return false
}

// foldOut leaves a reading out of the means, or takes it back where out is nil.
func (s *Setup) foldOut(seq uint64, out *Strike) string {
	i := slices.IndexFunc(s.Readings, func(r Reading) bool { return r.Seq == seq })
	if i < 0 || s.Readings[i].Struck != nil || (s.Readings[i].LeftOut != nil) == (out != nil) {
		return fmt.Sprintf("it leaves out or takes back reading %d, which cannot be", seq)
	}
	s.Readings[i].LeftOut = out
	return ""
}

func (s *Setup) foldReading(e event.Entry, v event.ReadingBooked) string {
	if s.standing(v.Slot) != nil {
		return fmt.Sprintf("%s was booked already", v.Slot)
	}
	if !s.Spec.Has(v.Slot) {
		return fmt.Sprintf("%s is not a pointing of this setup", v.Slot)
	}
	s.roundsUpTo(v.Slot.Round)
	if r, ok := s.Round(v.Slot.Round); ok && r.Void != nil {
		return fmt.Sprintf("round %d is void", v.Slot.Round)
	}
	s.Repeated = s.Repeated || v.Slot.Repeat > 0
	s.Readings = append(s.Readings, Reading{
		Seq: e.Seq, At: e.At, Slot: v.Slot, Text: v.Text, Value: v.Value,
		Confirmed: v.Confirmed, Findings: v.Findings, By: v.By, ReadAt: v.ReadAt, AfterLift: v.AfterLift,
	})
	if v.Remark != "" {
		s.Remarks = append(s.Remarks, Remark{On: e.Seq, Text: v.Remark, By: v.By, At: e.At})
	}
	return ""
}

func (s *Setup) foldVoid(e event.Entry, v event.RoundVoided) string {
	s.roundsUpTo(v.Round)
	r, ok := s.Round(v.Round)
	if !ok || r.Void != nil {
		return fmt.Sprintf("round %d cannot be void", v.Round)
	}
	s.Rounds[v.Round-1].Void = &v
	for i := range s.Readings {
		if q := &s.Readings[i]; q.Slot.Round == v.Round && q.Struck == nil {
			q.Struck = &Strike{Reason: v.Reason, By: v.By, At: e.At, Seq: e.Seq}
		}
	}
	return ""
}

// roundsUpTo begins the rounds up to number. A round's circle setting counts the
// rounds before it that are not void.
func (s *Setup) roundsUpTo(number int) {
	for len(s.Rounds) < number {
		s.Rounds = append(s.Rounds, Round{Number: len(s.Rounds) + 1, Setting: s.NextSetting()})
	}
}
