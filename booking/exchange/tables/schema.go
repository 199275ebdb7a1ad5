// Package tables writes what books hold as the tables of a database: as one
// stream of SQL that loads itself into PostgreSQL, or as CSV files with a manifest
// that any engine loads.
//
// A row is known by the identity of its book, the hash of the book's first event,
// and by the number of its event or of its setup in the book. Every number here is
// that of the events: nothing depends on what a file is called or in which order
// books are loaded. A setup is loaded as a whole: one that a database holds up to
// the same event, with the same hash, made by the same program, is left as it is;
// any other is put in anew.
//
// An empty cell is a value that does not exist. Angles are decimal degrees, small
// angles seconds, lengths metres, times UTC. Two times are kept apart: when a
// reading was observed, and when it was keyed.
package tables

import (
	"fmt"
	"strings"
)

// A Kind is the type of a column.
type Kind uint8

// The kinds of columns.
const (
	Text Kind = iota
	Whole
	Number
	Flag
	Time
)

// A Column is one column of a table.
type Column struct {
	Name string
	Kind Kind
	What string // in words
}

// A Table is one table: its columns, the first of which are its key.
type Table struct {
	Name    string
	Columns []Column
	Key     int // how many columns make the key
}

// The tables by number, in the order they are written.
const (
	books = iota
	setups
	readings
	directions
	verticals
	distances
	checks
	figures
	points
	instruments
	numTables
)

