package page

import "strconv"

// between is the room between two columns that ask for no other.
const between = 2

// lines sets the table: the head, then the rows. A column in which nothing stands
// is left out.
func (t Table) lines() []Line {
	cols := t.measured()
	var out []Line
	if head := t.head(cols); head != nil {
		out = append(out, head)
	}
	for _, g := range t.Groups {
		for _, r := range g.Rows {
			out = append(out, t.row(cols, r)...)
		}
	}
	return out
}

// A measured column has its width and the room before it; a width of 0 leaves it
// out.
type measured struct {
	Column
	width, before int
}

func (t Table) measured() []measured {
	cols := make([]measured, len(t.Columns))
	for i, c := range t.Columns {
		m := measured{Column: c, width: c.Cols, before: c.Gap}
		if m.before == 0 && i > 0 {
			m.before = between
		}
		if i == 0 {
			m.before = t.Indent
		}
		if c.Cols == 0 {
			m.width = t.widest(i)
		}
		cols[i] = m
	}
	return cols
}

// widest is the width of what stands in a column.
func (t Table) widest(i int) int {
	n := 0
	if t.Columns[i].Span < 2 {
		n = Width(t.Columns[i].Head)
	}
	for _, g := range t.Groups {
		for _, r := range g.Rows {
			if i < len(r.Cells) {
				for _, f := range r.Cells[i] {
					n = max(n, f.runs().Width())
				}
			}
		}
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
		said = said || m.Head != ""
		out = append(out, m.set(Line{{Title, m.Head}})...)
	}
	if !said {
		return nil
	}
	return out
}

// row sets one row, on as many lines as its tallest cell has figures.
func (t Table) row(cols []measured, r Row) []Line {
	height := 1
	for _, c := range r.Cells {
		height = max(height, len(c))
	}
	out := make([]Line, height)
	for y := range out {
		for i, m := range cols {
			var runs Line
			if i < len(r.Cells) && y < len(r.Cells[i]) {
				runs = r.Cells[i][y].runs()
			}
			out[y] = append(out[y], m.set(runs)...)
		}
	}
	return out
}

// set puts runs into the column.
func (m measured) set(runs Line) Line {
	if m.width == 0 {
		return nil
	}
	n := runs.Width()
	if n > m.width && !m.Right && len(runs) == 1 {
		runs = Line{{runs[0].Role, Cut(runs[0].Text, m.width)}}
		n = runs.Width()
	}
	before, after := m.before, max(m.width-n, 0)
	if m.Right {
		before, after = before+after, 0
	}
	var out Line
	if before > 0 {
		out = append(out, Run{Text: fill(before)})
	}
	out = append(out, runs...)
	if after > 0 {
		out = append(out, Run{Text: fill(after)})
	}
	return out
}

// runs writes a figure: a struck one between signs that strike it out where no
// line can, then the number of its note.
func (f Figure) runs() Line {
	if f.Text == "" {
		return nil
	}
	l := Line{{f.Role, Visible(f.Text)}}
	if f.Struck {
		l = Line{{Base, "~"}, {Struck, Visible(f.Text)}, {Base, "~"}}
	}
	if f.Mark > 0 {
		l = append(l, Run{Mark, "[" + strconv.Itoa(f.Mark) + "]"})
	}
	return l
}
