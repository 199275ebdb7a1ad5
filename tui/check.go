package tui

import (
	"errors"

	"example.org/readback/booking"
	"example.org/readback/booking/entry"
	"example.org/readback/reduce"
	"example.org/readback/tui/theme"
)

// a judgement is how the entry stands, in words, a mark and a colour. booking
// judges; here it is put into words for the screen.
type judgement struct {
	state entryState
	text  string
}

type entryState int

const (
	entryEmpty  entryState = iota
	entryOpen              // more digits may come
	entryCannot            // no reading of this instrument
	entryMarked            // a check stops it
	entryWarned            // a check warns
	entryFits              // complete, and nothing speaks against it
)

// mark is the sign of a state, a shape beside the colour.
func (s entryState) mark() (sign, word string, role theme.Role) {
	switch s {
	case entryOpen:
		return "▸", "keying", theme.Base
	case entryCannot:
		return "✗", "not possible", theme.Stop
	case entryMarked:
		return "!", "marked", theme.Warn
	case entryWarned:
		return "!", "look", theme.Warn
	case entryFits:
		return "✓", "ready", theme.Good
	}
	return "○", "empty", theme.Base
}

// judge says how the text stands as a reading of the pointing.
func (w *work) judge(text string) judgement {
	if text == "" {
		return judgement{state: entryEmpty, text: "Key the reading as it is called, then Enter."}
	}
	value, err := w.setup.Parse(w.slot, text)
	if err != nil {
		return w.judgeOpen(text, err)
	}
	for _, level := range []booking.Severity{booking.Stop, booking.Warn, booking.Note} {
		for _, f := range w.exp.Check(value) {
			if f.Severity == level {
				return judgement{state: stateOf(level), text: f.Text}
			}
		}
	}
	return judgement{state: entryFits, text: "Read it back aloud, then Enter."}
}

func stateOf(s booking.Severity) entryState {
	switch s {
	case booking.Stop:
		return entryMarked
	case booking.Warn:
		return entryWarned
	}
	return entryFits
}

// judgeOpen says how a text stands that is no reading yet, or never will be.
func (w *work) judgeOpen(text string, err error) judgement {
	if errors.Is(err, reduce.ErrIncomplete) || w.canGoOn(text) {
		return judgement{state: entryOpen, text: "More digits come."}
	}
	return judgement{state: entryCannot, text: sentence(err)}
}

// canGoOn tells whether more keys can make a circle reading of a text that is
// none as it stands.
func (w *work) canGoOn(text string) bool {
	if !w.slot.Quantity.Angular() {
		return false
	}
	i := w.setup.Spec.Instrument
	set := entry.Completions(text, i.Unit, i.LeastCount)
	return set.Intervals() > 0
}
