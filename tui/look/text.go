package look

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"example.org/readback/booking/page"
)

// ambiguous tells whether the environment has characters of ambiguous width
// measured as two cells; x/ansi reads it once.
var ambiguous = ansi.StringWidth("°") != 1

// simple characters take one cell and never join another simple one: letters of
// western names and our own signs. Measuring is most of the cost of a frame, and
// nearly every text is simple.
func simple(r rune) bool {
	switch {
	case r >= 0x20 && r < 0x7f:
		return true
	case ambiguous, r < 0xa1, r == 0xad:
		return false
	case r < 0x250, r >= 0x2010 && r <= 0x2027, r >= 0x2190 && r <= 0x2193, r >= 0x2500 && r <= 0x25cf, r >= 0x2801 && r <= 0x28ff:
		return true
	}
	switch r {
	case '′', '″', '−', '‹', '›', '√', 'σ', 'Δ', '✓', '✗', '₀', '≤', '≥', '⌫':
		return true
	}
	return false
}

// cells counts the cells of a text of simple characters, ok false for any other.
func cells(s string) (n int, ok bool) {
	for _, r := range s {
		if !simple(r) {
			return 0, false
		}
		n++
	}
	return n, true
}

// Clean returns s with every character replaced by a sign that would act on the
// terminal, turn the line around, or grow into the next cell.
func Clean(s string) string {
	if _, ok := cells(s); ok {
		return s
	}
	var b strings.Builder
	for len(s) > 0 {
		c, w := ansi.FirstGraphemeCluster(s, ansi.GraphemeWidth)
		if len(c) == 0 {
			break
		}
		s = s[len(c):]
		if w < 1 || w > 2 || strings.ContainsFunc(c, acts) || !utf8.ValidString(c) {
			c = "\uFFFD"
		}
		b.WriteString(c)
	}
	return b.String()
}

// acts tells whether a character does something instead of being drawn: controls,
// bidirectional and joining marks, line separators, private use.
func acts(r rune) bool {
	return r < 0x20 || unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Co, unicode.Cs) || r >= 0x1100 && r <= 0x11ff || r >= 0x1f1e6 && r <= 0x1f1ff
}

// Width returns how many cells a text takes, painted or not.
func Width(s string) int {
	if n, ok := paintedCells(s); ok {
		return n
	}
	return ansi.StringWidth(s)
}

// paintedCells is cells of a text with colour sequences in it: every frame is
// measured once more before it is written, and taking it apart by graphemes was
// two thirds of a frame.
func paintedCells(s string) (n int, ok bool) {
	for i := 0; i < len(s); {
		switch c := s[i]; {
		case c == 0x1b:
			if i = colourEnd(s, i); i < 0 {
				return 0, false
			}
		case c >= 0x20 && c < 0x7f:
			i++
			n++
		default:
			r, size := utf8.DecodeRuneInString(s[i:])
			if !simple(r) {
				return 0, false
			}
			i += size
			n++
		}
	}
	return n, true
}

// colourEnd is where the colour sequence that begins at i ends, −1 where it is none.
func colourEnd(s string, i int) int {
	if i+1 >= len(s) || s[i+1] != '[' {
		return -1
	}
	for i += 2; i < len(s); i++ {
		switch c := s[i]; {
		case c == 'm':
			return i + 1
		case c != ';' && (c < '0' || c > '9'):
			return -1
		}
	}
	return -1
}

// Cut returns a text shortened to at most w cells; what was cut is shown by a
// last cell of "…".
func Cut(s string, w int) string {
	s = Clean(s)
	if w <= 0 {
		return ""
	}
	if Width(s) <= w {
		return s
	}
	return ansi.Truncate(s, w, "…")
}

// Brief returns a name in at most w cells: one that is longer by its beginning with a
// full stop, and the number at its end, which tells it from its neighbours.
func Brief(s string, w int) string {
	s = Clean(s)
	if Width(s) <= w || w < 1 {
		return Cut(s, w)
	}
	number := s[len(strings.TrimRight(s, "0123456789")):]
	if len(number) > w-2 {
		number = ""
	}
	return strings.TrimRight(ansi.Truncate(s, w-1-len(number), ""), " .,") + "." + number
}

// Pad returns a text cut or filled with blanks behind it to exactly w cells.
func Pad(s string, w int) string {
	s = Cut(s, w)
	return s + blanks(w-Width(s))
}

// PadLeft is Pad with the blanks before the text.
func PadLeft(s string, w int) string {
	s = Cut(s, w)
	return blanks(w-Width(s)) + s
}

// Middle is Pad with the text in the middle.
func Middle(s string, w int) string {
	s = Cut(s, w)
	n := w - Width(s)
	return blanks(n/2) + s + blanks(n-n/2)
}

func blanks(n int) string { return strings.Repeat(" ", max(n, 0)) }

// Wrap breaks a text into lines of at most w cells between words; a longer word
// is broken where the line is full.
func Wrap(s string, w int) []string {
	s = Clean(s)
	if w <= 0 {
		return nil
	}
	if Width(s) <= w {
		return []string{s}
	}
	return page.Wrap(s, w)
}
