// Package tables writes what books hold as the tables of a database: as one
// stream of SQL that loads itself into PostgreSQL, or as CSV files with a manifest
// that any engine loads.
//
// A row is known by the identity of its book, a random number that the book's first
// event follows on, and by the number of its event or of its setup in the book. Every number here is
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

// A kind is the type of a column.
type kind uint8

// The kinds of columns.
const (
	textKind kind = iota
	wholeKind
	numberKind
	flagKind
	timeKind
)

// A column is one column of a table.
type column struct {
	Name string
	Kind kind
	What string // in words
}

// A table is one table: its columns, the first of which are its key.
type table struct {
	Name    string
	Columns []column
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
	notes
	bookNotes
	numTables
)

var tables = [numTables]table{
	books: {"books", []column{
		{"book", textKind, "identity: what its first event follows on"},
		{"name", textKind, "what its file is called"},
		{"job", textKind, "what it is for, as the book says"}, {"client", textKind, ""}, {"place", textKind, ""},
		{"drill", flagKind, "a drill: nothing in it was observed"},
		{"opened", timeKind, ""},
		{"setups_before", wholeKind, "setups of the books before it in its office book, added to its own numbers in sheets and exports"},
		{"last_event", wholeKind, "number of the last event"},
		{"last_hash", textKind, "and its hash: it proves all events before it"},
		{"last_keyed", timeKind, "when it was keyed"},
		{"program", textKind, "which made these tables"},
	}, 1},
	setups: {"setups", []column{
		{"book", textKind, ""}, {"setup", wholeKind, "number in the book"},
		{"station", textKind, ""}, {"reference", textKind, "the reference object"},
		{"observer", textKind, ""}, {"booker", textKind, ""}, {"instrument", textKind, ""}, {"serial", textKind, ""}, {"weather", textKind, ""},
		{"unit", textKind, "of the circle"}, {"least_count_sec", numberKind, ""}, {"rounds_planned", wholeKind, ""},
		{"observed_from", timeKind, "empty: not known"}, {"observed_to", timeKind, ""},
		{"keyed", timeKind, "when the setup was opened in the book"}, {"keyed_afterwards", flagKind, "from paper"},
		{"lifted", timeKind, "when that was keyed"}, {"state", textKind, "open, hold, lift, lifted, lifted on hold, struck"},
		{"verdict", textKind, "lift, hold"}, {"despite", textKind, "why it was lifted on Hold"}, {"struck", textKind, "why it was struck as a whole"},
		{"readings", wholeKind, "struck ones too"}, {"sd_direction_sec", numberKind, "one direction, both faces, one round"}, {"dof", wholeKind, ""},
		{"collimation_sec", numberKind, ""}, {"tilt_sec", numberKind, ""}, {"index_sec", numberKind, ""},
		{"last_event", wholeKind, ""}, {"last_hash", textKind, ""}, {"program", textKind, ""},
		{"order_observed", textKind, "of the pointings in a round: by halves, target by target, repetition and how often"},
		{"further_references", textKind, "names with semicolons between them: each half closes on them too"},
	}, 2},
	readings: {"readings", []column{
		{"book", textKind, ""}, {"event", wholeKind, "number of the event"}, {"setup", wholeKind, ""},
		{"round", wholeKind, ""}, {"face", textKind, "FL, FR"}, {"target", textKind, ""}, {"closing", flagKind, "the second sight of a reference object in its half"},
		{"quantity", textKind, "horizontal, vertical, slope, target height, instrument height, accumulated"},
		{"reading", textKind, "as keyed"}, {"unit", textKind, "dms, gon, m, ft"},
		{"degrees", numberKind, "a circle reading"}, {"metres", numberKind, "a length"}, {"exact", wholeKind, "micro-arcseconds or nanometres"},
		{"observed", timeKind, "empty: not known"}, {"keyed", timeKind, ""}, {"keyed_by", textKind, ""},
		{"counts", flagKind, "stands, and its round is used"}, {"confirmed", flagKind, "marked, and read again"},
		{"struck", textKind, "why"}, {"struck_at", timeKind, ""}, {"struck_by", textKind, ""}, {"left_out", textKind, "why"},
		{"repeat", wholeKind, "0: the first; 1, 2, …: measured again as a check"}, {"after_lift", flagKind, "read again after the lift"},
	}, 2},
	notes: {"notes", []column{
		{"book", textKind, ""}, {"setup", wholeKind, ""}, {"number", wholeKind, ""},
		{"kind", textKind, "amended, round void, round left out, half again, passed over, remark, weather, file, packed up"},
		{"noted", timeKind, "empty: not kept"}, {"noted_by", textKind, ""}, {"text", textKind, "what, in words"}, {"reason", textKind, ""},
		{"after_lift", flagKind, ""}, {"reading", wholeKind, "number of the reading's event, of a remark beside it"},
	}, 3},
	bookNotes: {"book_notes", []column{
		{"book", textKind, ""}, {"number", wholeKind, ""},
		{"kind", textKind, "instrument checked, note to the next crew, beside its mark, settings of figures, planned, levelled, second journal"},
		{"noted", timeKind, "empty: not kept"}, {"noted_by", textKind, ""}, {"text", textKind, "what, in words"},
	}, 2},
	directions: {"directions", []column{
		{"book", textKind, ""}, {"setup", wholeKind, ""}, {"target", textKind, ""},
		{"direction_deg", numberKind, "from the reference object, clockwise"}, {"sd_sec", numberKind, "of the angle from it"},
		{"spread_sec", numberKind, "over the rounds"}, {"rounds", wholeKind, ""}, {"agrees", flagKind, ""},
	}, 3},
	verticals: {"verticals", []column{
		{"book", textKind, ""}, {"setup", wholeKind, ""}, {"target", textKind, ""},
		{"altitude_deg", numberKind, "mean of both faces"}, {"index_sec", numberKind, "what is taken off every reading"}, {"gradient_percent", numberKind, ""},
	}, 3},
	distances: {"distances", []column{
		{"book", textKind, ""}, {"setup", wholeKind, ""}, {"target", textKind, ""},
		{"slope_m", numberKind, ""}, {"target_height_m", numberKind, ""},
		{"horizontal_m", numberKind, ""}, {"horizontal_sd_m", numberKind, ""}, {"height_difference_m", numberKind, ""}, {"height_difference_sd_m", numberKind, ""},
		{"displayed_m", numberKind, "empty, with all behind it: no correction of distances is agreed"},
		{"air_m", numberKind, "corrections in metres, as they are added"}, {"prism_m", numberKind, ""}, {"to_level_m", numberKind, "slope to level, curvature and refraction in it"},
		{"sea_level_m", numberKind, ""}, {"scale_m", numberKind, ""}, {"scale_factor", numberKind, "of the projection, as agreed for the setup"},
	}, 3},
	checks: {"checks", []column{
		{"book", textKind, ""}, {"setup", wholeKind, ""}, {"number", wholeKind, ""},
		{"name", textKind, ""}, {"met", flagKind, ""}, {"sentence", textKind, ""}, {"again", textKind, "what to observe again"}, {"limit_from", textKind, ""},
	}, 3},
	figures: {"figures", []column{
		{"book", textKind, ""}, {"figure", wholeKind, ""}, {"kind", textKind, ""}, {"stations", textKind, "in walking order"}, {"setups", textKind, ""},
		{"observed_to", timeKind, "the last of its setups; empty: not known"},
		{"met", flagKind, "every misclosure keeps its limit"}, {"angles", wholeKind, ""}, {"misclosure_sec", numberKind, ""}, {"limit_sec", numberKind, ""},
		{"linear_misclosure_m", numberKind, ""}, {"length_m", numberKind, ""}, {"least_ratio", numberKind, "1 in so many is the limit"},
		{"height_misclosure_m", numberKind, ""}, {"height_limit_m", numberKind, ""},
	}, 2},
	points: {"points", []column{
		{"book", textKind, ""}, {"point", textKind, ""}, {"known", flagKind, "given beforehand"}, {"east_m", numberKind, ""}, {"north_m", numberKind, ""}, {"height_m", numberKind, ""},
		{"local", flagKind, "not tied to known coordinates"}, {"semi_major_m", numberKind, "of the standard ellipse"}, {"semi_minor_m", numberKind, ""}, {"ellipse_bearing_deg", numberKind, ""},
		{"source", textKind, ""},
	}, 3},
	instruments: {"instruments", []column{
		{"book", textKind, ""}, {"instrument", textKind, ""}, {"serial", textKind, ""}, {"unit", textKind, ""}, {"least_count_sec", numberKind, ""},
		{"stated_sigma_sec", numberKind, ""}, {"circle", textKind, "zenith, horizon"}, {"setups", wholeKind, ""},
	}, 3},
}

