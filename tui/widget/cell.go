package widget

import (
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"example.org/readback/tui/look"
)

// next takes the first character off s: the text of one cell or of two, as a
// reader sees it (a letter with its combining marks is one), and its width.
// Control characters and characters that would grow together with what stands
// in the next cell come back as a visible sign of width 1; marks without a letter
// get a blank to stand on.
func next(s string) (text string, width, size int) {
	if plain(s[0]) && (len(s) == 1 || plain(s[1])) {
		return s[:1], 1, 1
	}
	r, n := utf8.DecodeRuneInString(s)
	if simple(r) {
		if n == len(s) {
			return s[:n], 1, n
		}
		if r2, _ := utf8.DecodeRuneInString(s[n:]); simple(r2) {
			return s[:n], 1, n
		}
	}
	if v, ok := visible(r, n); ok {
		return v, 1, n
	}
	cluster, w := ansi.FirstGraphemeCluster(s, ansi.GraphemeWidth)
	if i := control(cluster); i > 0 {
		cluster = cluster[:i]
		w = ansi.StringWidth(cluster)
	}
	size = len(cluster)
	switch {
	case w <= 0 || leans(cluster):
		cluster, w = " "+cluster, 1
		if !single(cluster, 1) {
			cluster = "\uFFFD"
		}
	case w > 2:
		cluster, w = "\uFFFD", 1
	}
	if !apart(cluster) {
		return "\uFFFD", 1, size
	}
	return cluster, w, size
}

// plain is printable ASCII.
func plain(c byte) bool { return c >= 0x20 && c < 0x7f }

// ambiguous tells whether the environment has characters of ambiguous width
// measured as two cells; x/ansi reads it once.
var ambiguous = ansi.StringWidth("°") != 1

// simple characters take one cell and never join another simple one: letters of
// western names and our own signs.
func simple(r rune) bool {
	switch {
	case r >= 0x20 && r < 0x7f:
		return true
	case ambiguous, r < 0xa1, r == 0xad:
		return false
	case r < 0x250, r >= 0x2010 && r <= 0x2027, r >= 0x2500 && r <= 0x25a0, r >= 0x2801 && r <= 0x28ff:
		return true
	}
	switch r {
	case '′', '″', '−', '‹', '›', '√', 'σ', 'Δ', '✓', '●', '○', '▲', '△', '▸', '◆', '→', '←', '↑', '↓', '≤', '≥':
		return true
	}
	return false
}

// leans tells whether a character attaches itself to what stands before it.
func leans(cluster string) bool {
	c, _ := ansi.FirstGraphemeCluster(" "+cluster, ansi.GraphemeWidth)
	return len(c) > 1
}

// single tells whether s is one character of the given width.
func single(s string, width int) bool {
	c, w := ansi.FirstGraphemeCluster(s, ansi.GraphemeWidth)
	return w == width && len(c) == len(s)
}

// joiners are characters that grow together with some that stand before them:
// a letter after a prefix sign, a pictograph after a joiner, a consonant after a
// virama, the parts of a Korean syllable, half a flag.
var joiners = [...]string{"x", "👩", "ष", "\uac00", "\u1160", "\u11a8", "🇩"}

// apart tells whether a character stays by itself whatever follows it and
// whatever it follows.
func apart(cluster string) bool {
	for _, j := range joiners {
		if c, _ := ansi.FirstGraphemeCluster(cluster+j, ansi.GraphemeWidth); len(c) != len(cluster) {
			return false
		}
	}
	r, _ := utf8.DecodeRuneInString(cluster)
	return !(r >= 0x1160 && r <= 0x11ff || r >= 0xd7b0 && r <= 0xd7ff)
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

// control returns where in a cluster of several characters one hides that must be
// shown by itself, −1 where there is none.
func control(cluster string) int {
	for i, r := range cluster {
		n := utf8.RuneLen(r)
		if r == utf8.RuneError {
			n = 1
		}
		if _, ok := visible(r, n); ok && i > 0 {
			return i
		}
	}
	return -1
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
		if !plain(s[i]) {
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

// An Align says where a text stands in the cells it is given.
type Align uint8

// The places.
const (
	Left Align = iota
	Middle
	Right
)

// before returns how many of the free cells stand before the text.
func (a Align) before(free int) int {
	switch a {
	case Middle:
		return free / 2
	case Right:
		return free
	}
	return 0
}

// Pad returns s cut or filled with blanks to exactly w cells.
func Pad(s string, w int, align Align) string {
	s = Cut(s, w)
	free := max(w-Width(s), 0)
	before := align.before(free)
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
	if Width(s) <= w {
		return []string{Clean(s)}
	}
	var lines []string
	var line []byte
	at, space, spaceAt := 0, -1, 0
	for len(s) > 0 {
		text, cw, n := next(s)
		s = s[n:]
		if cw > w {
			text, cw = "\uFFFD", 1
		}
		if text == " " && at == w {
			lines, line, at, space = append(lines, string(line)), nil, 0, -1
			continue
		}
		for at+cw > w {
			if space < 0 {
				lines, line, at = append(lines, string(line)), nil, 0
				continue
			}
			lines = append(lines, string(line[:space]))
			line, at, space = append([]byte(nil), line[space+1:]...), at-spaceAt-1, -1
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
	role look.Role
	wide bool
}
