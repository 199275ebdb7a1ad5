package tui

import (
	"errors"

	"example.org/readback/booking/check/completion"
	"example.org/readback/booking/event"
	"example.org/readback/reduce"
	"example.org/readback/tui/look"
)

// a judgement is how the entry stands, in words, a mark and a colour. booking
// judges; here it is put into words for the screen.
type judgement struct {
	state entryState
	text  string
	out   int // how many of its digits are drawn as what cannot be
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
func (s entryState) mark() (sign, word string, role look.Role) {
	switch s {
	case entryOpen:
		return "▸", "keying", look.Idle
	case entryCannot:
		return "✗", "cannot", look.Stop
	case entryMarked:
		return "!", "marked", look.Warn
	case entryWarned:
		return "!", "look", look.Warn
	case entryFits:
		return "✓", "ready", look.Good
	}
	return "○", "empty", look.Idle
}

// judge says how the text stands as a reading of the pointing.
func (w *work) judge(text string) judgement {
	if text == "" {
		return judgement{state: entryEmpty, text: "Key the reading as it is called, then Enter."}
	}
	marked := w.slot.Quantity.Angular() && w.exp.Marked(text)
	value, err := w.setup.Parse(w.slot, text)
	switch {
	case err == nil:
	case errors.Is(err, reduce.ErrIncomplete) || w.canGoOn(text):
		if marked {
			return judgement{state: entryMarked, text: w.exp.MarkedText(), out: w.outDigits(text)}
		}
		return judgement{state: entryOpen, text: "More digits come."}
	default:
		return judgement{state: entryCannot, text: sentence(err), out: len(text)}
	}
	j := w.judgeReading(value, marked)
	if j.state == entryMarked {
		j.out = w.outDigits(text)
	}
	return j
}

// judgeReading says how a complete reading stands. One that a check would stop
// is still open while more digits can bring it where it is expected.
func (w *work) judgeReading(value int64, marked bool) judgement {
	found := w.exp.Check(value)
	for _, level := range []event.Severity{event.Stop, event.Warn, event.Note} {
		for _, f := range found {
			switch {
			case f.Severity != level:
			case level == event.Stop && !marked:
				return judgement{state: entryOpen, text: "More digits come."}
			default:
				return judgement{state: stateOf(level), text: f.Text}
			}
		}
	}
	return judgement{state: entryFits, text: "Read it back aloud, then Enter."}
}

// outDigits is how many digits stood there when the text left what is expected.
func (w *work) outDigits(text string) int {
	n := 0
	for _, r := range text[:min(w.exp.OffAt(text), len(text))] {
		if r >= '0' && r <= '9' {
			n++
		}
	}
	return n
}

func stateOf(s event.Severity) entryState {
	switch s {
	case event.Stop:
		return entryMarked
	case event.Warn:
		return entryWarned
	}
	return entryFits
}

// canGoOn tells whether more keys can make a circle reading of a text that is
// none as it stands.
func (w *work) canGoOn(text string) bool {
	if !w.slot.Quantity.Angular() {
		return false
	}
	i := w.setup.Spec.Instrument
	set := completion.Completions(text, i.Unit, i.LeastCount)
	return set.Intervals() > 0
}
