package tui

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/table"
	"github.com/charmbracelet/lipgloss"

	"example.org/readback/tui/look"
)

// a column of a list: its head, whether its words stand flush right, how many
// cells it takes at most (0: what its words need), and when it is left out where
// there is no room: the highest first, 0 never.
type column struct {
	title string
	right bool
	most  int
	drop  int
}

// a row of a list: its mark in the gutter, its words in columns, and shorter words
// for the column that has them.
type row struct {
	mark  string
	cells []string
	brief string
}

// a list shows rows one under the other with one of them chosen: the pointings
// of a half, the setups of a book. It scrolls so that the chosen row is seen.
type list struct {
	columns []column
	brief   int // the column whose words have a shorter form, −1 for none
	rows    []row
	chosen  int
	number  int // typed so far
	top     int
	widest  []int                             // of the words of each column, last of the shorter ones; nil: to be measured
	cell    func(i int) (upper, lower string) // the two rows of an entry where it is touched
}

// press moves the choice: by the arrows, by the number of a row, by a touch. moved
// tells that the press was one of them; take that the chosen row is taken.
func (l *list) press(p press) (moved, take bool) {
	if by, ok := p.rows(listPage); ok {
		l.move(by)
		return true, false
	}
	if i, ok := p.row(); ok {
		l.chosen = min(i, max(len(l.rows)-1, 0))
		return true, true
	}
	switch {
	case p.is(keys.Enter):
		return true, true
	case p.is(keys.Back):
		l.number /= 10
	case p.isChar() && p.r >= '0' && p.r <= '9':
		l.number = typed(l.number, p.r, len(l.rows))
	default:
		return false, false
	}
	l.chosen = max(l.number-1, 0)
	return true, false
}

// draw draws the list: as cells where touches are wanted.
func (l *list) draw(v *view, w, h int) block {
	if v.prefs.Keypad {
		return l.touchView(v, w, h)
	}
	return l.view(v, w, h)
}

// words are the two rows of an entry: its number and what stands behind it, then
// the next column.
func (l *list) words(i int) (upper, lower string) {
	if l.cell != nil {
		return l.cell(i)
	}
	c := l.rows[i].cells
	return c[0] + "  " + c[1], c[2]
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

// table gives the columns that have room and the rows to be seen their widths:
// plain cells, for the table cuts without knowing sequences.
func (l *list) table(v *view, w int, shown []row) ([]table.Column, []table.Row) {
	room := w - v.edge() - v.margin()
	kept, widths, brief := l.fit(room)
	gap := 2
	if sum(widths)+3*(len(kept)-1) <= room {
		gap = 3
	}
	pad := func(c column, s string, width int) string {
		if c.right {
			return look.PadLeft(s, width)
		}
		return look.Pad(s, width)
	}
	cols := []table.Column{{Width: v.edge()}}
	for i, k := range kept {
		cols = append(cols, table.Column{Title: pad(l.columns[k], l.columns[k].title, widths[i]), Width: widths[i] + gap})
	}
	rows := make([]table.Row, len(shown))
	for y, r := range shown {
		mark := look.Pad("", v.gutter()) + r.mark
		switch chosen := l.top+y == l.chosen; {
		case chosen && r.mark != "" && v.gutter() > 0:
			mark = "›" + r.mark
		case chosen:
			mark += "›"
		}
		rows[y] = table.Row{mark}
		for i, k := range kept {
			text := r.cells[k]
			if brief && k == l.brief {
				text = r.brief
			}
			rows[y] = append(rows[y], pad(l.columns[k], text, widths[i])+strings.Repeat(" ", gap))
		}
	}
	cols[len(cols)-1].Width += max(room-sum(widths)-gap*(len(kept)-1)-gap, 0) + v.margin()
	return cols, rows
}

// fit chooses what the room allows: first the shorter words, then one column less
// after the other, last the names are cut.
func (l *list) fit(room int) (kept, widths []int, brief bool) {
	l.measure()
	for i := range l.columns {
		kept, widths = append(kept, i), append(widths, l.widest[i])
	}
	over := func() int { return sum(widths) + 2*(len(widths)-1) - room }
	for over() > 0 {
		at := -1
		for i, k := range kept {
			if d := l.columns[k].drop; d > 0 && (at < 0 || d > l.columns[kept[at]].drop) {
				at = i
			}
		}
		short := slices.Index(kept, l.brief)
		switch {
		case short >= 0 && !brief:
			brief, widths[short] = true, l.widest[len(l.columns)]
		case at >= 0:
			kept, widths = slices.Delete(kept, at, at+1), slices.Delete(widths, at, at+1)
		default:
			for i, k := range kept {
				if !l.columns[k].right && (at < 0 || widths[i] > widths[at]) {
					at = i
				}
			}
			widths[at] = max(widths[at]-over(), 1)
			return kept, widths, brief
		}
	}
	return kept, widths, brief
}

// shows tells whether a list w cells wide has room for a text in a column.
func (l *list) shows(v *view, w, column int, text string) bool {
	kept, widths, _ := l.fit(w - v.edge() - v.margin())
	i := slices.Index(kept, column)
	return i >= 0 && look.Width(text) <= widths[i]
}

// measure finds how wide the words of each column are, once for the rows.
func (l *list) measure() {
	if l.widest != nil {
		return
	}
	l.widest = make([]int, len(l.columns)+1)
	for i, c := range l.columns {
		l.widest[i] = look.Width(c.title)
	}
	if l.brief >= 0 {
		l.widest[len(l.columns)] = l.widest[l.brief]
	}
	for _, r := range l.rows {
		for i, s := range r.cells[:len(l.columns)] {
			l.widest[i] = max(l.widest[i], look.Width(s))
		}
		l.widest[len(l.columns)] = max(l.widest[len(l.columns)], look.Width(r.brief))
	}
	for i, c := range l.columns {
		if c.most > 0 {
			l.widest[i] = min(l.widest[i], c.most)
		}
	}
}

func sum(ns []int) (n int) {
	for _, x := range ns {
		n += x
	}
	return n
}

// cellH is how many rows an entry of a list takes where it is touched: two rows of
// words and a blank one.
const cellH = 3

// touchView draws rows as cells large enough for a gloved finger, as many as fit,
// the chosen one across the full width on its ground.
func (l *list) touchView(v *view, w, h int) block {
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
		upper, lower := l.words(i)
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
