// Package plot draws small pictures from characters: the horizon around a
// station, residuals against their limit, a traverse in plan, a series over
// time. Braille characters give two by four points a cell; where a console font
// lacks them half blocks do, and in ASCII whole cells.
//
// The pictures take plain numbers and names and draw into a widget.Area. What they
// show by colour they also show by a mark or a word.
package plot

import (
	"math"

	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// A Canvas collects points on an area. Its coordinates are u to the right in
// widths of a cell and v downwards in the same length: a cell is 1 wide and 2
// high, so that circles are round.
type Canvas struct {
	area   widget.Area
	sx, sy int // points in a cell
	bits   []uint8
	roles  []look.Role
}

// NewCanvas returns an empty canvas on the area, with points as fine as the
// theme's signs allow.
func NewCanvas(a widget.Area) *Canvas {
	c := &Canvas{area: a, sx: 2, sy: 4, bits: make([]uint8, a.W*a.H), roles: make([]look.Role, a.W*a.H)}
	switch a.Theme().Signs {
	case look.Blocks:
		c.sx, c.sy = 1, 2
	case look.ASCII:
		c.sx, c.sy = 1, 1
	}
	return c
}

// Size returns the greatest u and v.
func (c *Canvas) Size() (u, v float64) { return float64(c.area.W), 2 * float64(c.area.H) }

// Point sets the point at u, v; outside nothing happens.
func (c *Canvas) Point(role look.Role, u, v float64) {
	c.set(role, int(math.Floor(u*float64(c.sx))), int(math.Floor(v/2*float64(c.sy))))
}

// braille gives the bit of a point by its place in a cell, column then row.
var braille = [2][4]uint8{{0x01, 0x02, 0x04, 0x40}, {0x08, 0x10, 0x20, 0x80}}

func (c *Canvas) set(role look.Role, px, py int) {
	if px < 0 || py < 0 || px >= c.area.W*c.sx || py >= c.area.H*c.sy {
		return
	}
	i := py/c.sy*c.area.W + px/c.sx
	c.bits[i] |= braille[px%c.sx][py%c.sy]
	c.roles[i] = role
}

// Segment draws a straight line; step 1 sets every point of it, 2 every second
// one, and so on.
func (c *Canvas) Segment(role look.Role, u0, v0, u1, v1 float64, step int) {
	x0, y0 := u0*float64(c.sx), v0/2*float64(c.sy)
	x1, y1 := u1*float64(c.sx), v1/2*float64(c.sy)
	n := int(math.Ceil(max(math.Abs(x1-x0), math.Abs(y1-y0))))
	if n > 1<<14 || n < 0 { // beyond any window, or no number
		return
	}
	for i := 0; i <= n; i += max(step, 1) {
		f := 0.0
		if n > 0 {
			f = float64(i) / float64(n)
		}
		c.set(role, int(math.Floor(x0+f*(x1-x0))), int(math.Floor(y0+f*(y1-y0))))
	}
}

// Circle draws a circle, every step-th point.
func (c *Canvas) Circle(role look.Role, u, v, r float64, step int) {
	n := int(2*math.Pi*r*float64(c.sx)) + 1
	if n < 1 || n > 1<<14 {
		return
	}
	for i := 0; i < n; i += max(step, 1) {
		s, k := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		c.Point(role, u+r*s, v-r*k)
	}
}

// Draw puts the points on the area; cells without a point stay as they were.
func (c *Canvas) Draw() {
	for i, b := range c.bits {
		if b != 0 {
			c.area.Rune(i%c.area.W, i/c.area.W, c.roles[i], c.sign(b, c.roles[i]))
		}
	}
}

// sign returns the character for the points of a cell.
func (c *Canvas) sign(b uint8, role look.Role) rune {
	switch {
	case c.sy == 4:
		return 0x2800 + rune(b)
	case c.sy == 2:
		return [4]rune{' ', '▀', '▄', '█'}[b&3]
	case role == look.Rule:
		return '.'
	case role == look.Band:
		return ':'
	}
	return '*'
}
