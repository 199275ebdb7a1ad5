package tui

import (
	"encoding/json"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/readback/tui/look"
)

// preferences are choices about the screens. They are remembered for the next run and
// are no part of the book.
type preferences struct {
	Theme  string // a name of theme.Names; empty: day
	Keypad bool   // the keypad is shown
	ASCII  bool   // no signs beyond ASCII
	Mouse  bool   // touches and the mouse are listened to
	Aloud  bool   // what is booked is read back aloud
	Bell   bool   // a bell at a marked entry and at Hold
}

// remembered are the choices of an earlier run; what cannot be read is as if it had never
// been chosen. Where listening to touches would keep the on-screen keyboard from opening
// (Termux), it is off until chosen.
func (o Options) remembered() preferences {
	p := preferences{Mouse: !strings.Contains(o.getenv("PREFIX"), "com.termux")}
	_ = json.Unmarshal(o.Remembered, &p)
	if o.Theme != "" {
		p.Theme = o.Theme
	}
	p.ASCII = p.ASCII || o.ASCII
	return p
}

// getenv reads the environment, that of a terminal of 256 colours where none is given.
func (o Options) getenv(name string) string {
	if o.Getenv == nil {
		return map[string]string{"TERM": "xterm-256color"}[name]
	}
	return o.Getenv(name)
}

// prefer changes and remembers the preferences, and listens to touches as they say.
func (a *app) prefer(p preferences) tea.Cmd {
	mouse := p.Mouse != a.v.prefs.Mouse
	a.usePreferences(p)
	if text, err := json.Marshal(p); err == nil && a.opts.Remember != nil {
		a.opts.Remember(text)
	}
	switch {
	case mouse && p.Mouse:
		return tea.EnableMouseCellMotion
	case mouse:
		return tea.DisableMouse
	}
	return nil
}

// usePreferences takes over preferences and the theme that follows from them.
func (a *app) usePreferences(p preferences) {
	a.v.prefs, a.v.theme = p, look.Pick(p.Theme, p.ASCII, a.opts.getenv)
	a.v.version++
}
