package page

import (
	"slices"
	"strings"
)

// A Run is text in one role.
type Run struct {
	Role Role
	Text string
}

// A Line is one line of a page: runs from left to right, blanks between them
// included.
type Line []Run

// String is the text of the line, without blanks at its end.
func (l Line) String() string {
	var b strings.Builder
	for _, r := range l {
		b.WriteString(r.Text)
	}
	return strings.TrimRight(b.String(), " ")
}

// width is how many cells the line takes.
func (l Line) width() int {
	n := 0
	for _, r := range l {
		n += Width(r.Text)
	}
	return n
}

// Screen sets the page for a screen of the given width: no line is wider. A table that
// has no room is split into parts that each begin with the name of the row, or with the
// first column where rows have none; a line that is wider still is broken between its
// words, under its own beginning.
func Screen(p Page, width int) []Line {
	var s galley
	s.lay(named(p.Blocks), width)
	var out []Line
	for _, l := range s.lines {
		if width <= 0 || l.width() <= width {
			out = append(out, l)
			continue
		}
		out = append(out, l.broken(width)...)
	}
	return out
}

// named lets the first column name the rows of tables that have no names.
func named(bs []Block) []Block {
	out := slices.Clone(bs)
	for i, b := range out {
		t, ok := b.(Table)
		if ok && len(t.Columns) > 0 && !slices.ContainsFunc(t.Columns, func(c Column) bool { return c.Part == Name }) {
			t.Columns = slices.Clone(t.Columns)
			t.Columns[0].Part = Name
			out[i] = t
		}
	}
	return out
}

// broken breaks a line at its blanks; what follows stands two cells further in
// than its beginning.
func (l Line) broken(width int) []Line {
	indent := 0
	if len(l) > 0 {
		indent = len(l[0].Text) - len(strings.TrimLeft(l[0].Text, " "))
	}
	indent = min(indent, width/2)
	var out []Line
	cur, at := Line{{Text: fill(indent)}}, indent
	empty := true
	for _, r := range l {
		for _, word := range strings.Fields(r.Text) {
			for _, part := range Wrap(word, width-indent-2) {
				n := Width(part)
				if !empty && at+1+n > width {
					out, cur, at, empty = append(out, cur), Line{{Text: fill(indent + 2)}}, indent+2, true
				}
				if !empty {
					cur, at = append(cur, Run{Text: " "}), at+1
				}
				cur, at, empty = append(cur, Run{r.Role, part}), at+n, false
			}
		}
	}
	return append(out, cur)
}
