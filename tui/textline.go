package tui

import (
	"slices"
	"strings"
	"unicode"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/readback/booking/spec"
	"example.org/readback/tui/look"
)

// mostText is how many characters a name, a reason or a remark may have.
const mostText = 200

// a textLine is one line of text being written: the text input of bubbles, with
// a cursor that stands still, for a blinking one would wake the program.
type textLine struct {
	in     textinput.Model
	offers []string // the names that a completion goes through
	at     int      // the one that is written
}

func newTextLine() textLine {
	in := textinput.New()
	in.Prompt, in.CharLimit = "", mostText
	in.Cursor.SetMode(cursor.CursorStatic)
	in.Focus()
	return textLine{in: in}
}

// suggests gives the names that may complete what is written.
func (l *textLine) suggests(names []string) {
	l.in.ShowSuggestions = true
	l.in.SetSuggestions(names)
}

// completions are the names that begin with what is written and go on behind it: all of
// them where nothing is written yet, and where none begins so the one it may be a slip of.
func (l *textLine) completions() []string {
	text, names := l.in.Value(), l.in.MatchedSuggestions()
	if text == "" {
		return l.in.AvailableSuggestions()
	}
	if near, ok := spec.Near(text, l.in.AvailableSuggestions()); ok && len(names) == 0 {
		return []string{near}
	}
	return slices.DeleteFunc(names, func(n string) bool { return n == text })
}

// complete writes the next name that completes the text, or with −1 the one before.
func (l *textLine) complete(n int) bool {
	if !l.atEnd() {
		return false
	}
	if len(l.offers) == 0 || l.in.Value() != l.offers[l.at] {
		if l.offers, l.at = l.completions(), -1; n < 0 || len(l.offers) == 0 {
			l.offers = nil
			return false
		}
	}
	k := len(l.offers)
	l.at = ((l.at+n)%k + k) % k
	l.Set(l.offers[l.at])
	return true
}

// strokes are the named keys that a text line takes.
var strokes = map[string]tea.KeyType{
	"left": tea.KeyLeft, "right": tea.KeyRight, "home": tea.KeyHome, "end": tea.KeyEnd, "backspace": tea.KeyBackspace, "delete": tea.KeyDelete,
	"ctrl+a": tea.KeyCtrlA, "ctrl+e": tea.KeyCtrlE, "ctrl+u": tea.KeyCtrlU, "ctrl+k": tea.KeyCtrlK, "ctrl+w": tea.KeyCtrlW,
}

// press gives a press to the line; it tells whether the line was changed by it.
func (l *textLine) press(p press) bool {
	before, at := l.in.Value(), l.in.Position()
	switch k, ok := strokes[p.name]; {
	case ok:
		l.in, _ = l.in.Update(tea.KeyMsg{Type: k})
	case p.isChar() && !unicode.In(p.r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Co):
		l.in, _ = l.in.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{p.r}})
	}
	return l.in.Value() != before || l.in.Position() != at
}

// take gives a press to the line; ok is false for one that is neither a character nor
// changes it.
func (l *textLine) take(p press) (as []ask, ok bool) {
	if ok = l.press(p); !ok && p.isChar() {
		return asks(say{text: "The field is full, or does not take this character.", bad: true}), true
	}
	return nil, ok
}

// Set replaces the text and puts the cursor at its end.
func (l *textLine) Set(s string) {
	l.in.SetValue(s)
	l.in.CursorEnd()
	l.in.SetSuggestions(l.in.AvailableSuggestions()) // it matches them only when a key comes
}

// Text returns what was written.
func (l *textLine) Text() string { return l.in.Value() }

// atEnd tells whether the cursor stands behind the text.
func (l *textLine) atEnd() bool { return l.in.Position() >= len([]rune(l.in.Value())) }

// view draws the line in w cells with its cursor, which without colours is a sign of
// its own.
func (l *textLine) view(t *look.Theme, w int) string {
	if !t.Coloured() {
		rs := []rune(l.in.Value())
		at := min(l.in.Position(), len(rs))
		sign := "|"
		if at == len(rs) {
			sign = "_"
		}
		return t.In(look.Strong, tail(string(rs[:at]), w-2)+sign+string(rs[at:]))
	}
	in := l.in
	in.ShowSuggestions = false // they stand beneath, whole
	in.Width = max(w-1, 1)
	in.TextStyle = t.Style(look.Strong)
	in.Cursor.Style, in.Cursor.TextStyle = t.Style(look.Strong), t.Style(look.Strong)
	in.SetCursor(in.Position())
	return look.FitLine(in.View(), w)
}

// tail keeps the end of a text that is longer than w cells.
func tail(s string, w int) string {
	rs := []rune(look.Clean(s))
	for len(rs) > 0 && look.Width(string(rs)) > w {
		rs = rs[1:]
	}
	return string(rs)
}

// splitLines takes a block of lines apart.
func splitLines(s string) []string { return strings.Split(s, "\n") }
