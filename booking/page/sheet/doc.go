// Package sheet sets setups as the field-book pages that are signed at the end
// of the day: one leaf a setup, two or more where it is long, planned here and
// not left to the printer; a cover for a day or a book; and, on request, an annex
// a setup with what the judgement rests on.
//
// The leaves are made from booking's Reduction and check's Verdict, so that
// paper, screen and files cannot differ. Nothing is computed here but departures
// from a mean, for printing. Package page writes them as HTML and as text.
//
// Every reading of the setup stands on its leaf, struck ones struck through and
// legible, with a numbered note that says why, by whom and when.
package sheet

import (
	"io"
	"iter"
	"slices"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/day"
	"example.org/readback/booking/page"
)

// A Binder is what one sheet file holds: setups of a book, or of the books
// gathered into an office book.
type Binder struct {
	Name    string         // file name of the book
	Program string         // version of the program that prints
	Printed time.Time      // when the sheet was made
	Zone    *time.Location // zone the times are printed in; nil: UTC
	Annex   bool           // every setup is followed by its annex
	Cover   *Cover         // what stands before the setups; nil: nothing
	Sheets  []Sheet

	// Walk walks the setups in place of Sheets, so that no more than a few have to be in
	// memory; HTML walks twice. A cover tells of all of them and takes Sheets.
	Walk iter.Seq2[Sheet, error]
}

// A Sheet is one setup to print.
type Sheet struct {
	Book  day.Book // the book the setup belongs to
	Name  string   // file name of that book
	ID    string   // identity of that book: what its first event follows on, in hexadecimal
	Setup booking.Setup
	Hash  string // hash of the setup's last event, in hexadecimal; matches the sheet to its book
}

// Title names the binder: the title of its first book, else the file's name.
func (b Binder) Title() string {
	for s := range b.each() {
		if s.Book.Job != "" {
			return s.Book.Job
		}
		break
	}
	return b.Name
}

// each walks the setups.
func (b Binder) each() iter.Seq2[Sheet, error] {
	if b.Walk != nil {
		return b.Walk
	}
	return func(yield func(Sheet, error) bool) {
		for _, s := range b.Sheets {
			if !yield(s, nil) {
				return
			}
		}
	}
}

// zone returns the zone times are printed in.
func (b Binder) zone() *time.Location {
	if b.Zone == nil {
		return time.UTC
	}
	return b.Zone
}

// leastWidth is the narrowest text sheet, in columns.
const leastWidth = 60

// document sets every leaf of the binder.
func (b Binder) document() page.Document { return page.Document{Title: b.Title(), Leaves: b.leaves} }

// leaves walks the leaves: the cover, then those of each setup.
func (b Binder) leaves(yield func(page.Leaf, error) bool) {
	put := func(list ...page.Leaf) bool {
		return !slices.ContainsFunc(list, func(l page.Leaf) bool { return !yield(l, nil) })
	}
	if b.Cover != nil && !put(b.cover()...) {
		return
	}
	for s, err := range b.each() {
		if err != nil {
			yield(page.Leaf{}, err)
			return
		}
		w := b.writer(s)
		if !put(w.leaves()...) || b.Annex && !put(w.annex()) {
			return
		}
	}
}

// HTML writes the binder as one HTML file; see page.Document.
func (b Binder) HTML(w io.Writer) error { return b.document().HTML(w) }

// Text writes the binder as plain text of the given width for a terminal or a
// mail. Figures are never broken, so a table with many rounds may be wider.
func (b Binder) Text(w io.Writer, width int) error {
	return b.document().Text(w, max(width, leastWidth))
}
