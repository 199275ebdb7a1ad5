package page

// A Table has one head and rows of cells, in groups.
type Table struct {
	Caption string // what it shows
	Explain string // said small beside the caption
	Hidden  bool   // the caption is for who cannot see the table, and for plain text
	Class   string // its look on paper
	Notes   string // begins the names of its notes, for links
	Indent  int    // cells before the first column
	Columns []Column
	Groups  []Group
	Under   []Note // below the table
}

// A Column of a table.
type Column struct {
	Head  string
	Right bool // figures, set to the right
	// Cols is its width in cells; 0 is as wide as what stands in it. A name too
	// long for the width is cut, a figure never.
	Cols int
	// Gap is the room before it in cells; 0 is two, for the first column none.
	Gap int
	// Span is how many columns the head covers, this one the last; 0 is one.
	Span int
	// Folds: where the table is too wide, what stands in it is broken over lines.
	Folds bool
	// MM is its width on paper in millimetres; 0 takes what is left.
	MM float64
	// Part is what the column is to its row.
	Part Part
}

// A Part is what a column is to its row; on a small screen the name and the
// result stand above what the result was made of.
type Part int

// Parts.
const (
	Made   Part = iota
	Name        // names the row
	Result      // what the row comes to
	Sign        // a sign before the row
	Drawn       // a drawing on a line of its own
)

// A Group is rows that belong together. Where it has a head, that stands once
// beside all its rows, and so do the notes.
type Group struct {
	Head   Cell
	Words  string // said before the head where it cannot be seen: "Round"
	Rows   []Row
	Beside []Note
}

// A Row of a table. One without cells for the last columns leaves them empty.
type Row struct {
	Cells []Cell
	Texts []string // in place of cells where each holds one plain text, or nothing
	Stop  bool     // a limit is passed
}

// A Cell holds the figures that were written in one place, the oldest first.
type Cell []Figure

// A Figure is one figure or name of a cell.
type Figure struct {
	Text   string
	Small  string // said small behind it: "closing"
	Role   Role
	Struck bool   // struck through, and legible
	Mark   int    // number of its note, 0: none
	Words  string // said in its place where it cannot be seen
	Plot   *Plot
}

// A Note is a sentence beside or under a table; a mark leads to it.
type Note struct {
	Mark int // 0: none leads to it
	Lead string
	Text string
}

// A Role is what a text is, for a writer that can show it.
type Role uint8

// Roles.
const (
	Base    Role = iota
	Strong       // a result, a head of a part
	Title        // the head of a table
	Aside        // said beside the matter
	Struck       // a struck figure
	Mark         // the number of a note
	Warn         // to be looked at
	Stop         // a limit is passed
	Current      // what is called now
)

// Cells makes a cell of every string; an empty string makes an empty cell.
func Cells(ss ...string) []Cell {
	cs := make([]Cell, len(ss))
	for i, s := range ss {
		cs[i] = One(s, Base)
	}
	return cs
}

// One makes a cell of one text in a role; none of an empty one.
func One(s string, role Role) Cell {
	if s == "" {
		return nil
	}
	return Cell{{Text: s, Role: role}}
}

// Rows makes one group of rows of strings, which it keeps.
func Rows(rows ...[]string) []Group {
	g := Group{Rows: make([]Row, len(rows))}
	for i, r := range rows {
		g.Rows[i].Texts = r
	}
	return []Group{g}
}

// At returns the cell of a column; none where the row has no such cell.
func (r Row) At(i int) Cell {
	switch {
	case i < len(r.Texts):
		return One(r.Texts[i], Base)
	case i < len(r.Cells):
		return r.Cells[i]
	}
	return nil
}

// text returns the text of a column of a row of plain texts.
func (r *Row) text(i int) string {
	if i < len(r.Texts) {
		return r.Texts[i]
	}
	return ""
}
