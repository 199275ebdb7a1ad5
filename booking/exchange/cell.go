package exchange

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// dangerous are the first characters that make a spreadsheet take a cell for a
// formula.
const dangerous = "=+-@\t\r\n＝＋－＠"

// formulaLike tells whether the text is any number of apostrophes followed by a
// dangerous character.
func formulaLike(text string) bool {
	r, _ := utf8.DecodeRuneInString(strings.TrimLeft(text, "'"))
	return text != "" && strings.ContainsRune(dangerous, r)
}

// Shield makes a text safe to open in a spreadsheet; reading a file undoes it.
func Shield(text string) string {
	if formulaLike(text) {
		return "'" + text
	}
	return text
}

// unshield takes off the apostrophe that Shield put on.
func unshield(cell string) string {
	if strings.HasPrefix(cell, "'") && formulaLike(cell) {
		return cell[1:]
	}
	return cell
}

// clean returns the text of a cell: line ends as one character, the space around
// it and the apostrophe of Shield taken off.
func clean(cell string) string {
	if n := len(cell); n == 0 || ink(cell[0]) && ink(cell[n-1]) && cell[0] != '\'' && strings.IndexByte(cell, '\r') < 0 {
		return cell
	}
	if strings.ContainsRune(cell, '\r') {
		cell = strings.ReplaceAll(strings.ReplaceAll(cell, "\r\n", "\n"), "\r", "\n")
	}
	return strings.TrimSpace(unshield(strings.TrimSpace(cell)))
}

// ink tells whether a byte is a character of ASCII that is seen.
func ink(b byte) bool { return b > ' ' && b < 0x7f }

// hasControl tells whether a name holds a character that is not to be printed.
func hasControl(name string) bool {
	for i := range len(name) {
		if name[i] != ' ' && !ink(name[i]) {
			return strings.ContainsFunc(name, unicode.IsControl)
		}
	}
	return false
}
