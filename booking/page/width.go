package page

import (
	"strings"
	"unicode"

	"github.com/charmbracelet/x/ansi"
)

// width is how many cells s takes.
func Width(s string) int {
	n := 0
	for _, r := range s {
		if !single(r) {
			return ansi.StringWidth(s)
		}
		n++
	}
	return n
}

// seen returns a text as Visible does, and how many cells it takes.
func seen(s string) (string, int) {
	n := 0
	for _, r := range s {
		if !single(r) || r == 0xa0 {
			s = Visible(s)
			return s, Width(s)
		}
		n++
	}
	return s, n
}

// single tells whether a character takes one cell whatever stands beside it. Most
// cells hold nothing else, and so need no walk through clusters of characters.
func single(r rune) bool {
	return r >= ' ' && r < 0x7f || r >= 0xa0 && r < 0x300 && r != 0xad ||
		r == '−' || r == '–' || r == '·' || r == '“' || r == '”' || r == '√' || r == '✗' || r == '…' || r == '′' || r == '″'
}

// cut returns s in at most width cells: the end of one that is longer is "…".
func cut(s string, width int) string { return ansi.Truncate(s, width, "…") }

// Wrap breaks s into lines of at most width cells, at blanks; a word longer than
// a line is broken anywhere. With a width of 0 or less nothing is broken. There is
// always a line.
//
// The loop is our own: ansi.Wrap breaks at hyphens too and would tear a date.
func Wrap(s string, width int) []string {
	if width <= 0 {
		return []string{spaced(s)}
	}
	var lines []string
	cur, at := "", 0
	for _, word := range strings.Fields(s) {
		n := Width(word)
		if cur != "" && at+1+n <= width {
			cur, at = cur+" "+word, at+1+n
			continue
		}
		if cur != "" {
			lines = append(lines, cur)
		}
		for n > width {
			head := ansi.Truncate(word, max(width, 2), "")
			if head == "" || head == word {
				break
			}
			lines = append(lines, head)
			word = word[len(head):]
			n = Width(word)
		}
		cur, at = word, n
	}
	return append(lines, cur)
}

// spaced returns s with one blank between its words.
func spaced(s string) string {
	blank := true // before the first word
	for _, r := range s {
		if r != ' ' && unicode.IsSpace(r) || r == ' ' && blank {
			return strings.Join(strings.Fields(s), " ")
		}
		blank = r == ' '
	}
	return strings.TrimSuffix(s, " ")
}

// fill is n blanks, none for less than one.
func fill(n int) string {
	const blanks = "                                        "
	if n <= len(blanks) {
		return blanks[:max(n, 0)]
	}
	return strings.Repeat(" ", n)
}
