package tui

import (
	"unicode"

	"github.com/charmbracelet/bubbles/key"
)

// a press is one thing the booker did: a character, a named key, or a touch on
// something that has no key of its own. Touches on other cells are the press of
// the key that is printed there.
type press struct {
	name string // "enter", "backspace", "up", …; empty for a character or a touch
	r    rune
	on   any // what was touched: an onRow, onField, onAnswer, onOffer
}

// What may be touched that has no key.
type (
	onRow    int    // a row of a list, an answer, a round
	onField  int    // a field of the form
	onAnswer int    // the answer of a field, or a way to end a writing
	onOffer  string // a name on offer
)

// String is what key.Matches compares. Letters match whatever their case.
func (p press) String() string {
	switch {
	case p.on != nil:
		return "touch"
	case p.name != "":
		return p.name
	}
	return string(unicode.ToLower(p.r))
}

func char(r rune) press       { return press{r: r} }
func named(name string) press { return press{name: name} }
func touching(on any) press   { return press{on: on} }

// isChar tells whether the press is a character.
func (p press) isChar() bool { return p.name == "" && p.on == nil }

// row returns the row that was touched.
func (p press) row() (int, bool) {
	r, ok := p.on.(onRow)
	return int(r), ok
}

// is tells whether the press is one of the binding's keys.
func (p press) is(b key.Binding) bool { return key.Matches(p, b) }

// pressOf returns the press of a binding's first key.
func pressOf(b key.Binding) press {
	k := b.Keys()[0]
	if rs := []rune(k); len(rs) == 1 {
		return char(rs[0])
	}
	return named(k)
}

// rows says by how many rows an arrow or a page key moves where a page has so
// many rows; ok is false for any other press.
func (p press) rows(page int) (by int, ok bool) {
	switch {
	case p.is(keys.Up):
		return -1, true
	case p.is(keys.Down):
		return 1, true
	case p.is(keys.PageUp):
		return -max(page, 1), true
	case p.is(keys.PageDown):
		return max(page, 1), true
	}
	return 0, false
}

// listPage is how many rows of a list a page key moves by.
const listPage = 10
