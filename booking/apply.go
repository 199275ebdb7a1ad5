package booking

import (
	"fmt"
	"slices"
)

// Fold applies the events of one setup in order.
func Fold(entries []Entry) (Setup, error) {
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
func (s Setup) Apply(e Entry) (Setup, error) {
	n := s.clone()
	if err := n.apply(e); err != nil {
		return s, err
	}
	return n, nil
}

func (s *Setup) apply(e Entry) error {
	if open, ok := e.Event.(SetupOpened); ok {
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
func (s *Setup) fold(e Entry) string {
	switch v := e.Event.(type) {
	case ReadingBooked:
		return s.foldReading(e, v)
	case ReadingStruck:
		i := slices.IndexFunc(s.Readings, func(r Reading) bool { return r.Seq == v.Seq })
		if i < 0 {
			return fmt.Sprintf("it strikes reading %d, which is not of this setup", v.Seq)
		}
		if s.Readings[i].Struck != nil {
			return fmt.Sprintf("it strikes reading %d, which is struck already", v.Seq)
		}
		s.Readings[i].Struck = &Strike{Reason: v.Reason, By: v.By, At: e.At, Seq: e.Seq, AfterLift: v.AfterLift}
	case ReadingLeftOut:
		return s.foldOut(v.Seq, &Strike{Reason: v.Reason, By: v.By, At: e.At, Seq: e.Seq, AfterLift: v.AfterLift})
	case ReadingTakenBack:
		return s.foldOut(v.Seq, nil)
	case PointingSkipped:
		s.roundsUpTo(v.Slot.Round)
		s.Skips = append(s.Skips, Skip{Slot: v.Slot, Blocked: v.Blocked, Reason: v.Reason, By: v.By, Seq: e.Seq})
	case RoundVoided:
		return s.foldVoid(e, v)
	case RoundLeftOut:
		if _, ok := s.Round(v.Round); !ok {
			return fmt.Sprintf("it leaves out round %d, which was not begun", v.Round)
		}
		s.Rounds[v.Round-1].LeftOut = &v
	case RoundTakenBack:
		if _, ok := s.Round(v.Round); !ok {
			return fmt.Sprintf("it takes back round %d, which was not begun", v.Round)
		}
		s.Rounds[v.Round-1].LeftOut = nil
	case RemarkMade:
		s.Remarks = append(s.Remarks, Remark{On: v.Seq, Text: v.Text, By: v.By, At: e.At, AfterLift: s.Lift != nil})
	case SetupAmended:
		return s.foldAmended(e, v)
	case SetupStruck:
		s.Void = &SetupVoid{SetupStruck: v, At: e.At}
	case RoundAdded:
		s.Added = append(s.Added, v)
		s.Asked = max(s.Asked, s.NextSetting()-1, s.Spec.Rounds) + 1
	case HalfAsked:
		return s.foldHalf(e, v)
	case Lifted:
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
func afterLift(e Event) bool {
	switch v := e.(type) {
	case ReadingBooked:
		return v.AfterLift
	case ReadingStruck:
		return v.AfterLift
	case ReadingLeftOut:
		return v.AfterLift
	case ReadingTakenBack:
		return v.AfterLift
	case RoundLeftOut:
		return v.AfterLift
	case RoundTakenBack:
		return v.AfterLift
	case SetupAmended:
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

func (s *Setup) foldReading(e Entry, v ReadingBooked) string {
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

func (s *Setup) foldVoid(e Entry, v RoundVoided) string {
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
