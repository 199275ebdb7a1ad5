package book

import (
	"fmt"

	"example.org/readback/booking"
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
	"example.org/readback/store"
)

// heldSetups is how many setups an audit holds folded at once: a booker works at
// one, and comes back to few.
const heldSetups = 32

// A folder folds the events of a chain one by one, as they were booked, and says
// which of them cannot have happened.
type folder struct {
	group  func(n uint32) ([]store.Record, error)
	book   day.Book
	setups map[int]booking.Setup
	order  []int // of the setups held, the one longest untouched first
}

// Fold begins the check of a chain: what is returned takes its events in order.
// group reads the events of a setup once more.
func Fold(group func(n uint32) ([]store.Record, error)) func(r *store.Record) error {
	f := &folder{group: group, setups: map[int]booking.Setup{}}
	return f.event
}

// event folds one event. The text of a reading must give the value that is kept
// with it.
func (f *folder) event(r *store.Record) error {
	e, err := entryOf(*r)
	if err != nil {
		return err
	}
	if e.Setup == 0 {
		f.book, err = f.book.Apply(e)
		return err
	}
	s, err := f.setup(e)
	if err != nil {
		return err
	}
	if b, ok := e.Event.(event.ReadingBooked); ok {
		if err := sameValue(s, b); err != nil {
			return err
		}
	}
	after, err := s.Apply(e)
	if err != nil {
		return err
	}
	f.setups[e.Setup] = after
	return nil
}

// setup gives the setup that e belongs to as it stood before.
func (f *folder) setup(e event.Entry) (booking.Setup, error) {
	if s, ok := f.setups[e.Setup]; ok {
		return s, nil
	}
	if len(f.order) >= heldSetups {
		delete(f.setups, f.order[0])
		f.order = f.order[1:]
	}
	f.order = append(f.order, e.Setup)
	if _, begins := e.Event.(event.SetupOpened); begins {
		return booking.Setup{}, nil
	}
	records, err := f.group(uint32(e.Setup))
	if err != nil {
		return booking.Setup{}, err
	}
	for i, r := range records {
		if r.Seq >= e.Seq {
			records = records[:i]
			break
		}
	}
	entries, err := entriesOf(records)
	if err != nil {
		return booking.Setup{}, err
	}
	return booking.Fold(entries)
}

// sameValue demands that the text of a reading gives the value kept with it. A
// file of readings may hold them in another unit than the instrument's, and finer
// than its least count.
func sameValue(s booking.Setup, b event.ReadingBooked) error {
	s.Spec.Instrument.LeastCount = 0
	units := []spec.Spec{s.Spec}
	if s.Spec.KeyedAfterwards != nil {
		for _, u := range reduce.Units() {
			for _, l := range []lengths.Unit{lengths.Metres, lengths.Feet} {
				other := s.Spec
				other.Instrument.Unit, other.LengthUnit = u, l
				units = append(units, other)
			}
		}
	}
	var why error
	for i, agreed := range units {
		s.Spec = agreed
		value, err := s.Parse(b.Slot, b.Text)
		if err == nil && value == b.Value {
			return nil
		}
		if i == 0 {
			why = err
		}
	}
	if why != nil {
		return fmt.Errorf("the reading %q cannot be read: %w", b.Text, why)
	}
	return fmt.Errorf("the reading %q is kept with another value than its text has", b.Text)
}
