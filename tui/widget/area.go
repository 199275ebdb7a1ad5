package widget

import (
	"unicode/utf8"

	"example.org/readback/tui/look"
)

// An Area is a rectangle of a frame. Everything drawn is relative to its upper
// left corner and cut at its edges; an area of no width or height takes
// everything and shows nothing.
type Area struct {
	f          *Frame
	X, Y, W, H int // place in the frame and size, in cells
}

// Theme returns the theme the area is painted in.
func (a Area) Theme() *look.Theme { return a.f.theme }

// Sub returns the part of a that starts at x, y and is w × h, as far as it lies
// inside a.
func (a Area) Sub(x, y, w, h int) Area {
	x0, y0 := min(max(x, 0), a.W), min(max(y, 0), a.H)
	x1, y1 := min(max(x+w, x0), a.W), min(max(y+h, y0), a.H)
	return Area{f: a.f, X: a.X + x0, Y: a.Y + y0, W: x1 - x0, H: y1 - y0}
}

// Top splits off the first n rows.
func (a Area) Top(n int) (top, rest Area) {
	return a.Sub(0, 0, a.W, n), a.Sub(0, n, a.W, a.H-n)
}

// Bottom splits off the last n rows.
func (a Area) Bottom(n int) (rest, bottom Area) {
	return a.Sub(0, 0, a.W, a.H-n), a.Sub(0, a.H-min(n, a.H), a.W, n)
}

// Left splits off the first n columns.
func (a Area) Left(n int) (left, rest Area) {
	return a.Sub(0, 0, n, a.H), a.Sub(n, 0, a.W-n, a.H)
}

// Right splits off the last n columns.
func (a Area) Right(n int) (rest, right Area) {
	return a.Sub(0, 0, a.W-n, a.H), a.Sub(a.W-min(n, a.W), 0, n, a.H)
}

// Inset returns the area without dx columns on either side and dy rows above and
// below.
func (a Area) Inset(dx, dy int) Area { return a.Sub(dx, dy, a.W-2*dx, a.H-2*dy) }

// Has tells whether a cell of the frame lies in the area, for touches, and where
// in it.
func (a Area) Has(frameX, frameY int) (x, y int, ok bool) {
	x, y = frameX-a.X, frameY-a.Y
	return x, y, x >= 0 && y >= 0 && x < a.W && y < a.H
}

// Text writes s from x, y to the right and returns the column after it. What
// does not fit is cut at the edge.
func (a Area) Text(x, y int, role look.Role, s string) int {
	s = a.f.theme.Rewrite(s)
	for len(s) > 0 && x < a.W {
		text, w, n := next(s)
		a.put(x, y, text, w, role)
		x, s = x+w, s[n:]
	}
	return x
}

// put writes one character if all of it lies inside.
func (a Area) put(x, y int, text string, width int, role look.Role) {
	if x < 0 || y < 0 || y >= a.H || x > a.W-width {
		return
	}
	if len(text) == 1 {
		a.f.setRune(a.X+x, a.Y+y, rune(text[0]), 1, role)
		return
	}
	a.f.set(a.X+x, a.Y+y, text, width, role)
}

// Rune writes one of our own signs, of width 1.
func (a Area) Rune(x, y int, role look.Role, r rune) {
	if x < 0 || y < 0 || x >= a.W || y >= a.H {
		return
	}
	if r >= utf8.RuneSelf {
		r = a.f.theme.Sign(r)
	}
	a.f.setRune(a.X+x, a.Y+y, r, 1, role)
}

// Fit writes s in exactly w cells from x: filled with blanks, or cut with a last
// "…".
func (a Area) Fit(x, y, w int, role look.Role, s string, align Align) {
	s = a.f.theme.Rewrite(s)
	sw := Width(s)
	if sw > w {
		s = Cut(s, w)
		sw = Width(s)
	}
	at := x + align.before(max(w-sw, 0))
	for i := x; i < at; i++ {
		a.Rune(i, y, role, ' ')
	}
	for i := a.Text(at, y, role, s); i < x+w; i++ {
		a.Rune(i, y, role, ' ')
	}
}

// Line writes s in the first row over the whole width.
func (a Area) Line(role look.Role, s string) { a.Fit(0, 0, a.W, role, s, Left) }

// Paragraph writes s broken into lines and returns how many rows it took, cut at
// the area's height.
func (a Area) Paragraph(role look.Role, s string) int {
	lines := Wrap(a.f.theme.Rewrite(s), a.W)
	for y, l := range lines {
		if y >= a.H {
			return a.H
		}
		a.Text(0, y, role, l)
	}
	return len(lines)
}

// Fill paints the whole area with one sign.
func (a Area) Fill(role look.Role, r rune) {
	for y := 0; y < a.H; y++ {
		for x := 0; x < a.W; x++ {
			a.Rune(x, y, role, r)
		}
	}
}

// Box draws a frame around the area with a title in its upper line and returns
// the area inside.
func (a Area) Box(role look.Role, title string) Area {
	if a.W < 2 || a.H < 2 {
		return a.Sub(0, 0, 0, 0)
	}
	for x := 1; x < a.W-1; x++ {
		a.Rune(x, 0, role, '─')
		a.Rune(x, a.H-1, role, '─')
	}
	for y := 1; y < a.H-1; y++ {
		a.Rune(0, y, role, '│')
		a.Rune(a.W-1, y, role, '│')
	}
	a.Rune(0, 0, role, '┌')
	a.Rune(a.W-1, 0, role, '┐')
	a.Rune(0, a.H-1, role, '└')
	a.Rune(a.W-1, a.H-1, role, '┘')
	if title != "" && a.W > 6 {
		t := " " + Cut(a.f.theme.Rewrite(title), a.W-6) + " "
		a.Text(2, 0, look.Title, t)
	}
	return a.Inset(1, 1)
}

// HRule draws a line across row y.
func (a Area) HRule(y int, role look.Role) {
	for x := 0; x < a.W; x++ {
		a.Rune(x, y, role, '─')
	}
}
