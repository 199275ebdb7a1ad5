package widget

import "example.org/readback/tui/look"

// A Figure is what stands in one place of a page: a reading, a mean, a word.
// Struck figures keep their place: they are painted with a stroke and stand
// between ~ ~, so that the stroke is seen where the terminal draws none.
type Figure struct {
	Text   string
	Role   look.Role
	Struck bool
}

// A TableLine is one line of a table. A heading runs over all columns.
type TableLine struct {
	Heading string
	Figures []Figure
	Rule    bool // a line across instead of figures
}

// A Table is a page of figures in columns, set like the page of a field book. It
// scrolls by rows.
type Table struct {
	Columns []Column
	Lines   []TableLine
	Top     int // first line shown
}

// Width returns how many cells the columns take.
func (t *Table) Width() int {
	w := 0
	for _, c := range t.Columns {
		w += c.Width + 1
	}
	return max(w-1, 0)
}

// Scroll moves the page by n lines in an area of h rows and stops at the ends.
func (t *Table) Scroll(n, h int) {
	t.Top = max(min(t.Top+n, len(t.Lines)-max(h-1, 0)), 0)
}

// Show scrolls as little as needed for line i to be seen in an area of h rows.
func (t *Table) Show(i, h int) {
	h = max(h-1, 1)
	switch {
	case i < t.Top:
		t.Top = i
	case i >= t.Top+h:
		t.Top = i - h + 1
	}
	t.Top = max(min(t.Top, len(t.Lines)-h), 0)
}

// Draw draws the titles and the lines from Top.
func (t *Table) Draw(a Area) {
	t.Top = max(t.Top, 0)
	head, body := a.Top(1)
	drawCells(head, t.Columns, titles(t.Columns), nil, look.Title, 0)
	for y := 0; y < body.H && t.Top+y < len(t.Lines); y++ {
		t.Lines[t.Top+y].draw(body.Sub(0, y, body.W, 1), t.Columns)
	}
	if t.Top > 0 && body.H > 0 {
		head.Rune(head.W-1, 0, look.Mark, '↑')
	}
	if t.Top+body.H < len(t.Lines) && body.H > 0 {
		body.Rune(body.W-1, body.H-1, look.Mark, '↓')
	}
}

func (l TableLine) draw(a Area, cols []Column) {
	switch {
	case l.Rule:
		a.HRule(0, look.Rule)
		return
	case l.Heading != "":
		a.Text(0, 0, look.Strong, Cut(a.f.theme.Rewrite(l.Heading), a.W))
		return
	}
	x := 0
	for i, c := range cols {
		if i < len(l.Figures) {
			l.Figures[i].draw(a, x, c)
		}
		x += c.Width + 1
	}
}

// draw writes the figure into its column. The marks of a struck one stand outside
// it, in the gap between columns if need be, so that figures stay under each
// other.
func (f Figure) draw(a Area, x int, c Column) {
	if f.Text == "" {
		return
	}
	if !f.Struck {
		a.Fit(x, 0, c.Width, f.Role, f.Text, c.Align)
		return
	}
	s := Cut(a.f.theme.Rewrite(f.Text), c.Width)
	x = max(x+c.Align.before(c.Width-Width(s)), 1)
	a.Text(x-1, 0, look.Base, "~")
	x = a.Text(x, 0, look.Struck, s)
	a.Text(x, 0, look.Base, "~")
}
