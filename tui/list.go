package tui

import (
	"github.com/charmbracelet/bubbles/table"
	"github.com/charmbracelet/lipgloss"

	"example.org/readback/tui/look"
)

// a column of a list: its head, its width (0 shares what is left), and whether
// its words stand flush right.
type column struct {
	title string
	width int
	right bool
}

// a row of a list: its mark in the gutter, its words in columns.
type row struct {
	mark  string
	cells []string
}

// a list shows rows one under the other with one of them chosen: the pointings
// of a half, the setups of a book. It scrolls so that the chosen row is seen.
type list struct {
	columns []column
	rows    []row
	chosen  int
	top     int
}

// move moves the choice by n rows and stops at the ends.
func (l *list) move(n int) { l.chosen = min(max(l.chosen+n, 0), max(len(l.rows)-1, 0)) }

// view draws the list with its head: each row is a touch on its number. Only the
// rows that are seen are handed to the table, so a touch knows its row.
func (l *list) view(v *view, w, h int) block {
	var b block
	if h < 2 || len(l.rows) == 0 {
		return b
	}
	n := h - 1
	l.top = max(min(l.top, l.chosen), l.chosen-n+1, 0)
	l.top = max(min(l.top, len(l.rows)-n), 0)
	shown := l.rows[l.top:min(l.top+n, len(l.rows))]
	cols, rows := l.table(v, w, shown)
	plain := lipgloss.NewStyle()
	t := table.New(table.WithColumns(cols), table.WithRows(rows), table.WithHeight(len(shown)+1), table.WithWidth(w), table.WithFocused(true),
		table.WithStyles(table.Styles{Header: v.theme.Style(look.Quiet), Cell: plain, Selected: v.theme.Style(look.Chosen)}))
	t.SetCursor(l.chosen - l.top)
	b.add(splitLines(t.View())...)
	b.level(len(shown) + 1)
	for i := range shown {
		b.touch(0, i+1, w, 1, touching(onRow(l.top+i)))
	}
	if l.top > 0 {
		b.lines[0] = look.FitLine(b.lines[0], w-1) + v.theme.In(look.Accent, "↑")
	}
	if l.top+n < len(l.rows) {
		b.lines[len(b.lines)-1] = look.FitLine(b.lines[len(b.lines)-1], w-1) + v.theme.In(look.Accent, "↓")
	}
	return b
}

// table gives the columns and the rows to be seen their widths: plain cells, for
// the table cuts without knowing sequences.
func (l *list) table(v *view, w int, shown []row) ([]table.Column, []table.Row) {
	cols := []table.Column{{Width: v.edge()}}
	free := w - v.edge() - v.margin()
	for _, c := range l.columns {
		if c.width > 0 {
			free -= c.width + 2
		}
	}
	for _, c := range l.columns {
		width := c.width
		if width == 0 {
			width = max(free-2, 1)
		}
		title := look.Pad(c.title, width)
		if c.right {
			title = look.PadLeft(c.title, width)
		}
		cols = append(cols, table.Column{Title: title, Width: width + 2})
	}
	cols[len(cols)-1].Width += v.margin()
	rows := make([]table.Row, len(shown))
	for i, r := range shown {
		mark := r.mark
		if mark == "" && l.top+i == l.chosen {
			mark = "›"
		}
		rows[i] = table.Row{look.Pad("", v.gutter()) + mark}
		for k, c := range r.cells[:min(len(r.cells), len(l.columns))] {
			width := cols[k+1].Width - 2
			if l.columns[k].right {
				c = look.PadLeft(c, width)
			} else {
				c = look.Pad(c, width)
			}
			rows[i] = append(rows[i], c+"  ")
		}
	}
	return cols, rows
}

// cellH is how many rows an entry of a list takes where it is touched: two rows of
// words and a blank one.
const cellH = 3

// touchView draws rows as cells large enough for a gloved finger, as many as fit,
// the chosen one across the full width on its ground; words gives the two rows of
// an entry.
func (l *list) touchView(v *view, w, h int, words func(i int) (upper, lower string)) block {
	var b block
	n := (h + 1) / cellH
	if n < 1 || len(l.rows) == 0 {
		return b
	}
	l.top = max(min(l.chosen-n/2, len(l.rows)-n), 0)
	for i := l.top; i < len(l.rows) && i < l.top+n; i++ {
		if i > l.top {
			b.add("")
		}
		upper, lower := words(i)
		more := ""
		switch {
		case i == l.top && l.top > 0:
			more = "↑"
		case i == l.top+n-1 && i+1 < len(l.rows):
			more = "↓"
		}
		role, second := look.Strong, look.Quiet
		if i == l.chosen {
			role, second = look.Chosen, look.Chosen
		}
		first := v.theme.Row().To(v.gutter()).Put(role, l.rows[i].mark).To(v.edge()).Put(role, look.Cut(upper, w-v.edge()-v.margin())).To(w-1).Put(role, more)
		next := v.theme.Row().To(v.edge()).Put(second, look.Cut(lower, w-v.edge()-v.margin()))
		b.touch(0, len(b.lines), w, 2, touching(onRow(i)))
		if i == l.chosen {
			b.add(first.Ground(look.Chosen, w), next.Ground(look.Chosen, w))
			continue
		}
		b.add(first.String(), next.String())
	}
	return b
}

// typed is the number of a row while its digits are keyed: the digit goes on with
// the number as far as there are rows, else it begins another.
func typed(number int, digit rune, rows int) int {
	d := int(digit - '0')
	switch {
	case number*10+d >= 1 && number*10+d <= rows:
		return number*10 + d
	case d >= 1 && d <= rows:
		return d
	}
	return number
}
