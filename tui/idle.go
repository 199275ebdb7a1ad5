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
func (a *App) typed(p press) bool {
	return p.isChar() && (a.field() == input.Text || a.field() == input.Reading && isEntryChar(p.r))
}

// idle tells whether the screen stands as it was drawn before a press.
func (a *App) idle(before drawing) bool {
	if before.lines == nil || before.of != a.active || a.more || a.modal != nil {
		return false
	}
	return slices.Equal(before.lines, a.screen().draw(&a.v, before.w, before.h).lines)
}

// whyIdle says why a press changed nothing.
func (a *App) whyIdle(p press) string {
	v := &a.v
	lifted := v.setup.Lift != nil
	switch {
	case p.is(keys.Up), p.is(keys.Down), p.is(keys.PageUp), p.is(keys.PageDown):
		return "There is nothing more that way."
	case p.is(keys.Left), p.is(keys.Right):
		return "There is nothing to choose here."
	case p.is(keys.Back):
		return "There is nothing to take back here."
	case a.active == onFailed:
		return "The book is read-only: O opens it again, Q leaves."
	}
	if t := a.whyHere(p, lifted); t != "" {
		return t
	}
	key := printed(p.String())
	if a.field() == input.Text {
		return key + " does nothing here: Esc goes back."
	}
	return key + " does nothing here. ? shows every key of this screen."
}

// whyHere says what the key would need on the screen that is seen.
func (a *App) whyHere(p press, lifted bool) string {
	v := &a.v
	switch a.active {
	case onBooking:
		switch {
		case p.is(keys.Home):
			return "This is the pointing that is called."
		case p.is(keys.Void):
			return "No round is begun that could be void."
		case p.is(keys.Hidden):
			return "Nothing is called, so nothing is hidden."
		case p.is(keys.ReadAgain):
			return "A asks the observer of a drill to read again. Here the observer is a person: ask."
		case p.is(keys.TakeLeft):
			return "Nothing was left half keyed."
		case p.is(keys.Column):
			return "The page has room for both figures: there is nothing to switch."
		}
	case onPage, onCompare, onVerdict:
		switch {
		case lifted && (p.is(keys.Another) || p.is(keys.Lift) || p.is(keys.Height)):
			return "The tripod was lifted: nothing more is observed in this setup."
		case p.is(keys.Height):
			return "The instrument height is measured again already: strike it to measure it once more."
		case p.is(keys.LeaveOut), p.is(keys.TakeBack):
			return "This cannot be done to the round chosen: ← and → choose another."
		case p.is(keys.New):
			return "The tripod stands: lift it, or go to the work list for another station."
		case v.setup.Void != nil:
			return "The setup was struck: it stands as it is."
		}
	case onWork:
		switch {
		case p.is(keys.Home), p.is(keys.Work):
			return "No setup is open to go back to: N begins one."
		case v.list.err != nil:
			return "The work list cannot be read: no setup can be begun until it is."
		}
	case onStrike, onPointings:
		if p.is(keys.OutOfMeans) || p.is(keys.Again) {
			return "There is no reading here that this can be done to."
		}
	}
	return ""
}
