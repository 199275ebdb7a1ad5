package booking

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"example.org/readback/reduce"
)

// ErrMarked is returned by Read for a reading that a check stops: it books only
// when the booker confirms that the observer has read it again.
var ErrMarked = errors.New("the reading is marked: have it read again, then confirm")

// ErrRefused is wrapped by the errors about what cannot be done now.
var ErrRefused = errors.New("not possible now")

func refuse(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrRefused, fmt.Sprintf(format, args...))
}

// Parse reads keyed text as a reading of the slot. The error is a
// *reduce.ParseError.
func (s Setup) Parse(slot Slot, text string) (int64, error) {
	i := s.Spec.Instrument
	if slot.Quantity.Angular() {
		a, err := reduce.ParseKeyed(text, i.Unit, i.LeastCount)
		return int64(a), err
	}
	l, err := reduce.ParseLength(text, s.Spec.LengthUnit)
	return int64(l), err
}

// Read turns keyed text into a reading of the slot. It returns the text's
// ParseError, ErrMarked with the findings for a reading that must be confirmed,
// or an error wrapping ErrRefused for a slot that cannot be booked now.
func (s Setup) Read(slot Slot, text string, confirmed bool, known Known) (ReadingBooked, error) {
	if err := s.bookable(slot); err != nil {
		return ReadingBooked{}, err
	}
	value, err := s.Parse(slot, text)
	if err != nil {
		return ReadingBooked{}, err
	}
	e := ReadingBooked{Slot: slot, Text: strings.TrimSpace(text), Value: value, By: s.Spec.Booker}
	e.Findings = s.Expectation(slot, known).Check(value)
	for _, f := range e.Findings {
		if f.Severity != Stop {
			continue
		}
		if !confirmed {
			return e, ErrMarked
		}
		e.Confirmed = true
	}
	return e, nil
}

// bookable tells why a slot cannot take a reading, or nil.
func (s Setup) bookable(slot Slot) error {
	switch {
	case s.Lift != nil:
		return refuse("the tripod was lifted")
	case !s.hasSlot(slot):
		return refuse("%s is not a pointing of this setup", slot)
	}
	if r, ok := s.Round(slot.Round); ok && r.Void != nil {
		return refuse("round %d is void", slot.Round)
	}
	if _, ok := s.At(slot); ok {
		return refuse("%s is booked: strike it first", slot)
	}
	return nil
}

// Strike strikes a reading that stands. The reason must be written.
func (s Setup) Strike(seq uint64, reason string) (ReadingStruck, error) {
	r, ok := s.Reading(seq)
	switch {
	case s.Lift != nil:
		return ReadingStruck{}, refuse("the tripod was lifted")
	case !ok:
		return ReadingStruck{}, refuse("there is no reading %d in this setup", seq)
	case !r.Stands():
		return ReadingStruck{}, refuse("the reading is struck already")
	case blank(reason):
		return ReadingStruck{}, refuse("write the reason beside the strike")
	}
	return ReadingStruck{Seq: seq, Reason: strings.TrimSpace(reason), By: s.Spec.Booker}, nil
}

// Skip passes over a pointing: for now, or as blocked.
func (s Setup) Skip(slot Slot, blocked bool, reason string) (PointingSkipped, error) {
	if err := s.bookable(slot); err != nil {
		return PointingSkipped{}, err
	}
	if blank(reason) {
		reason = "hidden"
	}
	return PointingSkipped{Slot: slot, Blocked: blocked, Reason: strings.TrimSpace(reason), By: s.Spec.Booker}, nil
}

