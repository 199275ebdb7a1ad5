package widget

import (
	"strings"
	"unicode"

	"example.org/readback/tui/look"
)

// letters are six rows of pixels: names and badges are drawn with them
// where there is room, so that a target is read at arm's length.
var letters = map[rune][6]string{
	'A': {" ## ", "#  #", "#  #", "####", "#  #", "#  #"}, 'B': {"### ", "#  #", "### ", "#  #", "#  #", "### "},
	'C': {" ###", "#   ", "#   ", "#   ", "#   ", " ###"}, 'D': {"### ", "#  #", "#  #", "#  #", "#  #", "### "},
	'E': {"####", "#   ", "### ", "#   ", "#   ", "####"}, 'F': {"####", "#   ", "### ", "#   ", "#   ", "#   "},
	'G': {" ###", "#   ", "# ##", "#  #", "#  #", " ###"}, 'H': {"#  #", "#  #", "####", "#  #", "#  #", "#  #"},
	'I': {"###", " # ", " # ", " # ", " # ", "###"}, 'J': {"  ##", "   #", "   #", "   #", "#  #", " ## "},
	'K': {"#  #", "# # ", "##  ", "##  ", "# # ", "#  #"}, 'L': {"#   ", "#   ", "#   ", "#   ", "#   ", "####"},
	'M': {"#   #", "## ##", "# # #", "#   #", "#   #", "#   #"}, 'N': {"#   #", "##  #", "# # #", "#  ##", "#   #", "#   #"},
	'O': {" ## ", "#  #", "#  #", "#  #", "#  #", " ## "}, 'P': {"### ", "#  #", "#  #", "### ", "#   ", "#   "},
	'Q': {" ## ", "#  #", "#  #", "#  #", "# ##", " ###"}, 'R': {"### ", "#  #", "#  #", "### ", "# # ", "#  #"},
	'S': {" ###", "#   ", " ## ", "   #", "   #", "### "}, 'T': {"#####", "  #  ", "  #  ", "  #  ", "  #  ", "  #  "},
	'U': {"#  #", "#  #", "#  #", "#  #", "#  #", " ## "}, 'V': {"#   #", "#   #", "#   #", " # # ", " # # ", "  #  "},
	'W': {"#   #", "#   #", "#   #", "# # #", "## ##", "#   #"}, 'X': {"#   #", " # # ", "  #  ", "  #  ", " # # ", "#   #"},
	'Y': {"#   #", " # # ", "  #  ", "  #  ", "  #  ", "  #  "}, 'Z': {"####", "   #", "  # ", " #  ", "#   ", "####"},
	'0': {" ## ", "#  #", "#  #", "#  #", "#  #", " ## "}, '1': {" # ", "## ", " # ", " # ", " # ", "###"},
	'2': {"### ", "   #", "  # ", " #  ", "#   ", "####"}, '3': {"### ", "   #", " ## ", "   #", "   #", "### "},
	'4': {"#  #", "#  #", "####", "   #", "   #", "   #"}, '5': {"####", "#   ", "### ", "   #", "   #", "### "},
	'6': {" ###", "#   ", "### ", "#  #", "#  #", " ## "}, '7': {"####", "   #", "  # ", "  # ", " #  ", " #  "},
	'8': {" ## ", "#  #", " ## ", "#  #", "#  #", " ## "}, '9': {" ## ", "#  #", " ###", "   #", "   #", "### "},
	' ': {"  ", "  ", "  ", "  ", "  ", "  "}, '-': {"   ", "   ", "###", "   ", "   ", "   "},
	'.': {" ", " ", " ", " ", " ", "#"}, '/': {"   #", "  # ", "  # ", " #  ", " #  ", "#   "},
}

// NameRows is how many rows a tall name takes: six pixels and half a row of
// ground above and below, so that a badge has an edge.
const NameRows = 4

// NameWidth returns the columns a name takes in tall letters, 0 when it has a
// character that has no tall form.
func NameWidth(s string) int {
	w := 0
	for _, r := range s {
		g, ok := letters[unicode.ToUpper(r)]
		if !ok {
			return 0
		}
		w += len(g[0]) + 1
	}
	return max(w-1, 0)
}

// Name draws a name in tall letters, each row padded by pad columns on either
// side. In ASCII it stands in capitals on the second row.
func Name(t *look.Theme, role look.Role, s string, pad int) []string {
	side := strings.Repeat(" ", pad)
	rows := make([]string, NameRows)
	if t.Signs == look.ASCII {
		for y := range rows {
			text := strings.Repeat(" ", NameWidth(s))
			if y == 1 {
				text = look.Pad(strings.ToUpper(s), NameWidth(s))
			}
			rows[y] = t.In(role, side+text+side)
		}
		return rows
	}
	for y := range rows {
		var b strings.Builder
		for i, r := range []rune(s) {
			g := letters[unicode.ToUpper(r)]
			if i > 0 {
				b.WriteByte(' ')
			}
			up, low := g[0], g[0]
			if y > 0 {
				up = g[2*y-1]
			}
			if y < 3 {
				low = g[2*y]
			}
			for k := range up {
				b.WriteString(half(y > 0 && up[k] == '#', y < 3 && low[k] == '#'))
			}
		}
		rows[y] = t.In(role, side+b.String()+side)
	}
	return rows
}

func half(up, low bool) string {
	switch {
	case up && low:
		return "█"
	case up:
		return "▀"
	case low:
		return "▄"
	}
	return " "
}

// Badge draws a word of one or a few capitals on the ground of a role; without
// colours it stands between two upright lines. It returns the rows and their
// width.
func Badge(t *look.Theme, role look.Role, s string, pad int) (rows []string, w int) {
	w = NameWidth(s) + 2*pad
	if t.Coloured() {
		return Name(t, role, s, pad), w
	}
	rows = Name(t, role, s, max(pad-1, 0))
	for i := range rows {
		rows[i] = "│" + rows[i] + "│"
	}
	return rows, w
}
