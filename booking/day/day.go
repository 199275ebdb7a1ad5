package day

import (
	"strings"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

// An InstrumentCheck is the check of an instrument with its time.
type InstrumentCheck struct {
	event.InstrumentChecked
	At  time.Time
	Seq uint64
}

// A HandOver is a note to the next crew with its time.
type HandOver struct {
	event.HandedOver
	At time.Time
}

// InOrder is what a check says of a part that needs nothing.
const InOrder = "in order"

// CheckInstrument makes the check of an instrument. words are what was found of
// bubble, plummet and heights; texts are the readings as keyed: horizontal face
// left and right, vertical face left and right, of one mark. Empty ones were not
// looked at. The error is a *reduce.ParseError or Refused.
func CheckInstrument(i spec.Instrument, words [3]string, texts [4]string, by string) (event.InstrumentChecked, error) {
	c := event.InstrumentChecked{Instrument: i, Bubble: strings.TrimSpace(words[0]), Plummet: strings.TrimSpace(words[1]), Heights: strings.TrimSpace(words[2]), By: by}
	found := c.Bubble + c.Plummet + c.Heights
	for k, into := range []**event.Keyed{&c.HorizontalFL, &c.HorizontalFR, &c.VerticalFL, &c.VerticalFR} {
		text := strings.TrimSpace(texts[k])
		if text == "" {
			continue
		}
		a, err := reduce.ParseKeyed(text, i.Unit, i.LeastCount)
		if err != nil {
			return c, err
		}
		*into = &event.Keyed{Text: text, Value: a}
		found += text
	}
	switch {
	case strings.TrimSpace(i.Name) == "":
		return c, booking.Refuse(booking.NoSuchPlace, "name the instrument that was checked")
	case found == "":
		return c, booking.Refuse(booking.NoSuchReading, "no part of the instrument was looked at yet")
	case (c.HorizontalFL == nil) != (c.HorizontalFR == nil), (c.VerticalFL == nil) != (c.VerticalFR == nil):
		return c, booking.Refuse(booking.NoSuchReading, "a pair has a reading on both faces: key the other one, or neither")
	}
	if e, ok := c.TwoC(); ok && e.Abs() > 2*reduce.Degree {
		return c, booking.Refuse(booking.ReadingsDeny, "the two horizontal readings are no pair: the faces lie half a circle apart on one mark")
	}
	if e, ok := c.Index(); ok && e.Abs() > reduce.Degree {
		return c, booking.Refuse(booking.ReadingsDeny, "the two vertical readings are no pair on a circle from the %s", i.Circle)
	}
	return c, nil
}

// HandOverNote writes a note to the next crew.
func HandOverNote(text, by string) (event.HandedOver, error) {
	if strings.TrimSpace(text) == "" {
		return event.HandedOver{}, booking.Refuse(booking.ReasonMissing, "the note is empty")
	}
	return event.HandedOver{Text: strings.TrimSpace(text), By: by}, nil
}
