// Package sheet prints setups as the field-book pages that are signed at the end
// of the day: as one HTML file that prints on A4 and Letter, and as plain text.
//
// Both are pictures of the same page, a list of sections made of fields, tables,
// sentences and drawings; the page is made from booking's Reduction and Verdict,
// so that paper, screen and files cannot differ. Nothing is computed here but
// departures from a mean, for printing.
//
// Every reading of the setup stands on the page, struck ones struck through and
// legible, with a numbered note that says why, by whom and when. Names, reasons
// and remarks are data: control characters are made visible and everything is
// escaped.
package sheet

import (
	"time"

	"example.org/readback/booking"
)

// A Binder is what one sheet file holds: setups of a book, or of the books
// gathered into an office book.
type Binder struct {
	Name    string         // file name of the book
	Program string         // version of the program that prints
	Printed time.Time      // when the sheet was made
	Zone    *time.Location // zone the times are printed in; nil: UTC
	Sheets  []Sheet
}

// A Sheet is one setup to print.
type Sheet struct {
	Book  booking.Book // the book the setup belongs to
	Name  string       // file name of that book
	Setup booking.Setup
	Hash  string // hash of the setup's last event, in hexadecimal; matches the sheet to its book
}

// Title names the binder: the title of its first book, else the file's name.
func (b Binder) Title() string {
	if len(b.Sheets) > 0 && b.Sheets[0].Book.Title != "" {
		return b.Sheets[0].Book.Title
	}
	return b.Name
}

// zone returns the zone times are printed in.
func (b Binder) zone() *time.Location {
	if b.Zone == nil {
		return time.UTC
	}
	return b.Zone
}