var tables = [numTables]Table{
	books: {"books", []Column{
		{"book", Text, "identity: the hash of the first event"},
		{"name", Text, "what its file is called"},
		{"job", Text, "what it is for, as the book says"}, {"client", Text, ""}, {"place", Text, ""},
		{"drill", Flag, "a drill: nothing in it was observed"},
		{"opened", Time, ""},
		{"last_event", Whole, "number of the last event"},
		{"last_hash", Text, "and its hash: all before it hangs on it"},
		{"last_keyed", Time, "when it was keyed"},
		{"program", Text, "which made these tables"},
	}, 1},
	setups: {"setups", []Column{
		{"book", Text, ""}, {"setup", Whole, "number in the book"},
		{"station", Text, ""}, {"reference", Text, "the reference object"},
		{"observer", Text, ""}, {"booker", Text, ""}, {"instrument", Text, ""}, {"serial", Text, ""}, {"weather", Text, ""},
		{"unit", Text, "of the circle"}, {"least_count_sec", Number, ""}, {"rounds_planned", Whole, ""},
		{"observed_from", Time, "empty: not known"}, {"observed_to", Time, ""},
		{"keyed", Time, "when the setup was opened in the book"}, {"keyed_afterwards", Flag, "from paper"},
		{"lifted", Time, "when that was keyed"}, {"state", Text, "open, hold, lift, lifted, lifted on hold, struck"},
		{"verdict", Text, "lift, hold"}, {"despite", Text, "why it was lifted on Hold"}, {"struck", Text, "why it was struck as a whole"},
		{"readings", Whole, "struck ones too"}, {"sd_direction_sec", Number, "one direction, both faces, one round"}, {"dof", Whole, ""},
		{"collimation_sec", Number, ""}, {"tilt_sec", Number, ""}, {"index_sec", Number, ""},
		{"last_event", Whole, ""}, {"last_hash", Text, ""}, {"program", Text, ""},
	}, 2},
	readings: {"readings", []Column{
		{"book", Text, ""}, {"event", Whole, "number of the event"}, {"setup", Whole, ""},
		{"round", Whole, ""}, {"face", Text, "FL, FR"}, {"target", Text, ""}, {"closing", Flag, "the second sight of the reference object in its half"},
		{"quantity", Text, "horizontal, vertical, slope, target height, instrument height"},
		{"reading", Text, "as keyed"}, {"unit", Text, "dms, gon, m, ft"},
		{"degrees", Number, "a circle reading"}, {"metres", Number, "a length"}, {"exact", Whole, "micro-arcseconds or nanometres"},
		{"observed", Time, "empty: not known"}, {"keyed", Time, ""}, {"keyed_by", Text, ""},
		{"counts", Flag, "stands, and its round is used"}, {"confirmed", Flag, "marked, and read again"},
		{"struck", Text, "why"}, {"struck_at", Time, ""}, {"struck_by", Text, ""}, {"left_out", Text, "why"},
	}, 2},
	directions: {"directions", []Column{
		{"book", Text, ""}, {"setup", Whole, ""}, {"target", Text, ""},
		{"direction_deg", Number, "from the reference object, clockwise"}, {"sd_sec", Number, "of the angle from it"},
		{"spread_sec", Number, "over the rounds"}, {"rounds", Whole, ""}, {"agrees", Flag, ""},
	}, 3},
	verticals: {"verticals", []Column{
		{"book", Text, ""}, {"setup", Whole, ""}, {"target", Text, ""},
		{"altitude_deg", Number, "mean of both faces"}, {"index_sec", Number, "every reading is so much too large"}, {"gradient_percent", Number, ""},
	}, 3},
	distances: {"distances", []Column{
		{"book", Text, ""}, {"setup", Whole, ""}, {"target", Text, ""},
		{"slope_m", Number, ""}, {"target_height_m", Number, ""},
		{"horizontal_m", Number, ""}, {"horizontal_sd_m", Number, ""}, {"height_difference_m", Number, ""}, {"height_difference_sd_m", Number, ""},
	}, 3},
	checks: {"checks", []Column{
		{"book", Text, ""}, {"setup", Whole, ""}, {"number", Whole, ""},
		{"name", Text, ""}, {"met", Flag, ""}, {"sentence", Text, ""}, {"again", Text, "what to observe again"}, {"limit_from", Text, ""},
	}, 3},
	figures: {"figures", []Column{
		{"book", Text, ""}, {"figure", Whole, ""}, {"kind", Text, ""}, {"stations", Text, "in walking order"}, {"setups", Text, ""},
		{"observed_to", Time, "the last of its setups; empty: not known"},
		{"met", Flag, "every misclosure keeps its limit"}, {"angles", Whole, ""}, {"misclosure_sec", Number, ""}, {"limit_sec", Number, ""},
		{"linear_misclosure_m", Number, ""}, {"length_m", Number, ""}, {"least_ratio", Number, "1 in so many is the limit"},
		{"height_misclosure_m", Number, ""}, {"height_limit_m", Number, ""},
	}, 2},
	points: {"points", []Column{
		{"book", Text, ""}, {"point", Text, ""}, {"known", Flag, "given beforehand"}, {"east_m", Number, ""}, {"north_m", Number, ""}, {"height_m", Number, ""},
		{"local", Flag, "not tied to known coordinates"}, {"semi_major_m", Number, "of the standard ellipse"}, {"semi_minor_m", Number, ""}, {"ellipse_bearing_deg", Number, ""},
		{"source", Text, ""},
	}, 3},
	instruments: {"instruments", []Column{
		{"book", Text, ""}, {"instrument", Text, ""}, {"serial", Text, ""}, {"unit", Text, ""}, {"least_count_sec", Number, ""},
		{"stated_sigma_sec", Number, ""}, {"circle", Text, "zenith, horizon"}, {"setups", Whole, ""},
	}, 3},
}

// perSetup are the tables whose rows belong to one setup.
var perSetup = []int{setups, readings, directions, verticals, distances, checks}

// perBook are the tables whose rows belong to the book as a whole.
var perBook = []int{books, figures, points, instruments}

// sqlType is what PostgreSQL and DuckDB both call the type of a column.
func (k Kind) sqlType() string {
	return [...]string{"text", "bigint", "double precision", "boolean", "timestamptz"}[k]
}

// create is the statement that makes a table where there is none.
func (t Table) create() string {
	var b strings.Builder
	fmt.Fprintf(&b, "create table if not exists %s (\n", t.Name)
	for i, c := range t.Columns {
		null := ""
		if i < t.Key {
			null = " not null"
		}
		fmt.Fprintf(&b, "    %-23s %s%s,", c.Name, c.Kind.sqlType(), null)
		if c.What != "" {
			fmt.Fprintf(&b, " -- %s", c.What)
		}
		b.WriteString("\n")
	}
	fmt.Fprintf(&b, "    primary key (%s)\n);\n", t.names(t.Key))
	return b.String()
}

// names lists the first n columns.
func (t Table) names(n int) string {
	var names []string
	for _, c := range t.Columns[:n] {
		names = append(names, c.Name)
	}
	return strings.Join(names, ", ")
}
