package page

// A Page is what is printed of one thing: a setup, a figure, an instrument.
type Page struct {
	Blocks []Block
}

// A Block is one part of a page, from top to bottom: Gap, Para or Table.
type Block interface{ block() }

// Add appends blocks.
func (p *Page) Add(bs ...Block) { p.Blocks = append(p.Blocks, bs...) }

// Say appends sentences that stand behind a lead.
func (p *Page) Say(lead string, texts ...string) {
	for _, t := range texts {
		p.Add(Para{Lead: lead, Text: t})
	}
}

// A Gap is an empty line.
type Gap struct{}

// A Para is a sentence or more, broken into lines. The lead stands before the
// first line, the others begin under the text: "  ! ", "[3] ".
type Para struct {
	Lead string
	Text string
	Role Role
	// Whole keeps it on one line, whatever its width.
	Whole bool
}

// A Table has one head and rows of cells, in groups.
type Table struct {
	Indent  int // cells before the first column
	Columns []Column
	Groups  []Group
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
}

// A Group is rows that belong together.
type Group struct {
	Rows []Row
}

// A Row of a table. One without cells for the last columns leaves them empty.
type Row struct {
	Cells []Cell
}

// A Cell holds the figures that were written in one place, the oldest first.
type Cell []Figure

// A Figure is one figure or name of a cell.
type Figure struct {
	Text   string
	Role   Role
	Struck bool // struck through, and legible
	Mark   int  // number of its note, 0: none
}

// A Role is what a text is, for a writer that can show it.
type Role int

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

// Cells makes a cell of every string.
func Cells(ss ...string) []Cell {
	cs := make([]Cell, len(ss))
	for i, s := range ss {
		cs[i] = Cell{{Text: s}}
	}
	return cs
}

// Rows makes one group of rows of strings.
func Rows(rows ...[]string) []Group {
	var g Group
	for _, r := range rows {
		g.Rows = append(g.Rows, Row{Cells: Cells(r...)})
	}
	return []Group{g}
}

func (Gap) block()   {}
func (Para) block()  {}
func (Table) block() {}
