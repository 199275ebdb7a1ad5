package widget

import "example.org/readback/tui/look"

// A Height is how tall the figures of a readback are.
type Height int

// The heights, in rows. Tall needs about 5 columns a figure, Huge about 8.
const (
	Line Height = 1
	Tall Height = 3
	Huge Height = 5
)

// TallestFor returns the greatest height at which s fits in w columns and h
// rows.
func TallestFor(s string, w, h int) Height {
	for _, t := range []Height{Huge, Tall} {
		if int(t) <= h && TallWidth(s, t) <= w {
			return t
		}
	}
	return Line
}

// TallWidth returns how many columns s takes at the height.
func TallWidth(s string, h Height) int {
	if h == Line {
		return Width(s)
	}
	w := 0
	for _, r := range s {
		w += glyphOf(r, h).w + gap(h)
	}
	return max(w-gap(h), 0)
}

func gap(h Height) int {
	if h == Huge {
		return 2
	}
	return 1
}

// Tall draws s in figures of height h from the upper left corner of a and
// returns the columns taken. Digits, ° ′ ″, point, minus, "_", blank and the
// letters F, L, R, g, o, n, m, f and t have tall forms; other characters stand small
// on the base line.
func (a Area) Tall(role look.Role, h Height, s string) int {
	if h == Line {
		return a.Text(0, 0, role, s)
	}
	ascii := a.f.theme.Signs == look.ASCII
	x := 0
	for _, r := range s {
		g := glyphOf(r, h)
		a.glyph(x, role, g, int(h), ascii)
		if g.bits == nil && r != ' ' {
			a.Text(x, int(h)-1, role, string(r))
		}
		x += g.w + gap(h)
	}
	return x - gap(h)
}

// glyph draws one figure: two pixels to a cell, one above the other, as half
// blocks; in ASCII each cell that has a pixel is "#".
func (a Area) glyph(x int, role look.Role, g glyph, rows int, ascii bool) {
	if ascii {
		for y, line := range g.ascii {
			for i := 0; i < len(line); i++ {
				if line[i] != ' ' {
					a.Rune(x+i, y, role, rune(line[i]))
				}
			}
		}
		return
	}
	for y := 0; y < rows && 2*y+1 < len(g.bits); y++ {
		upper, lower := g.bits[2*y], g.bits[2*y+1]
		for i := 0; i < g.w; i++ {
			u, l := upper[i] == '#', lower[i] == '#'
			switch {
			case u && l:
				a.Rune(x+i, y, role, '█')
			case u:
				a.Rune(x+i, y, role, '▀')
			case l:
				a.Rune(x+i, y, role, '▄')
			}
		}
	}
}

// a glyph is a figure as rows of pixels, two for each row of cells, and as rows
// of ASCII characters.
type glyph struct {
	w     int
	bits  []string
	ascii []string
}

func glyphOf(r rune, h Height) glyph {
	table := tallGlyphs
	if h == Huge {
		table = hugeGlyphs
	}
	if r == '−' {
		r = '-'
	}
	if g, ok := table[r]; ok {
		return g
	}
	return glyph{w: 1}
}