// perSetup are the tables whose rows belong to one setup.
var perSetup = []int{setups, readings, directions, verticals, distances, checks, notes}

// perBook are the tables whose rows belong to the book as a whole.
var perBook = []int{books, figures, points, instruments, bookNotes}

// sqlType is what PostgreSQL and DuckDB both call the type of a column.
func (k kind) sqlType() string {
	return [...]string{"text", "bigint", "double precision", "boolean", "timestamptz"}[k]
}

// create is the statement that makes a table where there is none.
func (t table) create() string {
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

// widen adds what the table of an older program lacks.
func (t table) widen() string {
	var b strings.Builder
	for _, c := range t.Columns[t.Key:] {
		fmt.Fprintf(&b, "alter table %s add column if not exists %s %s;\n", t.Name, c.Name, c.Kind.sqlType())
	}
	return b.String()
}

// typed lists all columns with their types.
func (t table) typed() string {
	var cs []string
	for _, c := range t.Columns {
		cs = append(cs, c.Name+" "+c.Kind.sqlType())
	}
	return strings.Join(cs, ", ")
}

// all lists all columns.
func (t table) all() string { return t.names(len(t.Columns)) }

// names lists the first n columns.
func (t table) names(n int) string {
	var names []string
	for _, c := range t.Columns[:n] {
		names = append(names, c.Name)
	}
	return strings.Join(names, ", ")
}
