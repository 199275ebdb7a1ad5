package widget

import (
	"strings"
	"unicode/utf8"

	"example.org/readback/tui/look"
)

// A Frame is a window's worth of cells, laid by hand once per view. Its last
// column stays the terminal's: lines end with their ground colour switched on, so
// that the erase-to-end-of-line of the renderer paints what is left, and a
// window made smaller leaves no traces. A program that showed a frame writes
// "\x1b[0m" when it ends.
type Frame struct {
	theme *look.Theme
	w, h  int
	cells []cell
	extra []string // characters of several code points
	buf   []byte
}

// NewFrame returns a blank frame for a window of w columns and h rows.
func NewFrame(t *look.Theme, w, h int) *Frame {
	f := &Frame{}
	f.Reset(t, w, h)
	return f
}

// Reset makes the frame blank, of the given theme and window; its memory is
// used again.
func (f *Frame) Reset(t *look.Theme, w, h int) {
	f.theme, f.w, f.h = t, max(w, 0), max(h, 0)
	n := max(f.w-1, 0) * f.h
	if cap(f.cells) < n {
		f.cells = make([]cell, n)
	}
	f.cells, f.extra = f.cells[:n], f.extra[:0]
	for i := range f.cells {
		f.cells[i] = cell{r: ' '}
	}
}

// Theme returns the theme the frame is painted in.
func (f *Frame) Theme() *look.Theme { return f.theme }

// Area returns all of the frame that can be drawn on: one column less than the
// window.
func (f *Frame) Area() Area { return Area{f: f, W: max(f.w-1, 0), H: f.h} }

// set writes one character of the given width at x, y of the frame, which must
// lie inside.
func (f *Frame) set(x, y int, text string, width int, role look.Role) {
	r, n := utf8.DecodeRuneInString(text)
	if n < len(text) {
		f.extra = append(f.extra, text)
		r = rune(-len(f.extra))
	}
	f.setRune(x, y, r, width, role)
}

func (f *Frame) setRune(x, y int, r rune, width int, role look.Role) {
	row := f.cells[y*(f.w-1) : (y+1)*(f.w-1)]
	if row[x].r == 0 && x > 0 { // the left half of a wide character stays behind
		row[x-1] = cell{r: ' ', role: row[x-1].role}
	}
	if last := x + width; last < len(row) && row[last].r == 0 {
		row[last] = cell{r: ' ', role: row[last].role}
	}
	row[x] = cell{r: r, role: role, wide: width == 2}
	if width == 2 {
		row[x+1] = cell{role: role}
	}
}

// String returns the view: h lines, each less than the window wide.
func (f *Frame) String() string {
	b := f.buf[:0]
	for y := 0; y < f.h; y++ {
		if y > 0 {
			b = append(b, '\n')
		}
		b = f.line(b, y)
	}
	f.buf = b
	return string(b)
}

// line writes row y. It starts by switching its role on, because the renderer
// may have skipped the line before, and ends on the ground, or on the role that
// fills it to its end. With colours the blanks at the end are written as well:
// not every terminal erases with the ground colour.
func (f *Frame) line(b []byte, y int) []byte {
	row := f.row(y)
	if f.theme.Coloured() {
		row = f.cells[y*max(f.w-1, 0) : (y+1)*max(f.w-1, 0)]
	}
	role, on := look.Base, false
	for x := 0; x < len(row); x++ {
		c := row[x]
		if c.r == 0 {
			continue
		}
		if !on || c.role != role {
			role, on = c.role, true
			b = append(b, f.theme.On(role)...)
		}
		b = f.appendRune(b, c.r)
	}
	filled := len(row) > 0 && len(row) == f.w-1 && row[len(row)-1].r == ' '
	if !on || role != look.Base && !filled {
		b = append(b, f.theme.On(look.Base)...)
	}
	return b
}

// row returns the cells of row y without the blanks at its end that look like
// the ground.
func (f *Frame) row(y int) []cell {
	row := f.cells[y*max(f.w-1, 0) : (y+1)*max(f.w-1, 0)]
	end := len(row)
	for end > 0 && row[end-1].r == ' ' && f.theme.Blank(row[end-1].role) {
		end--
	}
	return row[:end]
}

func (f *Frame) appendRune(b []byte, r rune) []byte {
	switch {
	case r >= 0 && r < 0x80:
		return append(b, byte(r))
	case r < 0:
		return append(b, f.extra[-r-1]...)
	}
	return utf8.AppendRune(b, r)
}

// Plain returns the text of the frame without any sequence and without blanks at
// line ends: what golden frames are made of.
func (f *Frame) Plain() string {
	var b strings.Builder
	var line []byte
	for y := 0; y < f.h; y++ {
		line = line[:0]
		for _, c := range f.row(y) {
			if c.r != 0 {
				line = f.appendRune(line, c.r)
			}
		}
		b.WriteString(strings.TrimRight(string(line), " "))
		b.WriteByte('\n')
	}
	return b.String()
}

// At returns the character in column x of row y and its role; the second half of
// a wide character and what lies outside are empty.
func (f *Frame) At(x, y int) (string, look.Role) {
	if x < 0 || y < 0 || x >= f.w-1 || y >= f.h {
		return "", look.Base
	}
	c := f.cells[y*(f.w-1)+x]
	if c.r == 0 {
		return "", c.role
	}
	return string(f.appendRune(nil, c.r)), c.role
}

// Size returns the window the frame is for.
func (f *Frame) Size() (w, h int) { return f.w, f.h }
