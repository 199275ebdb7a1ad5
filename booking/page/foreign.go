package page

import (
	"fmt"
	"strings"
	"unicode"
)

// Visible returns a name or a remark with every character that cannot be seen,
// or that would move its neighbours, written out: "␊" for a line feed, "⟨U+202E⟩"
// for a change of direction, "⟨U+200B⟩" for a blank without width. What is
// written out already stays as it is.
func Visible(s string) string {
	if !strings.ContainsFunc(s, unseen) {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case r < 0x20:
			b.WriteRune(0x2400 + r)
		case r == 0x7f:
			b.WriteRune(0x2421)
		case r == 0x00a0:
			b.WriteRune(' ')
		case unseen(r):
			fmt.Fprintf(&b, "⟨U+%04X⟩", r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// unseen tells whether a character leaves no ink of its own: a control or a
// format character, a blank other than the common one, or a letter or a mark
// that Unicode lets a writer pass over.
func unseen(r rune) bool {
	if single(r) && r != 0xa0 {
		return false
	}
	return !unicode.IsGraphic(r) || r == unicode.ReplacementChar || r == 0x2800 ||
		unicode.In(r, unicode.Zs, unicode.Other_Default_Ignorable_Code_Point, unicode.Variation_Selector)
}
