package tui

import (
	"unicode"

	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/tui/widget"
)

// a press is one thing the booker did: a character, a named key, or a touch on a
// row. Touches on other cells are the press of the key that is printed there.
type press struct {
	name string // "enter", "backspace", "up", … or "row", empty for a character
	r    rune
	row  int // of a touched row, what the screen registered for it
}

// String is what key.Matches compares. Letters match whatever their case.
func (p press) String() string {
	if p.name != "" {
		return p.name
	}
	return string(unicode.ToLower(p.r))
}

func char(r rune) press       { return press{r: r} }
func named(name string) press { return press{name: name} }
func rowPress(row int) press  { return press{name: "row", row: row} }

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

// a zone is a rectangle of the window that stands for a press while the view
// that drew it is seen.
type zone struct {
	x, y, w, h int
	p          press
}

// zones are the places to touch in the present view.
type zones struct{ list []zone }

// add makes an area a place to touch.
func (z *zones) add(a widget.Area, p press) {
	if z != nil && a.W > 0 && a.H > 0 {
		z.list = append(z.list, zone{x: a.X, y: a.Y, w: a.W, h: a.H, p: p})
	}
}

// at returns the press of the cell; what was drawn later lies on top.
func (z *zones) at(x, y int) (press, bool) {
	for i := len(z.list) - 1; i >= 0; i-- {
		t := z.list[i]
		if x >= t.x && y >= t.y && x < t.x+t.w && y < t.y+t.h {
			return t.p, true
		}
	}
	return press{}, false
}

// addRun makes one cell a place to touch and joins it to the place on its left.
func (z *zones) addRun(x, y int, p press) {
	if n := len(z.list); n > 0 {
		if l := &z.list[n-1]; l.p == p && l.y == y && l.h == 1 && l.x+l.w == x {
			l.w++
			return
		}
	}
	z.list = append(z.list, zone{x: x, y: y, w: 1, h: 1, p: p})
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
		return -page, true
	case p.is(keys.PageDown):
		return page, true
	}
	return 0, false
}

// listPage is how many rows of a list a page key moves by.
const listPage = 10
