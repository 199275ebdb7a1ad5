// Package widget holds the parts of the screens that no ordinary package gives:
// the entry of a reading, which knows how an angle is keyed; figures and names
// tall enough to be read at arm's length; and a keypad whose cells never move.
//
// The parts are data and drawing only: they take a theme and a size, and return
// painted lines. Nothing here knows a key message.
package widget
