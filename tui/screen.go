package tui

import "example.org/readback/tui/input"

// a screen is one picture with its own keys. It changes nothing but itself and
// asks app for everything else. Its size is an argument of draw, so there is none
// to forget.
type screen interface {
	// enter is called when the screen becomes the one that is seen.
	enter(v *view)
	// take gives a key or touch to what is written, chosen or scrolled on the screen. ok
	// is false for one that is none of it: it is held against the actions.
	take(v *view, p press) (as []ask, ok bool)
	// actions are what keys do, in the order of their weight: the first stand in the key
	// line, the others on the page behind it.
	actions(v *view) []action
	// draw draws the screen w × h cells large, with the places to touch in it.
	draw(v *view, w, h int) block
	// field says what characters are meant for.
	field(v *view) input.Field
}

// a screenID names a screen for navigation: screens do not know each other.
type screenID int

const (
	onBooking screenID = iota
	onPage
	onPointings
	onStrike
	onCompare
	onVerdict
	onWork
	onSetup
	onWriting
	onText
	onOptions
	onAmend
	onFailed
	onDay
	onSlip
	numScreens
)

// newScreens makes every screen but the four that app keeps by name, onBooking,
// onWriting, onSlip and onWork. With them this is the whole list.
func newScreens() [numScreens]screen {
	return [numScreens]screen{
		onPage:      &pageScreen{},
		onPointings: &pointingsScreen{},
		onStrike:    &strikeScreen{},
		onCompare:   &compareScreen{},
		onVerdict:   &verdictScreen{},
		onSetup:     &setupScreen{},
		onAmend:     &setupScreen{amends: true},
		onText:      &textScreen{},
		onOptions:   &optionsScreen{},
		onFailed:    &failedScreen{},
		onDay:       &dayScreen{},
	}
}
