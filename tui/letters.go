package tui

import (
	"unicode"

	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// letters are three rows tall, as six rows of pixels: names are drawn with them
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

// wordWidth returns the columns a name takes in tall letters, 0 when it has a
// character that has no tall form.
func wordWidth(s string) int {
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

// bigWord draws a word three rows tall where the signs allow it, and returns the
// column behind it.
func bigWord(a widget.Area, role look.Role, s string) int {
	if a.Theme().Signs == look.ASCII || wordWidth(s) == 0 {
		return a.Text(1, 0, role, s) + 3
	}
	drawWord(a.Sub(1, 0, a.W-1, 3), role, s)
	return wordWidth(s) + 4
}

// drawWord draws a name in tall letters as half blocks. In ASCII a name is not
// drawn tall: see wordWidth's callers.
func drawWord(a widget.Area, role look.Role, s string) {
	x := 0
	for _, r := range s {
		g := letters[unicode.ToUpper(r)]
		for y := 0; y < 3; y++ {
			up, low := g[2*y], g[2*y+1]
			for i := range up {
				u, l := up[i] == '#', low[i] == '#'
				switch {
				case u && l:
					a.Rune(x+i, y, role, '█')
				case u:
					a.Rune(x+i, y, role, '▀')
				case l:
					a.Rune(x+i, y, role, '▄')
				}
			}
		}
		x += len(g[0]) + 1
	}
}
