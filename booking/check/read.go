package check

import (
	"errors"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
)

// ErrMarked is returned by Read for a reading that a check stops: it books only
// when the booker confirms that the observer has read it again.
var ErrMarked = errors.New("the reading is marked: have it read again, then confirm")

// Read turns keyed text into a reading of the slot. It returns the text's
// ParseError, ErrMarked with the findings for a reading that must be confirmed,
// or an error wrapping ErrRefused for a slot that cannot be booked now.
func Read(s booking.Setup, slot spec.Slot, text string, confirmed bool, known Known) (event.ReadingBooked, error) {
	if err := s.Bookable(slot); err != nil {
		return event.ReadingBooked{}, err
	}
	value, err := s.Parse(slot, text)
	if err != nil {
		return event.ReadingBooked{}, err
	}
	e := event.ReadingBooked{Slot: slot, Text: strings.TrimSpace(text), Value: value, By: s.Spec.Booker, AfterLift: s.Lift != nil}
	e.Findings = Expect(s, slot, known).Check(value)
	for _, f := range e.Findings {
		if f.Severity != event.Stop {
			continue
		}
		if !confirmed {
			return e, ErrMarked
		}
		e.Confirmed = true
	}
	return e, nil
}

// Lift ends the setup with the verdict as it stands. On Hold it needs a
// written reason. misses says what the figures of the book hold against lifting,
// a sentence each: any of them means Hold.
func Lift(s booking.Setup, despite string, misses ...string) (event.Lifted, error) {
	if s.Lift != nil {
		return event.Lifted{}, booking.Refuse(booking.TripodLifted, "the tripod was lifted")
	}
	v := Judge(s)
	v.Lift = v.Lift && len(misses) == 0
	if !v.Lift && strings.TrimSpace(despite) == "" {
		return event.Lifted{}, booking.Refuse(booking.StationOnHold, "the station is on Hold: write why the tripod is lifted all the same")
	}
	e := event.Lifted{Verdict: v.Word(), Reasons: append(v.Reasons(), misses...), Rule: booking.Rule, By: s.Spec.Booker}
	if !v.Lift {
		e.Despite = strings.TrimSpace(despite)
	}
	return e, nil
}
