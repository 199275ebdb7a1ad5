// Package tui is what the booker sees and touches: one root model and one file
// per screen.
//
//	key, touch ─> guard ─> press ─> screen ─> asks ─> app ─> booking, Port
//	                                  ^                 │
//	                                  └──── view <──────┘
//
// A key message is judged by the guard and becomes presses. The active screen
// takes a press and returns asks: book this text, strike that reading, go to
// that screen. Only app carries asks out. It calls booking, which judges; the
// event that comes back is folded into the setup at once, queued on the one
// writer through the Port, and shown as being saved until Written arrives. After one with
// an error everything is frozen until the file has been reopened, and the
// state is folded anew from what is found in it.
//
// Screens see a view and change nothing but themselves. What they draw as a cell
// to be touched is a press under another name: every action by touch is one that
// a key does, and the bar of actions is drawn from the bindings themselves.
//
// Nothing moves by itself: there is no clock on the screen and no timer but the
// sixtieth of a second that tells an Esc from the start of a broken sequence.
package tui
