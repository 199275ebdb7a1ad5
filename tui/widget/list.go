package widget

import "example.org/readback/tui/look"

// A Row of a list: the mark at its head, its words in columns, and how it is to
// be seen.
type Row struct {
	Mark  string   // one or two cells: "▸" for what is next, "✓", "!"
	Cells []string // one for each column
	Roles []look.Role
	Role  look.Role // for cells that Roles does not name
}

// A Column of a list or a table.
type Column struct {
	Title string
	Width int // cells; 0 shares what is left
	Align Align
}

// A List shows rows one under the other with one of them chosen: the pointings
// of a half, the setups of a book. It scrolls so that the chosen row is seen.
type List struct {
	Columns []Column
	Rows    []Row
	Chosen  int  // index of the chosen row
	Head    bool // with the titles of the columns
	top     int  // first row shown
}

// Move moves the choice by n rows and stops at the ends.
func (l *List) Move(n int) {
	l.Chosen = min(max(l.Chosen+n, 0), max(len(l.Rows)-1, 0))
}

// first returns the first row to show in h rows.
func (l *List) first(h int) int {
	top := l.top
	if l.Chosen >= top+h {
		top = l.Chosen - h + 1
	}
	if l.Chosen < top {
		top = l.Chosen
	}
	return max(min(top, len(l.Rows)-h), 0)
}

// Draw draws the list; rows that do not fit are announced by an arrow in the
// last column.
func (l *List) Draw(a Area) {
	body := a
	if l.Head {
		var head Area
		head, body = a.Top(1)
		drawCells(head, l.Columns, titles(l.Columns), nil, look.Title, 2)
	}
	l.top = l.first(body.H)
	for y := 0; y < body.H && l.top+y < len(l.Rows); y++ {
		i := l.top + y
		r := l.Rows[i]
		role, mark := r.Role, r.Mark
		line := body.Sub(0, y, body.W, 1)
		if i == l.Chosen {
			role = look.Chosen
			line.Fill(role, ' ')
			if mark == "" {
				mark = "›"
			}
		}
		line.Text(0, 0, role, mark)
		roles := r.Roles
		if i == l.Chosen {
			roles = nil
		}
		drawCells(line, l.Columns, r.Cells, roles, role, 2)
	}
	l.arrows(body)
}

// arrows says that there are rows above or below.
func (l *List) arrows(a Area) {
	if a.H < 2 {
		return
	}
	if l.top > 0 {
		a.Rune(a.W-1, 0, look.Mark, '↑')
	}
	if l.top+a.H < len(l.Rows) {
		a.Rune(a.W-1, a.H-1, look.Mark, '↓')
	}
}

// At returns the row at row y of a list drawn h rows high, for touches.
func (l *List) At(h, y int) (int, bool) {
	if l.Head {
		y, h = y-1, h-1
	}
	i := l.first(h) + y
	return i, y >= 0 && y < h && i < len(l.Rows)
}

func titles(cols []Column) []string {
	out := make([]string, len(cols))
	for i, c := range cols {
		out[i] = c.Title
	}
	return out
}

// drawCells writes the words of one row into its columns, from column x on, one
// blank between columns.
func drawCells(a Area, cols []Column, cells []string, roles []look.Role, rest look.Role, x int) {
	fixed, open := x, 0
	for _, c := range cols {
		fixed += c.Width + 1
		if c.Width == 0 {
			open++
		}
	}
	for i, c := range cols {
		w := c.Width
		if w == 0 {
			w = max((a.W-fixed+1)/open, 0)
		}
		if i < len(cells) && cells[i] != "" {
			r := rest
			if i < len(roles) {
				r = roles[i]
			}
			a.Fit(x, 0, w, r, cells[i], c.Align)
		}
		x += w + 1
	}
}
