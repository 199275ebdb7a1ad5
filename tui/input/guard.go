// Package input stands in front of every field: it decides which key messages of
// bubbletea are keys that a person pressed.
//
// Three things make it necessary. A terminal sends a mouse report or an arrow as
// several bytes, and where a read ends inside them bubbletea v1 delivers the
// rest as text: "\x1b[<0;70" and ";12M" would key 12. One message may carry
// several keys: "123" typed quickly is one message. A paste comes as one message
// too and may hold an Enter.
//
// The rules:
//
//   - a message is taken only if all of its characters may stand in the field;
//   - for 60 ms after an Esc or an Alt message nothing is taken, and what is
//     dropped prolongs the time; Enter never books inside it;
//   - Esc itself counts only when nothing followed it;
//   - the keys of a numeric keypad in application mode (ESC O p … y, M) are the
//     digits and the Enter that they are;
//   - a paste is offered, never taken.
//
// A sequence whose parts come more than 60 ms apart is not recognised. The price
// is that a digit keyed within 60 ms of a real Esc is dropped, and said.
package input

import (
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// Quiet is how long nothing is taken after an Esc or an Alt message.
const Quiet = 60 * time.Millisecond

// A Field says what the key messages are meant for.
type Field uint8

// The fields.
const (
	Reading Field = iota + 1 // digits and separators; single letters are commands
	Text                     // names, reasons, remarks: every printable character
	Command                  // no field: single letters and digits are commands
)

// A Kind says what a message turned out to be.
type Kind uint8

// The kinds of results.
const (
	Nothing      Kind = iota // part of a broken sequence, or not a key: do nothing
	Chars                    // characters for the field, in Runes
	Letter                   // characters in Runes that are no part of the field: each is a command
	Enter                    // the Enter key
	Back                     // the Backspace key
	Key                      // another key (arrows, Tab …), in Msg
	Esc                      // the Esc key, known to be one
	Wait                     // perhaps Esc: call Due after Quiet
	Refused                  // a message that holds what may not stand here, in Text
	Offer                    // a paste that may stand in the field if the booker says so, in Text
	PasteRefused             // a paste that may not, in Text
	Lost                     // Enter right behind Esc or a broken sequence: dropped, for what was keyed before it may have been too
)

// A Result is what to do about one message.
type Result struct {
	Kind  Kind
	Runes []rune
	Text  string
	Msg   tea.KeyMsg
}

// A Guard watches the stream of key messages. The zero value is not usable; see
// New.
type Guard struct {
	now    func() time.Time
	until  time.Time // nothing is taken before
	esc    bool      // an Esc waits for its time to pass
	keypad bool      // ESC O came: the next character may be a keypad key
	takes  func(rune) bool
}

// New returns a guard that tells the time by now. takes says which characters
// may stand in a Reading; nil means digits, full stop, comma and space.
func New(now func() time.Time, takes func(rune) bool) *Guard {
	if takes == nil {
		takes = func(r rune) bool { return r >= '0' && r <= '9' || r == '.' || r == ',' || r == ' ' }
	}
	return &Guard{now: now, takes: takes}
}

// Quiet tells whether the guard takes nothing at the moment.
func (g *Guard) Quiet() bool { return g.now().Before(g.until) }

// Due is to be called when Quiet has passed since a Wait result (a tea.Tick): it
// returns Esc if the key was really pressed, Nothing if more came after it.
func (g *Guard) Due() Result {
	if !g.esc || g.Quiet() {
		return Result{}
	}
	g.esc = false
	return Result{Kind: Esc}
}

// Key judges one key message for the given field.
func (g *Guard) Key(msg tea.KeyMsg, f Field) Result {
	quiet := g.Quiet()
	if !quiet {
		g.keypad = false
	}
	switch {
	case msg.Paste:
		return g.paste(string(msg.Runes), f)
	case msg.Type == tea.KeyEsc:
		g.hold(!quiet)
		return Result{Kind: Wait}
	case msg.Alt:
		g.hold(false)
		g.keypad = msg.Type == tea.KeyRunes && string(msg.Runes) == "O"
		return Result{}
	case quiet && g.keypad:
		return g.fromKeypad(msg, f)
	case quiet && !complete(msg.Type):
		g.hold(false)
		return lost(msg)
	}
	return g.judge(msg, f)
}

// lost says of a message dropped in the quiet time whether it was surely a key:
// Enter is part of no sequence. Digits may be what is left of a broken one.
func lost(msg tea.KeyMsg) Result {
	if msg.Type == tea.KeyEnter {
		return Result{Kind: Lost}
	}
	return Result{}
}

// hold starts the quiet time; esc tells whether an Esc key may be behind it.
func (g *Guard) hold(esc bool) {
	g.until, g.esc, g.keypad = g.now().Add(Quiet), esc, false
}

// complete tells whether a message can only come from a whole sequence or from a
// key held down with Ctrl, so that it is no remainder of a broken one.
func complete(t tea.KeyType) bool {
	switch t {
	case tea.KeyRunes, tea.KeySpace, tea.KeyEnter, tea.KeyTab, tea.KeyBackspace, tea.KeyCtrlAt:
		return false
	}
	return true
}

// judge looks at a message outside the quiet time.
func (g *Guard) judge(msg tea.KeyMsg, f Field) Result {
	switch msg.Type {
	case tea.KeyEnter, tea.KeyCtrlJ:
		return Result{Kind: Enter}
	case tea.KeyBackspace:
		return Result{Kind: Back}
	case tea.KeyRunes, tea.KeySpace:
		return g.runes(msg.Runes, f)
	}
	return Result{Kind: Key, Msg: msg}
}

// runes applies the whole-message rule.
func (g *Guard) runes(rs []rune, f Field) Result {
	if len(rs) == 0 {
		return Result{}
	}
	switch f {
	case Text:
		if all(rs, printable) {
			return Result{Kind: Chars, Runes: rs}
		}
	case Reading:
		if all(rs, g.takes) {
			return Result{Kind: Chars, Runes: rs}
		}
		if len(rs) == 1 {
			return Result{Kind: Letter, Runes: rs}
		}
	default:
		if len(rs) == 1 || all(rs, isLetter) || all(rs, isDigit) {
			return Result{Kind: Letter, Runes: rs}
		}
	}
	return Result{Kind: Refused, Text: string(rs)}
}

// fromKeypad decodes the character after ESC O.
func (g *Guard) fromKeypad(msg tea.KeyMsg, f Field) Result {
	if msg.Type != tea.KeyRunes || len(msg.Runes) == 0 {
		g.hold(false)
		return Result{}
	}
	first, rest := msg.Runes[0], msg.Runes[1:]
	var r rune
	switch {
	case first >= 'p' && first <= 'y':
		r = first - 'p' + '0'
	case first == 'M' && len(rest) == 0:
		g.until, g.keypad = time.Time{}, false
		return Result{Kind: Enter}
	case first == 'n' || first == 'l':
		r = '.'
	case first == 'm':
		r = '-'
	default:
		g.hold(false)
		return Result{}
	}
	g.until, g.keypad = time.Time{}, false
	return g.runes(append([]rune{r}, rest...), f)
}

// paste judges pasted text; the line ends around it do not count.
func (g *Guard) paste(s string, f Field) Result {
	s = strings.Trim(s, "\r\n")
	switch f {
	case Reading:
		s = strings.TrimSpace(s)
		if s != "" && all([]rune(s), func(r rune) bool { return isDigit(r) || r == '.' || r == ' ' }) {
			return Result{Kind: Offer, Text: s}
		}
	case Text:
		if s != "" && all([]rune(s), printable) {
			return Result{Kind: Offer, Text: s}
		}
	}
	return Result{Kind: PasteRefused, Text: s}
}

func all(rs []rune, ok func(rune) bool) bool {
	for _, r := range rs {
		if !ok(r) {
			return false
		}
	}
	return true
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

func isLetter(r rune) bool { return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' }

func printable(r rune) bool { return r >= 0x20 && r != 0x7f && (r < 0x80 || r >= 0xa0) }
