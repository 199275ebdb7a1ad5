package tui

import (
	"slices"

	"example.org/readback/tui/input"
)

// A key that changed nothing says why. Whether it did is seen on the screen
// itself: it is drawn once more and held against what was drawn before the key.

// a drawing is a screen as it was drawn last.
type drawing struct {
	of    screenID
	w, h  int
	lines []string
}

// typed tells whether a press is a character of a text or a reading, which says by
// itself whether it was taken.
func (a *app) typed(p press) bool {
	return p.isChar() && (a.field() == input.Text || a.field() == input.Reading && isEntryChar(p.r))
}

// idle tells whether the screen stands as it was drawn before a press.
func (a *app) idle(before drawing) bool {
	if before.lines == nil || before.of != a.active || a.more || a.modal != nil {
		return false
	}
	return slices.Equal(before.lines, a.screen().draw(&a.v, before.w, before.h).lines)
}

// whyIdle says why a press changed nothing.
func (a *app) whyIdle(p press) string {
	switch {
	case p.is(keys.Up), p.is(keys.Down), p.is(keys.PageUp), p.is(keys.PageDown):
		return "There is nothing more that way."
	case p.is(keys.Left), p.is(keys.Right):
		return "There is nothing to choose here."
	case p.is(keys.Back):
		return "There is nothing to take back here."
	case a.active == onFailed && a.v.failure != nil && a.v.failure.done:
		return "The book is open again: B goes back to booking."
	case a.active == onFailed:
		return "The book is read-only: O opens it again, Q leaves."
	}
	key := printed(p.String())
	if a.field() == input.Text {
		return key + " does nothing here: Esc goes back."
	}
	return key + " does nothing here. ? shows every key of this screen."
}
