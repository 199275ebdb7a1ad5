// Package plot draws small pictures from characters: the horizon around a
// station, rounds against their limit, 2c from pair to pair, a traverse in plan, a
// series over time. Braille characters give two by four points a cell; where a
// console font lacks them half blocks do, and in ASCII whole cells.
//
// The pictures take plain numbers and names and return painted lines. What they
// show by colour they also show by a mark or a word.
package plot

import (
	"math"

	"example.org/readback/tui/look"
)

// A canvas collects points and words on w × h cells. Its coordinates are u to the
// right in widths of a cell and v downwards in the same length: a cell is 1 wide
// and 2 high, so that circles are round.
type canvas struct {
	t      *look.Theme
	w, h   int
	sx, sy int // points in a cell
	bits   []uint8
	roles  []look.Role
	text   []string // a word at the cell it begins in
	taken  []bool   // the cell is part of a word or a mark
}

// newCanvas returns an empty canvas, with points as fine as the theme's signs
// allow.
func newCanvas(t *look.Theme, w, h int) *canvas {
	n := w * h
	c := &canvas{t: t, w: w, h: h, sx: 2, sy: 4, bits: make([]uint8, n), roles: make([]look.Role, n), text: make([]string, n), taken: make([]bool, n)}
	switch t.Signs {
	case look.Blocks:
		c.sx, c.sy = 1, 2
	case look.ASCII:
		c.sx, c.sy = 1, 1
	}
	return c
}

// size returns the greatest u and v.
func (c *canvas) size() (u, v float64) { return float64(c.w), 2 * float64(c.h) }

// whole is the cell a length lies in. What is no number, or beyond any window,
// lies outside of every window: the language leaves open what it converts to.
func whole(f float64) int {
	if math.IsNaN(f) {
		return -1 << 20
	}
	return int(math.Floor(min(max(f, -1<<20), 1<<20)))
}

// drawable tells whether a limit can be a band: above the tolerance of a
// comparison and below what any instrument errs by, whatever the unit.
func drawable(limit float64) bool { return limit > 1e-9 && limit < huge }

const huge = 1e12

// point sets the point at u, v; outside nothing happens.
func (c *canvas) point(role look.Role, u, v float64) {
	c.set(role, whole(u*float64(c.sx)), whole(v/2*float64(c.sy)))
}

// braille gives the bit of a point by its place in a cell, column then row.
var braille = [2][4]uint8{{0x01, 0x02, 0x04, 0x40}, {0x08, 0x10, 0x20, 0x80}}

func (c *canvas) set(role look.Role, px, py int) {
	if px < 0 || py < 0 || px >= c.w*c.sx || py >= c.h*c.sy {
		return
	}
	i := py/c.sy*c.w + px/c.sx
	c.bits[i] |= braille[px%c.sx][py%c.sy]
	c.roles[i] = role
}

// segment draws a straight line; step 1 sets every point of it, 2 every second
// one, and so on. A heavy one is two points wide.
func (c *canvas) segment(role look.Role, u0, v0, u1, v1 float64, step int, heavy bool) {
	x0, y0 := u0*float64(c.sx), v0/2*float64(c.sy)
	x1, y1 := u1*float64(c.sx), v1/2*float64(c.sy)
	dx, dy := math.Abs(x1-x0), math.Abs(y1-y0)
	n := whole(math.Ceil(max(dx, dy)))
	if n > 1<<14 || n < 0 { // beyond any window, or no number
		return
	}
	for i := 0; i <= n; i += max(step, 1) {
		f := 0.0
		if n > 0 {
			f = float64(i) / float64(n)
		}
		x, y := whole(x0+f*(x1-x0)), whole(y0+f*(y1-y0))
		c.set(role, x, y)
		switch {
		case !heavy:
		case dx >= dy:
			c.set(role, x, y+1)
		default:
			c.set(role, x+1, y)
		}
	}
}

// circle draws a circle, every step-th point.
func (c *canvas) circle(role look.Role, u, v, r float64, step int) {
	n := whole(2*math.Pi*r*float64(c.sx)) + 1
	if n < 1 || n > 1<<14 {
		return
	}
	for i := 0; i < n; i += max(step, 1) {
		s, k := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		c.point(role, u+r*s, v-r*k)
	}
}

// word writes a text from a cell on; what lies outside is not written.
func (c *canvas) word(x, y int, role look.Role, s string) {
	s = look.Clean(s)
	w := look.Width(s)
	if x < 0 || y < 0 || y >= c.h || x+w > c.w || w == 0 {
		return
	}
	c.text[y*c.w+x], c.roles[y*c.w+x] = s, role
	for i := x; i < x+w; i++ {
		c.taken[y*c.w+i] = true
		if i > x {
			c.text[y*c.w+i] = ""
		}
	}
}

// lines are the rows, painted.
func (c *canvas) lines() []string {
	out := make([]string, c.h)
	for y := range out {
		row := c.t.Row()
		for x := 0; x < c.w; {
			i := y*c.w + x
			switch {
			case c.text[i] != "":
				row.To(x).Put(c.roles[i], c.text[i])
				x = row.Width()
				continue
			case c.bits[i] != 0:
				row.To(x).Put(c.roles[i], string(c.sign(c.bits[i], c.roles[i])))
			}
			x++
		}
		out[y] = row.To(c.w).String()
	}
	return out
}

// sign returns the character for the points of a cell.
func (c *canvas) sign(b uint8, role look.Role) rune {
	switch {
	case c.sy == 4:
		return 0x2800 + rune(b)
	case c.sy == 2:
		return [4]rune{' ', '▀', '▄', '█'}[b&3]
	case role == look.Line:
		return '.'
	case role == look.Out:
		return ':'
	}
	return '*'
}

// free tells whether w cells hold no mark and no word.
func (c *canvas) free(x, y, w int) bool {
	if x < 0 || y < 0 || y >= c.h || x > c.w-w {
		return false
	}
	for i := x; i < x+w; i++ {
		if c.taken[y*c.w+i] {
			return false
		}
	}
	return true
}

// label writes a name beside the mark at x, y: outwards from the middle, else
// above or below, else inwards, else in short, wherever the cells are free.
func (c *canvas) label(x, y int, role look.Role, name string) {
	full := look.Width(look.Clean(name))
	for w := full; w >= min(2, full) && w > 0; w = min(w-1, 8) {
		for _, p := range c.beside(x, y, w) {
			if c.free(p[0], p[1], w) {
				c.word(p[0], p[1], role, look.Brief(name, w))
				for _, i := range []int{p[0] - 1, p[0] + w} { // a blank on either side
					if c.free(i, p[1], 1) {
						c.bits[p[1]*c.w+i], c.taken[p[1]*c.w+i] = 0, true
					}
				}
				return
			}
		}
	}
}

// beside lists where a name of w cells may stand, the best place first.
func (c *canvas) beside(x, y, w int) [6][2]int {
	out, in, away := x+2, x-1-w, 1
	if x < c.w/2 {
		out, in = in, out
	}
	if y < c.h/2 {
		away = -1
	}
	over := max(min(x-w/2, c.w-w), 0)
	return [6][2]int{{out, y}, {over, y + away}, {out, y + away}, {over, y - away}, {out, y - away}, {in, y}}
}
