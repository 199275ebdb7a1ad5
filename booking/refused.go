package booking

import (
	"errors"
	"example.org/readback/booking/spec/field"
	"fmt"
)

// A Reason is why something cannot be done now. The words are stable; the
// sentence may change.
type Reason string

// The reasons.
const (
	TripodLifted   Reason = "lifted"          // nothing is booked after the lift
	NoSuchPlace    Reason = "no such place"   // the slot is not of this setup
	placeTaken     Reason = "booked"          // a reading stands there
	NoSuchReading  Reason = "no such reading" // not of this setup
	struckAlready  Reason = "struck"
	noSuchRound    Reason = "no such round" // not begun, or nothing in it stands
	roundIsVoid    Reason = "void"
	leftOutAlready Reason = "left out"
	notLeftOut     Reason = "not left out"
	ReasonMissing  Reason = "reason missing" // the booker must write one
	StationOnHold  Reason = "on hold"        // lifting needs a written reason
	setupIsVoid    Reason = "setup struck"   // the setup was struck whole
	ReadingsDeny   Reason = "readings deny"  // readings that stand say otherwise
	nothingToAmend Reason = "nothing to amend"
	setupIsFull    Reason = "setup full" // as many rounds are used as are judged while the observer waits
)

// A Refused is the answer to something that cannot be done now.
type Refused struct {
	Reason Reason
	Text   string // what is wrong and what to do; no full stop
}

// ErrRefused is what every Refused is.
var ErrRefused = errors.New("not possible now")

// Error says ErrRefused and the sentence.
func (r *Refused) Error() string { return ErrRefused.Error() + ": " + r.Text }

// Is tells that it is ErrRefused.
func (r *Refused) Is(target error) bool { return target == ErrRefused }

// Refuse returns a Refused with a formatted sentence.
func Refuse(reason Reason, format string, args ...any) error {
	return &Refused{Reason: reason, Text: fmt.Sprintf(format, args...)}
}

// A specError holds every fault of a Spec that cannot be opened.
type specError struct{ Faults []field.Fault }

// errSpec is what every specError is.
var errSpec = errors.New("the setup cannot be opened")

// Error says the first fault; the form shows them all.
func (e *specError) Error() string { return errSpec.Error() + ": " + e.Faults[0].Text }

// Is tells that it is errSpec.
func (e *specError) Is(target error) bool { return target == errSpec }
