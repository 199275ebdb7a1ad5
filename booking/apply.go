package booking

import (
	"errors"
	"fmt"
	"slices"

	"example.org/readback/reduce/faces"
)

// errImpossible is returned by Apply for an event that the events before it do
// not allow: a damaged book, or a bug. It says the event's number.
var errImpossible = errors.New("the book holds an event that cannot have happened")

// errNotOfSetup is wrapped beside errImpossible for an event of another setup.
var errNotOfSetup = errors.New("event of another setup")

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
// with errImpossible.
func (s Setup) Apply(e Entry) (Setup, error) {
	n := s.clone()
	if err := n.apply(e); err != nil {
		return s, err
	}
	return n, nil
}

func (s *Setup) apply(e Entry) error {
	impossible := func(why string) error {
		return fmt.Errorf("event %d (kind %d): %w: %s", e.Seq, e.Event.kind(), errImpossible, why)
	}
	if open, ok := e.Event.(SetupOpened); ok {
		if s.Number != 0 {
			return impossible("the setup is open already")
		}
		s.Number, s.Opened, s.Spec, s.LastSeq = e.Setup, e.At, open.Spec, e.Seq
		return nil
	}
	switch {
	case s.Number == 0:
		return impossible("the setup was never opened")
	case e.Setup != s.Number:
		return fmt.Errorf("event %d: %w: %w", e.Seq, errImpossible, errNotOfSetup)
	case e.Seq <= s.LastSeq && e.Seq != 0:
		return impossible("its number does not follow")
	case s.Void != nil:
		return impossible("the setup was struck before it")
	case s.Lift != nil && !besideReadings(e.Event) && !afterLift(e.Event):
		return impossible("the tripod was lifted before it")
	case s.Lift == nil && afterLift(e.Event):
		return impossible("it is marked as after the lift, and the tripod stands")
	}
	if why := s.fold(e); why != "" {
		return impossible(why)
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
		s.asked = max(s.asked, s.NextSetting()-1, s.Spec.Rounds) + 1
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
	if s.at(v.Slot) != nil {
		return fmt.Sprintf("%s was booked already", v.Slot)
	}
	if !s.hasSlot(v.Slot) {
		return fmt.Sprintf("%s is not a pointing of this setup", v.Slot)
	}
	s.roundsUpTo(v.Slot.Round)
	if r, ok := s.Round(v.Slot.Round); ok && r.Void != nil {
		return fmt.Sprintf("round %d is void", v.Slot.Round)
	}
	s.repeated = s.repeated || v.Slot.Repeat > 0
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

// MaxRepeats is how often a measurement can be made again as a check.
const MaxRepeats = 9

// maxRounds bounds the rounds of a setup, so that a damaged number cannot ask
// for a million of them.
const maxRounds = 99

// hasSlot tells whether the slot is a place on this setup's page.
func (s *Setup) hasSlot(k Slot) bool {
	if k.Repeat < 0 || k.Repeat > MaxRepeats || k.Repeat > 0 && k.Quantity == InstrumentHeight && k.Closing {
		return false
	}
	named := k.Target == s.Spec.RO || slices.Contains(s.Spec.Targets, k.Target) ||
		!k.Quantity.OfRound() && slices.Contains(s.Spec.HeightsOnly, k.Target)
	faced := k.Face == faces.FL || k.Face == faces.FR
	switch k.Quantity {
	case Horizontal:
		return named && faced && k.Round >= 1 && k.Round <= maxRounds && (!k.Closing || s.Spec.closesOn(k.Target))
	case Accumulated:
		return named && faced && s.Spec.Order == ByRepetition && k.Target != s.Spec.RO && k.Round >= 1 && k.Round <= maxRounds && !k.Closing
	case Vertical:
		return named && faced && k.Round == 0 && !k.Closing
	case Slope, TargetHeight:
		return named && k.Face == faces.NoFace && k.Round == 0 && !k.Closing
	case InstrumentHeight:
		return k.Target == "" && k.Face == faces.NoFace && k.Round == 0
	}
	return false
}
