package picture

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// arms says in which directions a line goes from the middle of a cell.
type arms uint8

const (
	up arms = 1 << iota
	down
	left
	right
)

var lines = map[rune]arms{
	'─': left | right, '│': up | down, '┌': down | right, '┐': down | left, '└': up | right, '┘': up | left,
	'├': up | down | right, '┤': up | down | left, '┬': left | right | down, '┴': left | right | up, '┼': up | down | left | right,
}

// draw draws a block, a line or braille with its upper left corner at x, y and
// tells whether the cell is one of them.
func draw(b *strings.Builder, x, y int, c Cell) bool {
	r, _ := utf8.DecodeRuneInString(c.Text)
	colour := hex(c.Front)
	switch {
	case r == '█':
		rect(b, x, y, cellW, cellH, colour)
	case r == '▀':
		rect(b, x, y, cellW, cellH/2, colour)
	case r == '▄':
		rect(b, x, y+cellH/2, cellW, cellH/2, colour)
	case r == '┊':
		for i := range 3 {
			rect(b, x+cellW/2, y+2+6*i, 1, 3, colour)
		}
	case lines[r] != 0:
		drawLines(b, x, y, lines[r], colour)
	case r > 0x2800 && r <= 0x28ff:
		drawBraille(b, x, y, uint8(r-0x2800), colour)
	default:
		return false
	}
	return true
}

func rect(b *strings.Builder, x, y, w, h int, colour string) {
	fmt.Fprintf(b, `<rect x="%d" y="%d" width="%d" height="%d" fill="%s" shape-rendering="crispEdges"/>`, x, y, w, h, colour)
}

func drawLines(b *strings.Builder, x, y int, a arms, colour string) {
	mx, my := x+cellW/2, y+cellH/2
	for _, l := range []struct {
		arm        arms
		x, y, w, h int
	}{{up, mx, y, 1, cellH/2 + 1}, {down, mx, my, 1, cellH / 2}, {left, x, my, cellW/2 + 1, 1}, {right, mx, my, cellW / 2, 1}} {
		if a&l.arm != 0 {
			rect(b, l.x, l.y, l.w, l.h, colour)
		}
	}
}

// dots gives the place of each braille bit in a cell: column, row.
var dots = [8][2]int{{0, 0}, {0, 1}, {0, 2}, {1, 0}, {1, 1}, {1, 2}, {0, 3}, {1, 3}}

func drawBraille(b *strings.Builder, x, y int, bits uint8, colour string) {
	for i, d := range dots {
		if bits>>i&1 != 0 {
			fmt.Fprintf(b, `<circle cx="%d" cy="%g" r="1.2" fill="%s"/>`, x+2+4*d[0], float64(y)+2.25+4.5*float64(d[1]), colour)
		}
	}
}
