package sheet

import (
	"fmt"
	"strings"
	"unicode"
)

// visible returns a name or a remark with every character that cannot be seen,
// or that would move its neighbours, written out: "␊" for a line feed, "⟨U+202E⟩"
// for a change of direction.
func visible(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r < 0x20:
			b.WriteRune(0x2400 + r)
		case r == 0x7f:
			b.WriteRune(0x2421)
		case r == ' ' || unicode.IsGraphic(r) && !unicode.Is(unicode.Zs, r) && r != unicode.ReplacementChar:
			b.WriteRune(r)
		case r == 0x00a0:
			b.WriteRune(' ')
		default:
			fmt.Fprintf(&b, "⟨U+%04X⟩", r)
		}
	}
	return b.String()
}

// columns returns how many columns of a terminal s takes: none for a combining
// mark, two for an East Asian wide character.
func columns(s string) int {
	n := 0
	for _, r := range s {
		switch {
		case unicode.Is(unicode.Mn, r) || unicode.Is(unicode.Me, r):
		case wide(r):
			n += 2
		default:
			n++
		}
	}
	return n
}

// wide tells whether r is drawn two columns wide.
// Source: Unicode Standard Annex 11, classes W and F, by block (from memory).
func wide(r rune) bool {
	return r >= 0x1100 && (r <= 0x115f || r >= 0x2e80 && r <= 0xa4cf || r >= 0xac00 && r <= 0xd7a3 ||
		r >= 0xf900 && r <= 0xfaff || r >= 0xfe30 && r <= 0xfe6f || r >= 0xff00 && r <= 0xff60 ||
		r >= 0xffe0 && r <= 0xffe6 || r >= 0x1f300 && r <= 0x1faff || r >= 0x20000 && r <= 0x3fffd)
}
