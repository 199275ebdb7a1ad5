package page

import (
	"slices"
	"strconv"
	"strings"
)

const (
	// between is the room between two columns that ask for no other.
	between = 2
	// leastFold is the narrowest a column is folded to.
	leastFold = 8
)

// table sets a table: its caption, the head, then the rows, group by group, each
// with its notes below it. A column in which nothing stands is left out, and so is
// one of drawings.
func (s *galley) table(t Table, width int) {
	s.cols = t.measured(s.cols[:0], width)
	panels := panels(s.cols, width)
	if t.Caption != "" {
		s.end()
		s.para(Para{Text: strings.ToUpper(t.Caption), Role: Strong}, width)
		if t.Explain != "" {
			s.para(Para{Text: t.Explain, Role: Aside}, width)
		}
	}
	for i, cols := range panels {
		if i > 0 {
			s.end()
		}
		s.panel(t, cols, width)
	}
	s.notes(t.Under, width)
}

// panel sets the head and the rows of the given columns.
func (s *galley) panel(t Table, cols []measured, width int) {
	if s.head(cols) && t.Caption != "" {
		s.add(Line{{Base, strings.Repeat("-", max(width, 8))}})
	}
	for i, g := range t.Groups {
		if g.Head != nil {
			if i > 0 {
				s.end()
			}
			s.add(Line{{Strong, strings.TrimSpace(g.Words + " " + g.Head[0].Text)}})
		}
		for y := range g.Rows {
			switch r := &g.Rows[y]; {
			case !oneLine(cols, r):
				s.tallRow(cols, r)
			case r.Texts != nil:
				s.texts(cols, r)
			default:
				s.row(cols, r)
			}
		}
		s.notes(g.Beside, width)
	}
}

// panels splits the columns of a table that has no room: each part begins with
// the name of the row. A table whose rows have no name is not split.
func panels(cols []measured, width int) [][]measured {
	name, whole := -1, 0
	for i, m := range cols {
		if m.Part == Name && name < 0 {
			name = i
		}
		if m.width > 0 {
			whole += m.before + m.width
		}
	}
	if name < 0 || width <= 0 || whole <= width {
		return [][]measured{cols}
	}
	parts := [][]measured{slices.Clone(cols)}
	total := 0
	for i, m := range cols {
		if m.width > 0 {
			total += m.before + m.width
		}
		if total <= width || i <= name+1 {
			continue
		}
		next := slices.Clone(cols)
		last := parts[len(parts)-1]
		for k := range cols {
			if k >= i {
				last[k].width = 0
			} else if k != name {
				next[k].width = 0
			}
		}
		parts = append(parts, next)
		total = cols[name].before + cols[name].width + m.before + m.width
	}
	return parts
}

// notes sets notes below what they belong to.
func (s *galley) notes(ns []Note, width int) {
	for _, n := range ns {
		lead := "  "
		if n.Mark > 0 {
			lead = "  [" + strconv.Itoa(n.Mark) + "] "
		}
		text := n.Text
		if n.Lead != "" {
			text = n.Lead + " " + text
		}
		s.para(Para{Lead: lead, Text: text, Role: Aside}, width)
	}
}

// A measured column has its width and the room before it; a width of 0 leaves it
// out.
type measured struct {
	Column
	width, before int
	narrow        bool // what stands in it may be wider
}

// measured appends the columns of the table to cols, which is empty.
func (t Table) measured(cols []measured, width int) []measured {
	headed, first := t.headed(), true
	for i, c := range t.Columns {
		m := measured{Column: c, width: c.Cols, before: c.Gap, narrow: c.Cols > 0}
		if m.before == 0 && !first {
			m.before = between
		}
		if first {
			m.before = t.Indent
		}
		if c.Cols == 0 {
			m.width = t.widest(i)
		}
		if headed && (i == 0 || c.Head == t.NotesHead()) || c.Part == Drawn {
			m.width = 0
		}
		first = first && m.width == 0
		cols = append(cols, m)
	}
	fold(cols, width)
	return cols
}

// fold narrows the columns that may be, until the table has room or they are as
// narrow as they can be.
func fold(cols []measured, width int) {
	total := 0
	for _, m := range cols {
		if m.width > 0 {
			total += m.before + m.width
		}
	}
	for width > 0 && total > width {
		widest := -1
		for i, m := range cols {
			if m.Folds && m.width > leastFold && (widest < 0 || m.width > cols[widest].width) {
				widest = i
			}
		}
		if widest < 0 {
			return
		}
		cols[widest].width--
		cols[widest].narrow = true
		total--
	}
}

// widest is the width of what stands in a column.
func (t Table) widest(i int) int {
	n := 0
	if t.Columns[i].Span < 2 {
		n = Width(t.Columns[i].Head)
	}
	some := false
	for _, g := range t.Groups {
		for y := range g.Rows {
			r := &g.Rows[y]
			if r.Texts != nil {
				text, cells := seen(r.text(i))
				n, some = max(n, cells), some || text != ""
				continue
			}
			cell := r.At(i)
			for k := range cell {
				some = true
				n = max(n, cell[k].width())
			}
		}
	}
	if t.Columns[i].Part == Sign && !some {
		return 0
	}
	return n
}

