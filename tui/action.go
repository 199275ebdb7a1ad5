package tui

import (
	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/tui/input"
)

// an action is what a key does on a screen. The key line, the page of keys and the
// cells to touch are made of the actions that a press is held against, so nothing is
// listed that does nothing.
type action struct {
	key      key.Binding
	do       func() []ask // nil: the screen takes the press before
	unlisted bool         // it does it and is not told
	off      bool         // it cannot be done now
	why      string       // said where it cannot; empty: that the key does nothing here
}

// does is an action.
func does(b key.Binding, do func() []ask) action { return action{key: b, do: do} }

// gives is an action that only asks.
func gives(b key.Binding, as ...ask) action {
	return action{key: b, do: func() []ask { return as }}
}

// too are more keys for an action, which are not told.
func too(do func() []ask, bs ...key.Binding) (as []action) {
	for _, b := range bs {
		as = append(as, action{key: b, do: do, unlisted: true})
	}
	return as
}

// named puts another word beside the key.
func (x action) named(word string) action {
	x.key = withHelp(x.key, word)
	return x
}

// when says whether the action can be done now, and why not.
func (x action) when(can bool, why string) action {
	x.off, x.why = !can, why
	return x
}

// pressed gives a press to a screen.
func pressed(s screen, v *view, p press) []ask {
	if as, ok := s.take(v, p); ok {
		return as
	}
	return act(s.actions(v), p)
}

// act does what a press is for.
func act(as []action, p press) []ask {
	why := ""
	for _, x := range as {
		switch {
		case !p.is(x.key):
		case x.do == nil && !x.off:
			return nil
		case !x.off:
			return x.do()
		case why == "":
			why = x.why
		}
	}
	if why != "" {
		return asks(say{text: why})
	}
	return nil
}

// listed are the keys of the actions that can be done now.
func listed(as []action) (ks []key.Binding) {
	for _, x := range as {
		if !x.off && !x.unlisted {
			ks = append(ks, x.key)
		}
	}
	return ks
}

// moves are the keys that move through a screen, which takes them before.
func moves(bs ...key.Binding) (as []action) {
	for _, b := range bs {
		as = append(as, action{key: b})
	}
	return as
}

// a commanded screen has no field: characters are commands.
type commanded struct{}

func (commanded) enter(*view)                     {}
func (commanded) take(*view, press) ([]ask, bool) { return nil, false }
func (commanded) field(*view) input.Field         { return input.Command }