// VoidRound ends the round that from belongs to and strikes its readings.
func (s Setup) VoidRound(from Slot, reason string) (RoundVoided, error) {
	r, begun := s.Round(from.Round)
	switch {
	case s.Lift != nil:
		return RoundVoided{}, refuse("the tripod was lifted")
	case from.Quantity != Horizontal:
		return RoundVoided{}, refuse("only a round of directions can be void")
	case !begun || !s.anyIn(from.Round):
		return RoundVoided{}, refuse("round %d has no reading that stands", from.Round)
	case r.Void != nil:
		return RoundVoided{}, refuse("round %d is void already", from.Round)
	case blank(reason):
		return RoundVoided{}, refuse("write the reason beside the void round")
	}
	return RoundVoided{Round: from.Round, From: from, Reason: strings.TrimSpace(reason), By: s.Spec.Booker}, nil
}

// LeaveOut leaves a round out of the means. The reason must be written.
func (s Setup) LeaveOut(round int, reason string) (RoundLeftOut, error) {
	r, begun := s.Round(round)
	switch {
	case s.Lift != nil:
		return RoundLeftOut{}, refuse("the tripod was lifted")
	case !begun || r.Void != nil || !s.anyIn(round):
		return RoundLeftOut{}, refuse("there is no round %d to leave out", round)
	case r.LeftOut != nil:
		return RoundLeftOut{}, refuse("round %d is left out already", round)
	case blank(reason):
		return RoundLeftOut{}, refuse("write the reason beside the round: nobody averages away a disagreement")
	}
	return RoundLeftOut{Round: round, Reason: strings.TrimSpace(reason), By: s.Spec.Booker}, nil
}

// TakeBack takes a round that was left out into the means again.
func (s Setup) TakeBack(round int, reason string) (RoundTakenBack, error) {
	r, begun := s.Round(round)
	if s.Lift != nil || !begun || r.LeftOut == nil {
		return RoundTakenBack{}, refuse("round %d is not left out", round)
	}
	return RoundTakenBack{Round: round, Reason: strings.TrimSpace(reason), By: s.Spec.Booker}, nil
}

// AddRound asks for one more round than planned.
func (s Setup) AddRound(reason string) (RoundAdded, error) {
	if s.Lift != nil {
		return RoundAdded{}, refuse("the tripod was lifted")
	}
	return RoundAdded{Reason: strings.TrimSpace(reason), By: s.Spec.Booker}, nil
}

// Remark writes a remark beside the reading seq, or on the setup where seq is 0.
func (s Setup) Remark(seq uint64, text string) (RemarkMade, error) {
	if blank(text) {
		return RemarkMade{}, refuse("the remark is empty")
	}
	if _, ok := s.Reading(seq); seq != 0 && !ok {
		return RemarkMade{}, refuse("there is no reading %d in this setup", seq)
	}
	return RemarkMade{Seq: seq, Text: strings.TrimSpace(text), By: s.Spec.Booker}, nil
}

// LiftTripod ends the setup with the verdict as it stands. On Hold it needs a
// written reason. misses says what the figures of the book hold against lifting,
// a sentence each: any of them means Hold.
func (s Setup) LiftTripod(despite string, misses ...string) (Lifted, error) {
	if s.Lift != nil {
		return Lifted{}, refuse("the tripod was lifted")
	}
	v := s.Verdict()
	v.Lift = v.Lift && len(misses) == 0
	if !v.Lift && blank(despite) {
		return Lifted{}, refuse("the station is on Hold: write why the tripod is lifted all the same")
	}
	e := Lifted{Verdict: v.Word(), Reasons: append(v.Reasons(), misses...), By: s.Spec.Booker}
	if !v.Lift {
		e.Despite = strings.TrimSpace(despite)
	}
	return e, nil
}

// Open opens a setup.
func Open(spec Spec) (SetupOpened, error) {
	if err := spec.Validate(); err != nil {
		return SetupOpened{}, err
	}
	return SetupOpened{Spec: spec}, nil
}

// ReadTime returns when the reading was made: the time it was keyed, or the time
// given beside it when it was keyed afterwards.
func (r Reading) ReadTime() time.Time {
	if t, err := time.Parse(time.RFC3339, r.ReadAt); err == nil {
		return t
	}
	return r.At
}

func blank(s string) bool { return strings.TrimSpace(s) == "" }
