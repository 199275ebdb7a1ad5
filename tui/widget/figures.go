package widget

import (
	"strings"

	"example.org/readback/tui/look"
)

// A Height is how tall the figures of the entry are.
type Height int

// The heights, the tallest last. Huge takes 65 columns for 359°59′59″, Tall 42,
// Narrow 30.
const (
	line Height = iota
	narrow
	Tall
	Huge
)

// rows is how many rows a height takes, without the row of marks under it.
func (h Height) rows() int {
	switch h {
	case Huge:
		return 5
	case line:
		return 1
	}
	return 3
}

// cut is how a height is set: the width of a figure, the gap between two, and
// the blanks before and behind a sign. What parts the groups is what the ear
// needs.
type cut struct{ digit, gap int }

func (h Height) cut() cut {
	switch h {
	case Huge:
		return cut{6, 2}
	case narrow:
		return cut{3, 1}
	}
	return cut{4, 1}
}

// signs of angles in the rows of a height, light and no block.
func (h Height) sign(r rune) []string {
	if h == Huge {
		switch r {
		case '°':
			return []string{"  ╭─╮  ", "  ╰─╯  "}
		case '′':
			return []string{" ╱   "}
		case '″':
			return []string{" ╱╱"}
		}
	}
	behind := "  "
	if h == narrow {
		behind = ""
	}
	switch r {
	case '°', '′':
		if h == narrow {
			return []string{string(r) + " "}
		}
		return []string{" " + string(r) + behind}
	case '″':
		return []string{" " + string(r)}
	}
	return nil
}

// Figures draws an entry as Entry.Formatted gives it, in figures of the height,
// with a row under them for marks. Of its digits the first out ones are drawn as
// what cannot be; an open place is a thin line, so no digit moves sideways while
// others come.
func Figures(t *look.Theme, h Height, text string, out int) []string {
	if h == line {
		return lineOf(t, text, out)
	}
	rows := make([]*look.Row, h.rows()+1)
	for i := range rows {
		rows[i] = t.Row()
	}
	c := h.cut()
	digit := false // the last was a place for a digit
	for _, r := range text {
		sign := h.sign(r)
		place := r == ' ' || r == '_' || r >= '0' && r <= '9'
		switch {
		case place:
			if digit {
				pad(rows, c.gap)
			}
			bad := r >= '0' && r <= '9' && out > 0
			if r >= '0' && r <= '9' {
				out--
			}
			drawDigit(t, rows, h, r, bad)
		case sign != nil:
			put(rows, look.Ink, sign, h)
		case r == '.' || r == ',':
			pad(rows, 1)
			rows[h.rows()-1].Put(look.Strong, "▄")
			level(rows)
			pad(rows, 1)
		default:
			rows[h.rows()-1].Put(look.Strong, string(r))
			level(rows)
		}
		digit = place
	}
	lines := make([]string, len(rows))
	for i, r := range rows {
		lines[i] = r.String()
	}
	return lines
}

// lineOf is the entry in one row of its own, marked beneath.
func lineOf(t *look.Theme, text string, out int) []string {
	row, under := t.Row(), t.Row()
	for _, r := range text {
		role := look.Strong
		if r >= '0' && r <= '9' {
			if out > 0 {
				role = look.Out
				under.To(row.Width()).Put(look.Out, "▔")
			}
			out--
		}
		row.Put(role, string(r))
	}
	return []string{row.String(), under.String()}
}

// drawDigit draws one figure or an open place.
func drawDigit(t *look.Theme, rows []*look.Row, h Height, r rune, bad bool) {
	w, n := h.cut().digit, h.rows()
	role := look.Strong
	if bad {
		role = look.Out
	}
	if r == ' ' || r == '_' {
		rows[n-1].Fill(look.Line, "▁", w)
		level(rows)
		return
	}
	for y, s := range digitRows(t, h, r) {
		rows[y].Put(role, s)
	}
	if bad {
		rows[n].Fill(look.Out, "▔", w)
	}
	level(rows)
}

func put(rows []*look.Row, role look.Role, lines []string, h Height) {
	if h != Huge {
		role = look.Strong
	}
	for y, s := range lines {
		rows[y].Put(role, s)
	}
	level(rows)
}

func pad(rows []*look.Row, n int) {
	level(rows)
	for _, r := range rows {
		r.To(r.Width() + n)
	}
}

// level fills every row to the width of the longest.
func level(rows []*look.Row) {
	w := 0
	for _, r := range rows {
		w = max(w, r.Width())
	}
	for _, r := range rows {
		r.To(w)
	}
}

