package tui

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/table"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

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
	commanded
	columns []column
	brief   int // the column whose words have a shorter form, −1 for none
	rows    []row
	chosen  int
	number  int // typed so far
	top     int
	widest  []int                             // of the words of each column, last of the shorter ones; nil: to be measured
	cell    func(i int) (upper, lower string) // the two rows of an entry where it is touched
	pick    func(v *view) []ask               // what becomes of the chosen row
}

// take moves the choice, by the arrows and by the number of a row, and picks a row that
// is touched.
func (l *list) take(v *view, p press) ([]ask, bool) {
	if by, ok := p.rows(listPage); ok {
		l.move(by)
		return nil, true
	}
	if i, ok := p.row(); ok {
		l.chosen = min(i, max(len(l.rows)-1, 0))
		return l.pick(v), true
	}
	switch {
	case p.is(keys.Back):
		l.number /= 10
	case p.isChar() && p.r >= '0' && p.r <= '9':
		l.number = typed(l.number, p.r, len(l.rows))
	default:
		return nil, false
	}
	l.chosen = max(l.number-1, 0)
	return nil, true
}

// picks is the action that picks the chosen row.
func (l *list) picks(v *view, word string) action {
	return does(keys.Pick, func() []ask { return l.pick(v) }).named(word)
}

