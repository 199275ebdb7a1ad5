package store

import (
	"example.org/readback/store/journal"
)

// What a book hands out, under the names its users know.
type (
	// A Record is one event of a book as it was written.
	Record = journal.Record
	// A Draft is an event that has not been booked yet.
	Draft = journal.Draft
)
