package sheet

import (
	"fmt"
	"strings"

	"example.org/readback/booking/page"
)

// The letters of a drawing, in millimetres of paper.
const (
	letterMM = 2.3  // their size in the style sheet
	leastMM  = 1.7  // where a word has no room otherwise
	advance  = 0.54 // of the size, what a letter takes across: a bold one of a proportional face
	leading  = 1.15 // of the size, from line to line
)

// label writes a name into a drawing at x, y: whole, in as many lines as it takes in room
// millimetres across, smaller where its longest word asks for it. The lines grow away from
// the middle of the drawing: down is −1 above it, 0 beside it, 1 below it.
func label(b *strings.Builder, class string, x, y, room, down float64, text string) {
	text = page.Visible(text)
	longest := 1
	for _, word := range strings.Fields(text) {
		longest = max(longest, page.Width(word))
	}
	size := min(letterMM, max(leastMM, room/(advance*float64(longest))))
	rows := page.Wrap(text, max(int(room/(advance*size)), 1))
	y += .35*size + (down-1)/2*float64(len(rows)-1)*leading*size
	style := ""
	if size < letterMM {
		style = fmt.Sprintf(` style="font-size:%.2fpx"`, size)
	}
	fmt.Fprintf(b, `<text class="%s" x="%.2f" y="%.2f"%s>%s</text>`, class, x, y, style, spans(rows, x, leading*size))
}

// spans writes the lines of a text in a drawing, each a step below the one before.
func spans(rows []string, x, step float64) string {
	if len(rows) == 1 {
		return escaped(rows[0])
	}
	var b strings.Builder
	for i, s := range rows {
		dy := step
		if i == 0 {
			dy = 0
		}
		if i+1 < len(rows) {
			s += " " // the lines are read and copied as words
		}
		fmt.Fprintf(&b, `<tspan x="%.2f" dy="%.2f">%s</tspan>`, x, dy, escaped(s))
	}
	return b.String()
}