// width is how many columns an entry takes at the height.
func (h Height) width(text string) int {
	if h == line {
		return look.Width(text)
	}
	c, w, digit := h.cut(), 0, false
	for _, r := range text {
		place := r == ' ' || r == '_' || r >= '0' && r <= '9'
		switch sign := h.sign(r); {
		case place:
			w += c.digit
			if digit {
				w += c.gap
			}
		case sign != nil:
			w += look.Width(sign[0])
		case r == '.' || r == ',':
			w += 3
		default:
			w++
		}
		digit = place
	}
	return w
}

// TallestFor returns the greatest height that fits into w columns and rows rows.
func TallestFor(text string, w, rows int) Height {
	for h := Huge; h > line; h-- {
		if h.rows() <= rows && h.width(text) <= w {
			return h
		}
	}
	return line
}

// digitRows are the rows of a figure; in ASCII it is made of seven segments.
func digitRows(t *look.Theme, h Height, r rune) []string {
	i := int(r - '0')
	if t.Signs == look.ASCII {
		rows := strings.Split(segments[i], "|n")
		w := h.cut().digit
		out := make([]string, h.rows())
		for y := range out {
			s := ""
			if k := y - (h.rows() - 3); k >= 0 {
				s = rows[k]
			}
			out[y] = look.PadLeft(s, w)
		}
		return out
	}
	switch h {
	case Huge:
		return hugeDigits[i][:]
	case narrow:
		return narrowDigits[i][:]
	}
	return tallDigits[i][:]
}

// segments are figures of seven segments, rows parted by "|n".
var segments = [10]string{
	" _ |n| ||n|_|", "   |n  ||n  |", " _ |n _||n|_ ", " _ |n _||n _|", "   |n|_||n  |", " _ |n|_ |n _|", " _ |n|_ |n|_|", " _ |n  ||n  |", " _ |n|_||n|_|", " _ |n|_||n _|",
}

// Half blocks, two pixels a row: 4 × 6, 3 × 6 and 6 × 10 pixels.
var (
	tallDigits = [10][3]string{
		{"█▀▀█", "█  █", "█▄▄█"}, {"▄█  ", " █  ", "▄█▄ "}, {"▀▀▀█", "█▀▀▀", "█▄▄▄"}, {"▀▀▀█", " ▀▀█", "▄▄▄█"}, {"█  █", "▀▀▀█", "   █"},
		{"█▀▀▀", "▀▀▀█", "▄▄▄█"}, {"█▀▀▀", "█▀▀█", "█▄▄█"}, {"▀▀▀█", "  █ ", " █  "}, {"█▀▀█", "█▀▀█", "█▄▄█"}, {"█▀▀█", "▀▀▀█", "▄▄▄█"},
	}
	narrowDigits = [10][3]string{
		{"█▀█", "█ █", "█▄█"}, {"▄█ ", " █ ", "▄█▄"}, {"▀▀█", "█▀▀", "█▄▄"}, {"▀▀█", " ▀█", "▄▄█"}, {"█ █", "▀▀█", "  █"},
		{"█▀▀", "▀▀█", "▄▄█"}, {"█▀▀", "█▀█", "█▄█"}, {"▀▀█", " ▐▌", " █ "}, {"█▀█", "█▀█", "█▄█"}, {"█▀█", "▀▀█", "▄▄█"},
	}
	hugeDigits = [10][5]string{
		{"▄█▀▀█▄", "██  ██", "██  ██", "██  ██", "▀█▄▄█▀"}, {" ▄██  ", "▀▀██  ", "  ██  ", "  ██  ", "▄▄██▄▄"},
		{"▄█▀▀█▄", "    ██", "  ▄█▀ ", "▄█▀   ", "██▄▄▄▄"}, {"▄█▀▀█▄", "    ██", "  ▀▀█▄", "    ██", "▀█▄▄█▀"},
		{"   ▄██", " ▄█▀██", "██▄▄██", "▀▀▀▀██", "    ██"}, {"██▀▀▀▀", "██    ", "▀▀▀▀█▄", "    ██", "▀█▄▄█▀"},
		{"▄█▀▀█▄", "██    ", "██▀▀█▄", "██  ██", "▀█▄▄█▀"}, {"▀▀▀▀██", "   ▄█▀", "  ██  ", " ██   ", " ██   "},
		{"▄█▀▀█▄", "██  ██", "▄█▀▀█▄", "██  ██", "▀█▄▄█▀"}, {"▄█▀▀█▄", "██  ██", "▀█▄▄██", "    ██", "▀█▄▄█▀"},
	}
)
