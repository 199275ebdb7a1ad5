// Package picture writes a screen as an SVG file: what a terminal shows, for
// documents. Letters are text; blocks, lines and braille are drawn, so that they
// meet in every viewer.
package picture

import (
	"fmt"
	"html"
	"strings"

	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// A Cell is one character of a screen. Text is empty in the second half of a wide
// character.
type Cell struct {
	Text                    string
	Front, Back             look.RGB
	Bold, Underline, Stroke bool
}

// Size of a cell in the picture.
const (
	cellW = 8
	cellH = 18
)

// SVG returns the picture of a screen of w × h cells that at describes.
func SVG(w, h int, at func(x, y int) Cell) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" width="%d" height="%d" font-family="ui-monospace,Menlo,Consolas,'DejaVu Sans Mono',monospace" font-size="13">`+"\n", w*cellW, h*cellH, w*cellW, h*cellH)
	for y := range h {
		for x := 0; x < w; {
			n := run(x, w, func(i int) bool { return at(i, y).Back == at(x, y).Back })
			fmt.Fprintf(&b, `<rect x="%d" y="%d" width="%d" height="%d" fill="%s"/>`, x*cellW, y*cellH, n*cellW, cellH, hex(at(x, y).Back))
			x += n
		}
		b.WriteByte('\n')
		line(&b, w, y, at)
	}
	b.WriteString("</svg>\n")
	return b.String()
}

// run returns how many cells from x on are like the first.
func run(x, w int, like func(int) bool) int {
	n := 1
	for x+n < w && like(x+n) {
		n++
	}
	return n
}

// line writes the characters of row y.
func line(b *strings.Builder, w, y int, at func(x, y int) Cell) {
	for x := 0; x < w; {
		c := at(x, y)
		if c.Text == "" || c.Text == " " && !c.Stroke && !c.Underline {
			x++
			continue
		}
		if draw(b, x*cellW, y*cellH, c) {
			x++
			continue
		}
		n := run(x, w, func(i int) bool { return sameText(c, at(i, y)) })
		var s strings.Builder
		for i := range n {
			s.WriteString(at(x+i, y).Text)
		}
		writeText(b, x, y, n, c, strings.TrimRight(s.String(), " "))
		x += n
	}
}

// sameText tells whether d continues a text that begins with c. Only ASCII runs
// are joined: other characters are placed one by one.
func sameText(c, d Cell) bool {
	return len(c.Text) == 1 && len(d.Text) == 1 && c.Front == d.Front && c.Bold == d.Bold && c.Underline == d.Underline && c.Stroke == d.Stroke
}

func writeText(b *strings.Builder, x, y, n int, c Cell, s string) {
	n = min(n, max(len(s), 1))
	if len(c.Text) > 1 {
		n = widget.Width(c.Text)
	}
	fmt.Fprintf(b, `<text x="%d" y="%d" textLength="%d" lengthAdjust="spacingAndGlyphs" xml:space="preserve" fill="%s"`, x*cellW, y*cellH+13, n*cellW, hex(c.Front))
	if c.Bold {
		b.WriteString(` font-weight="bold"`)
	}
	switch {
	case c.Stroke:
		b.WriteString(` text-decoration="line-through"`)
	case c.Underline:
		b.WriteString(` text-decoration="underline"`)
	}
	fmt.Fprintf(b, `>%s</text>`+"\n", html.EscapeString(s))
}

func hex(c look.RGB) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// Of returns the picture of a frame. A theme without colours is shown dark on
// light.
func Of(f *widget.Frame) string {
	w, h := f.Size()
	return SVG(w, h, func(x, y int) Cell {
		text, role := f.At(x, y)
		if x == w-1 { // painted by the terminal as the line ends
			if text, role = f.At(x-1, y); text != " " {
				text, role = " ", look.Base
			}
		}
		p, coloured := f.Theme().Paint(role)
		if !coloured {
			return Cell{Text: text, Back: look.RGB{R: 255, G: 255, B: 255}}
		}
		return Cell{Text: text, Front: p.Front.RGB(&look.XTerm), Back: p.Back.RGB(&look.XTerm), Bold: p.Bold, Underline: p.Underline, Stroke: p.Stroke}
	})
}
