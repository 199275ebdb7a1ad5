package sheet

import "html/template"

// A page is one setup ready to be drawn, in HTML or in text.
type page struct {
	Number   int
	Station  string
	State    string // "Lift", "Hold", "Lifted", …
	Drill    bool
	Event    string // number of the last event and its hash
	Margin   string // setup, station and book, for the margin
	Sections []section
}

// A section is a titled part of a page.
type section struct {
	Title  string
	Fields []field
	Lead   []string // sentences above the table
	Table  *table
	Notes  []note
	After  []string      // sentences below
	Figure template.HTML // a drawing, HTML only
	Beside []string      // numbered legend beside the drawing, HTML only
	Lines  []string      // lines to sign on
	Whole  bool          // short enough to be kept on one sheet of paper
}

// A field is a labelled value of the head.
type field struct{ Label, Value string }

// Long tells whether the value takes a line of its own.
func (f field) Long() bool { return columns(f.Value) > 27 }

// A table has one head row, repeated on every sheet of paper it runs over.
type table struct {
	Head  []string
	Rows  []row
	Words bool // sentences, not figures
	// Sources: the last column says where something comes from; it stays narrow.
	Sources bool
}

// Class names the look of the table.
func (t table) Class() string {
	switch {
	case t.Sources:
		return "words sources"
	case t.Words:
		return "words"
	}
	return "figures"
}

// A row is one row of a table; a foot row is set apart by a line.
type row struct {
	Cells []cell
	Foot  bool
}

// A cell holds the figures written in one place of the page, the oldest first.
type cell []line

// A line is one figure of a cell.
type line struct {
	Text   string
	Struck bool // struck through
	Mark   int  // number of its note, 0: none
}

// A note explains the figure that carries its number.
type note struct {
	Mark int
	Text string
}

// plain makes a cell of one unmarked line.
func plain(s string) cell { return cell{{Text: s}} }

// cells makes a cell of every string.
func cells(ss ...string) []cell {
	var cs []cell
	for _, s := range ss {
		cs = append(cs, plain(s))
	}
	return cs
}