// head sets the heads of the columns; said is false where there is none.
func (s *galley) head(cols []measured) (said bool) {
	for i := 0; i < len(cols); i++ {
		m := &cols[i]
		for j := i + 1; j < len(cols); j++ { // a later column's head may begin here
			if n := cols[j].Span; n > 1 && j-n+1 == i {
				wide := *m
				for _, c := range cols[i+1 : j+1] {
					wide.width += c.before + c.width
				}
				wide.Column, i = cols[j].Column, j
				m = &wide
			}
		}
		said = said || m.Head != "" && m.width > 0
		s.put(m, Run{Title, m.Head}, Width(m.Head))
	}
	if !said {
		s.room = s.room[:s.begun]
		return false
	}
	s.end()
	return true
}

// oneLine tells whether a row needs one line: no cell holds more than one figure,
// and none is folded.
func oneLine(cols []measured, r *Row) bool {
	for i := range cols {
		m := &cols[i]
		breaks := m.narrow && m.breaks()
		if r.Texts != nil {
			if breaks && Width(Visible(r.text(i))) > m.width {
				return false
			}
			continue
		}
		cell := r.At(i)
		if len(cell) > 1 || len(cell) == 1 && breaks && cell[0].width() > m.width {
			return false
		}
	}
	return true
}

// texts sets a row of plain texts on one line.
func (s *galley) texts(cols []measured, r *Row) {
	for i := range cols {
		text, n := seen(r.text(i))
		s.put(&cols[i], Run{Text: text}, n)
	}
	s.end()
}

// row sets a row of one line.
func (s *galley) row(cols []measured, r *Row) {
	for i := range cols {
		m := &cols[i]
		switch cell := r.At(i); {
		case len(cell) == 0:
			s.set(m, nil)
		case cell[0].plain():
			text, n := seen(cell[0].Text)
			s.put(m, Run{cell[0].Role, text}, n)
		default:
			s.set(m, cell[0].runs())
		}
	}
	s.end()
}

// tallRow sets one row on as many lines as its tallest cell needs.
func (s *galley) tallRow(cols []measured, r *Row) {
	height := 1
	cells := make([][]Line, len(cols))
	for i := range cols {
		m := &cols[i]
		for k := range r.At(i) {
			if runs := r.At(i)[k].runs(); m.breaks() {
				cells[i] = append(cells[i], m.folded(runs)...)
			} else {
				cells[i] = append(cells[i], runs)
			}
		}
		if m.width > 0 {
			height = max(height, len(cells[i]))
		}
	}
	for y := range height {
		for i := range cols {
			var runs Line
			if from := height - len(cells[i]); y >= from { // what stands is in the last line
				runs = cells[i][y-from]
			}
			s.set(&cols[i], runs)
		}
		s.end()
	}
}

// breaks tells whether words too long for the column go on in the next line: a figure,
// which stands flush right, is never broken.
func (m *measured) breaks() bool { return m.Folds || !m.Right }

// folded breaks words that are too long for a column that breaks them.
func (m *measured) folded(runs Line) []Line {
	if runs.width() <= m.width || len(runs) == 0 {
		return []Line{runs}
	}
	var out []Line
	for _, s := range Wrap(runs.String(), m.width) {
		out = append(out, Line{{runs[0].Role, s}})
	}
	return out
}

// set sets runs in the room of a column.
func (s *galley) set(m *measured, runs Line) {
	if len(runs) == 1 {
		s.put(m, runs[0], Width(runs[0].Text))
		return
	}
	if m.width == 0 {
		return
	}
	before, after := m.around(runs.width())
	s.blanks(before)
	s.room = append(s.room, runs...)
	s.blanks(after)
}

// put sets one run of n cells in the room of a column.
func (s *galley) put(m *measured, r Run, n int) {
	if m.width == 0 {
		return
	}
	if n > m.width && !m.Right {
		r.Text = cut(r.Text, m.width)
		n = Width(r.Text)
	}
	before, after := m.around(n)
	s.blanks(before)
	if r.Text != "" {
		s.run(r)
	}
	s.blanks(after)
}

// around returns the blanks before and after what takes n cells of the column.
func (m *measured) around(n int) (before, after int) {
	before, after = m.before, max(m.width-n, 0)
	if m.Right {
		return before + after, 0
	}
	return before, after
}

// plain tells whether a figure is written in one run.
func (f *Figure) plain() bool { return f.Small == "" && !f.Struck && f.Mark == 0 && f.Text != "" }

// width is the width of what runs writes.
func (f *Figure) width() int {
	if f.plain() {
		_, n := seen(f.Text)
		return n
	}
	return f.runs().width()
}

// runs writes a figure: a struck one between signs that strike it out where no
// line can, then the number of its note.
func (f *Figure) runs() Line {
	if f.Text == "" {
		return nil
	}
	text := Visible(f.Text)
	if f.Small != "" {
		text += " (" + Visible(f.Small) + ")"
	}
	l := Line{{f.Role, text}}
	if f.Struck {
		l = Line{{Base, "~"}, {Struck, text}, {Base, "~"}}
	}
	if f.Mark > 0 {
		l = append(l, Run{Mark, "[" + strconv.Itoa(f.Mark) + "]"})
	}
	return l
}
