package part

import (
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"example.org/readback/tui/theme"
)

// next takes the first character off s: the text of one cell or of two, as a
// reader sees it (a letter with its combining marks is one), and its width.
// Control characters come back as a visible sign of width 1, marks without a
// letter get a blank to stand on.
func next(s string) (text string, width, size int) {
	if c := s[0]; c >= 0x20 && c < 0x7f && (len(s) == 1 || s[1] < 0x80) {
		return s[:1], 1, 1
	}
	r, n := utf8.DecodeRuneInString(s)
	if v, ok := visible(r, n); ok {
		return v, 1, n
	}
	cluster, w := ansi.FirstGraphemeCluster(s, ansi.GraphemeWidth)
	if hasControl(cluster) {
		return s[:n], ansi.StringWidth(s[:n]), n
	}
	switch {
	case w <= 0:
		return " " + cluster, 1, len(cluster)
	case w > 2:
		return "\uFFFD", 1, len(cluster)
	}
	return cluster, w, len(cluster)
}

// visible gives the sign that stands for a character which would act on the
// terminal or turn the line around: C0, C1, DEL, bidirectional controls, line
// separators and what is not UTF-8.
func visible(r rune, n int) (string, bool) {
	switch {
	case r < 0x20:
		return string(0x2400 + r), true
	case r == 0x7f:
		return "\u2421", true
	case r == utf8.RuneError && n <= 1, r >= 0x80 && r < 0xa0:
		return "\uFFFD", true
	case r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == 0x200e, r == 0x200f, r == 0x061c:
		return "\uFFFD", true
	case r == 0x2028, r == 0x2029, r == 0xfeff, r == 0x200b:
		return "\uFFFD", true
	case unicode.Is(unicode.Co, r), r >= 0xe0000 && r <= 0xe0fff:
		return "\uFFFD", true
	}
	return "", false
}

// hasControl tells whether a cluster of several characters hides one that must
// be shown by itself.
func hasControl(cluster string) bool {
	for i, r := range cluster {
		n := utf8.RuneLen(r)
		if r == utf8.RuneError {
			n = 1
		}
		if _, ok := visible(r, n); ok && i > 0 {
			return true
		}
	}
	return false
}

// Clean returns s with every control character replaced by a visible sign, so
// that it can be written to a terminal.
func Clean(s string) string {
	if printable(s) {
		return s
	}
	b := make([]byte, 0, len(s)+8)
	for len(s) > 0 {
		text, _, n := next(s)
		b, s = append(b, text...), s[n:]
	}
	return string(b)
}

// printable is the usual case: plain ASCII without control characters.
func printable(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < 0x20 || s[i] >= 0x7f {
			return false
		}
	}
	return true
}

// Width returns how many cells s takes.
func Width(s string) int {
	if printable(s) {
		return len(s)
	}
	w := 0
	for len(s) > 0 {
		_, cw, n := next(s)
		w, s = w+cw, s[n:]
	}
	return w
}

// Cut returns s shortened to at most w cells; what was cut is shown by a last
// cell of "…".
func Cut(s string, w int) string {
	if w <= 0 {
		return ""
	}
	if Width(s) <= w {
		return Clean(s)
	}
	var b []byte
	for at := 0; len(s) > 0; {
		text, cw, n := next(s)
		if at+cw > w-1 {
			break
		}
		b, at, s = append(b, text...), at+cw, s[n:]
	}
	return string(append(b, "…"...))
}

// Pad returns s cut or filled with blanks to exactly w cells, to the left
// (align < 0), in the middle (0) or to the right (align > 0).
func Pad(s string, w, align int) string {
	s = Cut(s, w)
	free := max(w-Width(s), 0)
	before := 0
	switch {
	case align == 0:
		before = free / 2
	case align > 0:
		before = free
	}
	b := make([]byte, 0, len(s)+free)
	for i := 0; i < before; i++ {
		b = append(b, ' ')
	}
	b = append(b, s...)
	for i := before; i < free; i++ {
		b = append(b, ' ')
	}
	return string(b)
}

// Wrap breaks s into lines of at most w cells between words; a longer word is
// broken where the line is full.
func Wrap(s string, w int) []string {
	if w <= 0 {
		return nil
	}
	var lines []string
	var line []byte
	at, space, spaceAt := 0, -1, 0
	for len(s) > 0 {
		text, cw, n := next(s)
		s = s[n:]
		if at+cw > w {
			switch {
			case text == " ":
				lines, line, at, space = append(lines, string(line)), line[:0:0], 0, -1
				continue
			case space >= 0:
				lines = append(lines, string(line[:space]))
				line, at, space = append([]byte(nil), line[space+1:]...), at-spaceAt-1, -1
			default:
				lines, line, at = append(lines, string(line)), line[:0:0], 0
			}
		}
		if text == " " {
			space, spaceAt = len(line), at
		}
		line, at = append(line, text...), at+cw
	}
	return append(lines, string(line))
}

// a cell of the frame. A character of several code points stands in the frame's
// list and r is its place there, as −1 − index; the second cell of a wide
// character has r 0.
type cell struct {
	r    rune
	role theme.Role
	wide bool
}
