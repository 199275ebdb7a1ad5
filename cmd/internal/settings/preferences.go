package settings

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"

	"example.org/readback/tui"
)

// Preferences remembers choices about the screens in a small file of the user's
// configuration directory. Without one they last as long as the program runs.
// Where listening to touches would keep the on-screen keyboard from opening
// (Termux), it is off until chosen.
type Preferences struct {
	file string // empty: not remembered
	now  tui.Preferences
}

// LoadPreferences reads the remembered choices; what cannot be read is as if it
// had never been chosen.
func LoadPreferences(getenv func(string) string) *Preferences {
	p := &Preferences{now: tui.Preferences{Mouse: !strings.Contains(getenv("PREFIX"), "com.termux")}}
	dir, err := os.UserConfigDir()
	if err != nil {
		return p
	}
	p.file = filepath.Join(dir, "readback", "screen.json")
	if text, err := os.ReadFile(p.file); err == nil {
		_ = json.Unmarshal(text, &p.now)
	}
	return p
}

// Get returns the choices.
func (p *Preferences) Get() tui.Preferences { return p.now }

// Set remembers the choices. A failure to write them costs nothing that was
// booked and is not worth a word on the screen.
func (p *Preferences) Set(v tui.Preferences) {
	p.now = v
	if p.file == "" {
		return
	}
	text, err := json.Marshal(v)
	if err != nil || os.MkdirAll(filepath.Dir(p.file), 0o700) != nil {
		return
	}
	tmp := p.file + ".new"
	if os.WriteFile(tmp, text, 0o600) == nil {
		_ = os.Rename(tmp, p.file)
	}
}
