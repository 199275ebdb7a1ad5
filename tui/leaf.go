package tui

import (
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// ink is one figure or word on a leaf: where it stands and how. A struck figure
// keeps its place and stands between ~ ~, so that the stroke is seen where the
// terminal draws none.
type ink struct {
	x, w   int
	align  widget.Align
	text   string
	role   look.Role
	struck bool
}

// a line of a leaf; key is what a touch on it stands for.
type line struct {
	inks []ink
	row  int // number for touches, −1: none
}

// a leaf is a page of lines longer than its place: set once, drawn often, and
// scrolled by lines.
type leaf struct {
	lines []line
	top   int
	now   int // the line to be seen, −1: none
	first int // the line its part begins with, shown above it where there is room
}

// add appends a line of figures.
func (l *leaf) add(inks ...ink) { l.lines = append(l.lines, line{inks: inks, row: -1}) }

// text appends a line of words.
func (l *leaf) text(role look.Role, x int, s string) {
	l.add(ink{x: x, w: -1, text: s, role: role})
}

// wrapped appends words broken into lines of at most w cells.
func (l *leaf) wrapped(t *look.Theme, role look.Role, x, w int, s string) {
	for _, s := range widget.Wrap(t.Rewrite(s), w-x) {
		l.text(role, x, s)
	}
}

// indented appends a line of a text, broken under its own beginning where the
// place is narrower than it.
func (l *leaf) indented(t *look.Theme, w int, s string) {
	s = t.Rewrite(s)
	if widget.Width(s) <= w {
		l.text(look.Base, 0, s)
		return
	}
	x := 0
	for x < len(s) && s[x] == ' ' && x < w/2 {
		x++
	}
	for i, s := range widget.Wrap(s[x:], w-x-2) {
		if i > 0 {
			l.text(look.Base, x+2, s)
			continue
		}
		l.text(look.Base, x, s)
	}
}

// marked appends a mark and words beside it, broken into lines under each other.
func (l *leaf) marked(t *look.Theme, role look.Role, mark string, w int, s string) {
	for i, s := range widget.Wrap(t.Rewrite(s), w-2) {
		inks := []ink{{x: 2, w: -1, text: s, role: role}}
		if i == 0 {
			inks = append(inks, ink{x: 0, w: 2, text: mark, role: role})
		}
		l.add(inks...)
	}
}

// scroll moves by n lines in a place of h rows and stops at the ends.
func (l *leaf) scroll(n, h int) { l.top = max(min(l.top+n, len(l.lines)-h), 0) }

// show scrolls so that the line now is seen, with the head of its part above it.
func (l *leaf) show(h int) {
	if l.now < 0 {
		return
	}
	l.top = l.first
	if l.now-l.first >= h {
		l.top = l.now - h + 1
	}
	l.scroll(0, h)
}

// draw draws the lines from top and says by arrows that there are more.
func (l *leaf) draw(a widget.Area, z *zones) {
	for y := 0; y < a.H && l.top+y < len(l.lines); y++ {
		ln := &l.lines[l.top+y]
		row := a.Sub(0, y, a.W, 1)
		for _, k := range ln.inks {
			k.draw(row)
		}
		if ln.row >= 0 {
			z.add(row, rowPress(ln.row))
		}
	}
	if l.top > 0 && a.H > 0 {
		a.Rune(a.W-1, 0, look.Mark, '↑')
	}
	if l.top+a.H < len(l.lines) && a.H > 0 {
		a.Rune(a.W-1, a.H-1, look.Mark, '↓')
	}
}

func (k ink) draw(a widget.Area) {
	w := k.w
	if w < 0 {
		w = a.W - k.x
	}
	switch {
	case k.text == "" || w <= 0:
	case k.struck:
		k.drawStruck(a, w)
	case k.w < 0:
		a.Text(k.x, 0, k.role, widget.Cut(a.Theme().Rewrite(k.text), w))
	default:
		a.Fit(k.x, 0, w, k.role, k.text, k.align)
	}
}

func (k ink) drawStruck(a widget.Area, w int) {
	s := widget.Cut(a.Theme().Rewrite(k.text), w)
	x := k.x
	if k.align == widget.Right {
		x += w - widget.Width(s)
	}
	end := a.Text(x, 0, look.Struck, s)
	if x > 0 {
		a.Text(x-1, 0, look.Base, "~")
	}
	a.Text(end, 0, look.Base, "~")
}
