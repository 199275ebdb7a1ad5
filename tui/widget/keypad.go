package widget

import (
	"strings"

	"example.org/readback/tui/look"
)

// A PadKey is one cell of the keypad.
type PadKey struct {
	Rune       rune   // '0'-'9', '.', ' ', one of those below, or a letter
	Sign, Word string // what stands on it, above each other
}

// The keys of the keypad that are no characters of a reading.
const (
	PadBack  rune = '\b'
	PadEnter rune = '\r'
)

// A PadCell is a key with its place in the keypad, the lines around it counted.
type PadCell struct {
	PadKey
	X, Y, W, H int
}

// A Keypad is the keypad of a window. Its cells follow from the size of the
// window alone, never from what is keyed, asked or written beside it, so that a
// finger finds them blindly.
type Keypad struct {
	W, H       int // all of it
	cell, rows int // inside of one cell
	small      bool
}

// KeypadFor returns the keypad of a window, ok false where there is no room for
// one.
func KeypadFor(w, h int) (k Keypad, ok bool) {
	switch {
	case w < 60 || h < 20:
		return k, false
	case w >= 140 && h >= 40:
		k.cell, k.rows = 10, 5
	case w >= 100 && h >= 30:
		k.cell, k.rows = 8, 4
	case w >= 80 && h >= 24:
		k.cell, k.rows = 7, 3
	default:
		k.cell, k.rows, k.small = 5, 2, true
	}
	k.W, k.H = 4*k.cell+5, 5*k.rows+6
	return k, true
}

// Cells returns the cells. While a question is asked the answer row holds No on
// its left half and Yes on its right half; the place of Yes is never used for
// anything else.
func (k Keypad) Cells(asking bool) []PadCell {
	dx, dy := k.cell+1, k.rows+1
	at := func(key PadKey, col, row, w, h int) PadCell {
		return PadCell{key, col * dx, row * dy, w*dx + 1, h*dy + 1}
	}
	var cells []PadCell
	switch {
	case asking:
		cells = append(cells, at(PadKey{'n', "N", "no, anew"}, 0, 0, 2, 1), at(PadKey{'y', "Y", "yes, this"}, 2, 0, 2, 1))
	case k.small:
		cells = append(cells, at(PadKey{'?', "?", "more"}, 0, 0, 2, 1))
	default:
		cells = append(cells, at(PadKey{'s', "S", "strike"}, 0, 0, 1, 1), at(PadKey{'?', "?", "more"}, 1, 0, 1, 1))
	}
	for i, r := range "789456123" {
		cells = append(cells, at(PadKey{r, string(r), ""}, i%3, 1+i/3, 1, 1))
	}
	return append(cells,
		at(PadKey{PadBack, "⌫", "back"}, 3, 1, 1, 1), at(PadKey{' ', "", "space"}, 3, 2, 1, 1),
		at(PadKey{'0', "0", ""}, 0, 4, 2, 1), at(PadKey{'.', ".", ""}, 2, 4, 1, 1), at(PadKey{PadEnter, "Enter", "book"}, 3, 3, 1, 2))
}

// Draw draws the keypad. ready paints Enter as the key to press; while a question
// is asked the digits are quiet.
func (k Keypad) Draw(t *look.Theme, asking, ready bool) []string {
	g := newGrid(k.W, k.H)
	g.box(0, 0, k.W, k.H)
	g.box(2*(k.cell+1), 0, 2*(k.cell+1)+1, k.rows+2) // the right half of the answer row
	for _, c := range k.Cells(asking) {
		g.box(c.X, c.Y, c.W, c.H)
		role := look.Strong
		switch {
		case c.Rune == 'y' || c.Rune == PadEnter && ready && !asking:
			role = look.PadMain
		case asking && c.Rune == 'n':
			role = look.Cell
		case asking:
			role = look.Quiet
		}
		g.words(c, role)
	}
	return g.lines(t)
}

// a grid is the lines of the keypad before they are painted: which way lines
// leave each cell, and the words.
type grid struct {
	w, h  int
	arms  []uint8
	text  []rune
	roles []look.Role
}

func newGrid(w, h int) *grid {
	return &grid{w, h, make([]uint8, w*h), []rune(strings.Repeat(" ", w*h)), make([]look.Role, w*h)}
}

// The arms of a line.
const (
	up uint8 = 1 << iota
	down
	left
	right
)

var corners = map[uint8]rune{
	left | right: '─', up | down: '│', down | right: '┌', down | left: '┐', up | right: '└', up | left: '┘',
	up | down | right: '├', up | down | left: '┤', down | left | right: '┬', up | left | right: '┴', up | down | left | right: '┼',
}

func (g *grid) box(x, y, w, h int) {
	for i := x; i < x+w; i++ {
		for _, j := range []int{y, y + h - 1} {
			if i > x {
				g.arms[j*g.w+i] |= left
			}
			if i < x+w-1 {
				g.arms[j*g.w+i] |= right
			}
		}
	}
	for j := y; j < y+h; j++ {
		for _, i := range []int{x, x + w - 1} {
			if j > y {
				g.arms[j*g.w+i] |= up
			}
			if j < y+h-1 {
				g.arms[j*g.w+i] |= down
			}
		}
	}
}

// words writes the sign and the word of a key into the middle of its cell, on its
// ground.
func (g *grid) words(c PadCell, role look.Role) {
	if role == look.PadMain || role == look.Cell {
		for y := c.Y + 1; y < c.Y+c.H-1; y++ {
			for x := c.X + 1; x < c.X+c.W-1; x++ {
				g.roles[y*g.w+x] = role
			}
		}
	}
	lines := []string{c.Sign, c.Word}
	if c.Sign == "" {
		lines = lines[1:]
	} else if c.Word == "" {
		lines = lines[:1]
	}
	y := c.Y + (c.H-len(lines))/2
	for i, s := range lines {
		s = look.Middle(s, c.W-2)
		r := role
		if (i > 0 || c.Sign == "") && role == look.Strong {
			r = look.Quiet
		}
		for k, ch := range []rune(s) {
			g.text[(y+i)*g.w+c.X+1+k], g.roles[(y+i)*g.w+c.X+1+k] = ch, r
		}
	}
}

func (g *grid) lines(t *look.Theme) []string {
	out := make([]string, g.h)
	for y := range out {
		row := t.Row()
		for x := 0; x < g.w; {
			i := y*g.w + x
			role, n := g.role(i), 1
			for x+n < g.w && g.role(i+n) == role {
				n++
			}
			s := make([]rune, n)
			for k := range s {
				s[k] = g.text[i+k]
				if c, ok := corners[g.arms[i+k]]; ok {
					s[k] = c
				}
			}
			row.Put(role, string(s))
			x += n
		}
		out[y] = row.String()
	}
	return out
}

func (g *grid) role(i int) look.Role {
	if g.arms[i] != 0 {
		return look.Line
	}
	return g.roles[i]
}