// draw draws the list: as cells where touches are wanted.
func (l *list) draw(f *frame, w, h int) block {
	if f.prefs.Keypad {
		return l.touchView(f, w, h)
	}
	return l.view(f, w, h)
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
func (l *list) view(f *frame, w, h int) block {
	var b block
	if h < 2 || len(l.rows) == 0 {
		return b
	}
	kept, widths, brief := l.fit(w - f.edge() - f.margin())
	end := l.window(h-1, func(i int) int { return l.height(i, kept, widths, brief) })
	cols, rows, of := l.table(f, w, end, kept, widths, brief)
	plain := lipgloss.NewStyle()
	t := table.New(table.WithColumns(cols), table.WithRows(rows), table.WithHeight(len(rows)+1), table.WithWidth(w), table.WithFocused(true),
		table.WithStyles(table.Styles{Header: f.theme.Style(look.Quiet), Cell: plain, Selected: f.theme.Style(look.Chosen)}))
	t.SetCursor(slices.Index(of, l.chosen))
	b.add(splitLines(t.View())...)
	b.level(min(len(rows)+1, h))
	for y, i := range of[:len(b.lines)-1] {
		b.touch(0, y+1, w, 1, touching(onRow(i)))
		if i == l.chosen && y > 0 && of[y-1] == i { // the words go on: so does the ground
			b.lines[y+1] = f.theme.Line(0, look.Chosen, ansi.Strip(b.lines[y+1]))
		}
	}
	if l.top > 0 {
		b.lines[0] = look.FitLine(b.lines[0], w-1) + f.theme.In(look.Accent, "↑")
	}
	if end < len(l.rows) {
		b.lines[len(b.lines)-1] = look.FitLine(b.lines[len(b.lines)-1], w-1) + f.theme.In(look.Accent, "↓")
	}
	return b
}

// window chooses the rows that are seen in h lines, the chosen one among them: from
// top on, up to the one that is returned.
func (l *list) window(h int, height func(i int) int) (end int) {
	l.top = max(min(l.top, l.chosen), 0)
	used := 0
	for i := l.chosen; i >= l.top; i-- {
		if used += height(i); used > h && i < l.chosen {
			l.top = i + 1
			break
		}
	}
	used, end = 0, l.top
	for ; end < len(l.rows) && (used+height(end) <= h || end == l.chosen); end++ {
		used += height(end)
	}
	for ; l.top > 0 && end == len(l.rows) && used+height(l.top-1) <= h; l.top-- {
		used += height(l.top - 1)
	}
	return end
}

// text is what a row has in a column, the shorter words where the column is brief.
func (l *list) text(i, column int, brief bool) string {
	if brief && column == l.brief {
		return l.rows[i].brief
	}
	return l.rows[i].cells[column]
}

// height is how many lines a row takes in columns so wide: words that are longer go on
// in the next.
func (l *list) height(i int, kept, widths []int, brief bool) int {
	n := 1
	for k, c := range kept {
		if s := l.text(i, c, brief); look.Width(s) > widths[k] {
			n = max(n, len(look.Wrap(s, widths[k])))
		}
	}
	return n
}

// table gives the columns that have room and the rows to be seen their widths:
// plain cells, for the table cuts without knowing sequences. of is the row that each
// line of the table belongs to.
func (l *list) table(f *frame, w, end int, kept, widths []int, brief bool) (cols []table.Column, rows []table.Row, of []int) {
	room, gap := w-f.edge()-f.margin(), 2
	if sum(widths)+3*(len(kept)-1) <= room {
		gap = 3
	}
	pad := func(c column, s string, width int) string {
		if c.right {
			return look.PadLeft(s, width)
		}
		return look.Pad(s, width)
	}
	cols = []table.Column{{Width: f.edge()}}
	for i, k := range kept {
		cols = append(cols, table.Column{Title: pad(l.columns[k], l.columns[k].title, widths[i]), Width: widths[i] + gap})
	}
	for i := l.top; i < end; i++ {
		r := l.rows[i]
		mark := look.Pad("", f.gutter()) + r.mark
		switch chosen := i == l.chosen; {
		case chosen && r.mark != "" && f.gutter() > 0:
			mark = "›" + r.mark
		case chosen:
			mark += "›"
		}
		at := len(rows)
		for range l.height(i, kept, widths, brief) {
			line := make(table.Row, len(cols))
			line[0], mark = mark, ""
			rows, of = append(rows, line), append(of, i)
		}
		for k, c := range kept {
			words := look.Wrap(l.text(i, c, brief), widths[k])
			for y := at; y < len(rows); y++ {
				text := ""
				if y-at < len(words) {
					text = words[y-at]
				}
				rows[y][k+1] = pad(l.columns[c], text, widths[k]) + strings.Repeat(" ", gap)
			}
		}
	}
	cols[len(cols)-1].Width += max(room-sum(widths)-gap*(len(kept)-1)-gap, 0) + f.margin()
	return cols, rows, of
}

// fit chooses what the room allows: first the shorter words, then one column less
// after the other, last the longest words go on below.
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
func (l *list) shows(f *frame, w, column int, text string) bool {
	kept, widths, _ := l.fit(w - f.edge() - f.margin())
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
func (l *list) touchView(f *frame, w, h int) block {
	if h < cellH-1 || len(l.rows) == 0 {
		return block{}
	}
	cell := func(b *leaf, i int) []line {
		at, role, second := len(b.lines), look.Strong, look.Quiet
		if i == l.chosen {
			role, second = look.Chosen, look.Chosen
		}
		upper, lower := l.words(i)
		b.marked(l.rows[i].mark, role, role, 0, upper)
		b.across(ink{w: -1, text: lower, role: second})
		for k := range b.lines[at:] {
			b.lines[at+k].on, b.lines[at+k].all = onRow(i), i == l.chosen
		}
		return b.lines[at:]
	}
	l.top = max(l.chosen-(h+1)/cellH/2, 0)
	end := l.window(h+1, func(i int) int {
		b := f.leaf(w)
		return len(cell(&b, i)) + 1
	})
	b := f.leaf(w)
	for i := l.top; i < end; i++ {
		if i > l.top {
			b.blank()
		}
		more := ""
		switch {
		case i == l.top && l.top > 0:
			more = "↑"
		case i == end-1 && end < len(l.rows):
			more = "↓"
		}
		if ls := cell(&b, i); more != "" {
			ls[0].inks = append(ls[0].inks, ink{x: w - 1 - f.edge(), w: 1, text: f.theme.In(ls[0].role, more), painted: true})
		}
	}
	return b.view(min(len(b.lines), h))
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
