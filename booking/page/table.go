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

// lines sets the table: its caption, the head, then the rows, group by group,
// each with its notes below it. A column in which nothing stands is left out, and
// so is one of drawings.
func (t Table) lines(width int) []Line {
	panels := panels(t.measured(width), width)
	var out []Line
	if t.Caption != "" {
		out = append(out, nil)
		out = append(out, Para{Text: strings.ToUpper(t.Caption), Role: Strong}.lines(width)...)
		if t.Explain != "" {
			out = append(out, Para{Text: t.Explain, Role: Aside}.lines(width)...)
		}
	}
	for i, cols := range panels {
		if i > 0 {
			out = append(out, nil)
		}
		out = append(out, t.panel(cols, width)...)
	}
	return append(out, notes(t.Under, width)...)
}

// panel sets the head and the rows of the given columns.
func (t Table) panel(cols []measured, width int) []Line {
	var out []Line
	if head := t.head(cols); head != nil {
		out = append(out, head)
		if t.Caption != "" {
			out = append(out, Line{{Base, strings.Repeat("-", max(width, 8))}})
		}
	}
	for i, g := range t.Groups {
		if g.Head != nil {
			if i > 0 {
				out = append(out, nil)
			}
			out = append(out, Line{{Strong, strings.TrimSpace(g.Words + " " + g.Head[0].Text)}})
		}
		room := make(Line, 0, len(g.Rows)*2*len(cols))
		for _, r := range g.Rows {
			if from := len(room); oneLine(cols, r) {
				room = rowOn(room, cols, r)
				out = append(out, room[from:len(room):len(room)])
			} else {
				out = append(out, tallRow(cols, r)...)
			}
		}
		out = append(out, notes(g.Beside, width)...)
	}
	return out
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
func notes(ns []Note, width int) []Line {
	var out []Line
	for _, n := range ns {
		lead := "  "
		if n.Mark > 0 {
			lead = "  [" + strconv.Itoa(n.Mark) + "] "
		}
		text := n.Text
		if n.Lead != "" {
			text = n.Lead + " " + text
		}
		out = append(out, Para{Lead: lead, Text: text, Role: Aside}.lines(width)...)
	}
	return out
}

// A measured column has its width and the room before it; a width of 0 leaves it
// out.
type measured struct {
	Column
	width, before int
}

func (t Table) measured(width int) []measured {
	cols := make([]measured, len(t.Columns))
	headed, first := t.headed(), true
	for i, c := range t.Columns {
		m := measured{Column: c, width: c.Cols, before: c.Gap}
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
		cols[i] = m
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
		for _, r := range g.Rows {
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

// head sets the heads of the columns; nil where there is none.
func (t Table) head(cols []measured) Line {
	var out Line
	said := false
	for i := 0; i < len(cols); i++ {
		m := cols[i]
		for j := i + 1; j < len(cols); j++ { // a later column's head may begin here
			if s := cols[j].Span; s > 1 && j-s+1 == i {
				for _, c := range cols[i+1 : j+1] {
					m.width += c.before + c.width
				}
				m.Column, i = cols[j].Column, j
			}
		}
		said = said || m.Head != "" && m.width > 0
		out = m.set(out, Line{{Title, m.Head}})
	}
	if !said {
		return nil
	}
	return out
}

// oneLine tells whether a row needs one line: no cell holds more than one figure,
// and none is folded.
func oneLine(cols []measured, r Row) bool {
	for i := range cols {
		cell := r.At(i)
		if len(cell) > 1 || len(cell) == 1 && cols[i].breaks() && cell[0].width() > cols[i].width {
			return false
		}
	}
	return true
}

// rowOn appends a row of one line.
func rowOn(out Line, cols []measured, r Row) Line {
	for i := range cols {
		m := &cols[i]
		cell := r.At(i)
		switch {
		case len(cell) == 0:
			out = m.set(out, nil)
		case cell[0].plain():
			text, n := seen(cell[0].Text)
			out = m.put(out, Run{cell[0].Role, text}, n)
		default:
			out = m.set(out, cell[0].runs())
		}
	}
	return out
}

// tallRow sets one row on as many lines as its tallest cell needs.
func tallRow(cols []measured, r Row) []Line {
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
	out := make([]Line, height)
	for y := range out {
		out[y] = make(Line, 0, 2*len(cols))
		for i := range cols {
			var runs Line
			if from := height - len(cells[i]); y >= from { // what stands is in the last line
				runs = cells[i][y-from]
			}
			out[y] = cols[i].set(out[y], runs)
		}
	}
	return out
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

// set appends runs to a line, in the room of the column.
func (m *measured) set(out, runs Line) Line {
	if len(runs) == 1 {
		return m.put(out, runs[0], Width(runs[0].Text))
	}
	if m.width == 0 {
		return out
	}
	before, after := m.around(runs.width())
	return after.on(append(before.on(out), runs...))
}

// put appends one run of n cells to a line, in the room of the column.
func (m *measured) put(out Line, r Run, n int) Line {
	if m.width == 0 {
		return out
	}
	if n > m.width && !m.Right {
		r.Text = Cut(r.Text, m.width)
		n = Width(r.Text)
	}
	before, after := m.around(n)
	return after.on(append(before.on(out), r))
}

// around returns the blanks before and after what takes n cells of the column.
func (m *measured) around(n int) (before, after blanks) {
	before, after = blanks(m.before), blanks(max(m.width-n, 0))
	if m.Right {
		return before + after, 0
	}
	return before, after
}

// blanks are so many of them.
type blanks int

func (n blanks) on(out Line) Line {
	if n > 0 {
		return append(out, Run{Text: fill(int(n))})
	}
	return out
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
