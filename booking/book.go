package booking

import (
	"fmt"
	"time"
)

// A Book is what belongs to the whole book: the fold of the events of setup 0.
type Book struct {
	Opened   time.Time
	Program  string
	Drill    bool
	Title    string
	Known    []KnownStation
	Bearings []KnownBearing
	Plan     []PlannedStation
	Copy     string // directory of the second journal, empty: none
	LastSeq  uint64
}

// FoldBook applies the events of the book itself in order.
func FoldBook(entries []Entry) (Book, error) {
	var b Book
	for _, e := range entries {
		var err error
		if b, err = b.Apply(e); err != nil {
			return b, err
		}
	}
	return b, nil
}

// Apply returns the book after the event.
func (b Book) Apply(e Entry) (Book, error) {
	switch v := e.Event.(type) {
	case BookOpened:
		b.Opened, b.Program, b.Drill, b.Title = e.At, v.Program, v.Drill, v.Title
	case KnownLoaded:
		if v.Stations != nil {
			b.Known = v.Stations
		}
		if v.Bearings != nil {
			b.Bearings = v.Bearings
		}
	case PlanLoaded:
		b.Plan = v.Stations
	case CopySet:
		b.Copy = v.Dir
	case RemarkMade:
	default:
		return b, fmt.Errorf("event %d (kind %d): %w: it does not belong to the book", e.Seq, e.Event.Kind(), ErrImpossible)
	}
	b.LastSeq = e.Seq
	return b, nil
}
