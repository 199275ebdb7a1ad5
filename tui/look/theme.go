// Package look holds every colour of the screens: four themes, each a table
// from what a text is for (its role) to how it is painted.
//
//	day      near-black on white, every pair at least 10:1: for sunlight
//	night    dim amber on black, nothing bright: spares the eyes
//	sixteen  the terminal's own sixteen colours
//	plain    no colour and no other attribute
//
// A theme never carries meaning alone: what a colour says is also said by a word
// or a mark, so the plain theme loses nothing. The sequences are prepared once;
// painting a text is copying bytes.
package look

import "strconv"

// A Role is what a piece of text is for.
type Role uint8

// The roles. Base is the ground of the screen: blanks and running text.
const (
	Base    Role = iota
	Strong       // figures and names that matter most
	Aside        // helper text: the same colour as Base, never grey
	Title        // the heading of a region
	Bar          // the line at the head of the screen
	Key          // a key to press, where it is printed
	Entry        // the entry being keyed
	Good         // met, agrees, saved
	Warn         // marked, to be looked at
	Stop         // refused, on Hold, not saved
	Struck       // a struck figure: legible, with a stroke through it
	Current      // the pointing or row that is next
	Chosen       // the row or field the arrows stand on
	Rule         // lines and frames
	Mark         // what a picture shows: points, rays, legs
	Band         // the limit in a picture
	numRoles
)

var roleNames = [numRoles]string{"base", "strong", "aside", "title", "bar", "key", "entry", "good", "warn", "stop", "struck", "current", "chosen", "rule", "mark", "band"}

// String returns the role's name.
func (r Role) String() string {
	if r < numRoles {
		return roleNames[r]
	}
	return "role " + strconv.Itoa(int(r))
}

// Roles returns every role, for tables and tests.
func Roles() []Role {
	rs := make([]Role, numRoles)
	for i := range rs {
		rs[i] = Role(i)
	}
	return rs
}

// A Paint is how a role looks: two colours and attributes.
type Paint struct {
	Front, Back             Colour
	Bold, Underline, Stroke bool
}

// Signs says which characters a terminal draws well.
type Signs uint8

// The sets of signs.
const (
	Full   Signs = iota // ° ′ ″, lines, blocks and braille
	Blocks              // as Full without braille: a console font
	ASCII               // nothing beyond ASCII of our own
)

// A Theme paints text. It is made once and not changed afterwards.
type Theme struct {
	Name   string
	Signs  Signs
	colour bool
	paint  [numRoles]Paint
	on     [numRoles]string
}

// newTheme prepares the sequences. A role that the table does not name looks
// like Base.
func newTheme(name string, paint map[Role]Paint) *Theme {
	t := &Theme{Name: name, colour: true}
	for r := range t.paint {
		p, ok := paint[Role(r)]
		if !ok {
			p = paint[Base]
		}
		t.paint[r], t.on[r] = p, p.sgr()
	}
	return t
}

// sgr is the sequence that switches to the paint from whatever was before.
func (p Paint) sgr() string {
	b := []byte("\x1b[0")
	for _, a := range []struct {
		set  bool
		code string
	}{{p.Bold, ";1"}, {p.Underline, ";4"}, {p.Stroke, ";9"}} {
		if a.set {
			b = append(b, a.code...)
		}
	}
	b = appendColour(b, p.Front, 30, 90, "38")
	b = appendColour(b, p.Back, 40, 100, "48")
	return string(append(b, 'm'))
}

// appendColour writes the first sixteen colours as the codes that every terminal
// knows, the others by number.
func appendColour(b []byte, c Colour, dark, bright int, extended string) []byte {
	b = append(b, ';')
	switch {
	case c < 8:
		return strconv.AppendInt(b, int64(dark+int(c)), 10)
	case c < 16:
		return strconv.AppendInt(b, int64(bright+int(c)-8), 10)
	}
	b = append(append(b, extended...), ";5;"...)
	return strconv.AppendInt(b, int64(c), 10)
}

// With returns the theme drawing with the given signs.
func (t *Theme) With(s Signs) *Theme {
	u := *t
	u.Signs = s
	return &u
}

// Coloured tells whether the theme writes colours at all.
func (t *Theme) Coloured() bool { return t.colour }

// Paint returns the colours and attributes of a role; ok is false in a theme
// without colour.
func (t *Theme) Paint(r Role) (p Paint, ok bool) {
	if r >= numRoles {
		r = Base
	}
	return t.paint[r], t.colour
}

// On returns the sequence that switches to the role, empty without colour.
func (t *Theme) On(r Role) string {
	if r >= numRoles {
		r = Base
	}
	return t.on[r]
}

// Append writes text painted as r to b and returns to Base. The text is written
// as it is: names go through part.Clean first, or are put into a part.Frame.
func (t *Theme) Append(b []byte, r Role, text string) []byte {
	if !t.colour {
		return append(b, text...)
	}
	b = append(b, t.On(r)...)
	b = append(b, text...)
	return append(b, t.on[Base]...)
}

// Text is Append as a string.
func (t *Theme) Text(r Role, text string) string {
	return string(t.Append(nil, r, text))
}

// Blank tells whether a blank painted as r looks like the ground, so that it
// need not be written at the end of a line.
func (t *Theme) Blank(r Role) bool {
	if !t.colour || r >= numRoles {
		return true
	}
	p := t.paint[r]
	return p.Back == t.paint[Base].Back && !p.Underline && !p.Stroke
}
