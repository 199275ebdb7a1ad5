package book

import (
	"encoding/json"
	"fmt"
	"iter"
	"unique"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/store"
	"example.org/readback/store/chain"
	"example.org/readback/store/proof"
)

// A Chapter reads one chain of events as bookings: a field book has one, an
// office book one for each book gathered into it.
type Chapter struct {
	src    events
	walk   *walk
	Before int // setups of the chapters before it: by so much its numbers are moved in an office book

	kept *[]day.Summary // of a book that is read as it was proven: its summaries, once they are read
}

// events is one chain of events, of a book that is open for booking or of one
// that was proven whole.
type events interface {
	ID() [32]byte
	Name() string
	Records() iter.Seq2[store.Record, error]
	Record(seq uint64) (store.Record, error)
	Last() (r store.Record, ok bool, err error)
	Group(n uint32) ([]store.Record, error)
	Groups() ([]uint32, error)
	LastGroup() (uint32, error)
	Digest(n uint32) ([]byte, error)
	Digests(from uint32, count int) ([]chain.Digest, error)
}

// Book returns the state of the book itself.
func (c Chapter) Book() (day.Book, error) {
	records, err := c.src.Group(0)
	if err != nil {
		return day.Book{}, err
	}
	entries, err := entriesOf(records)
	if err != nil {
		return day.Book{}, err
	}
	return day.Fold(entries)
}

// entries returns the events of setup n in order.
func (c Chapter) entries(n int) ([]event.Entry, error) {
	records, err := c.src.Group(uint32(n))
	if err != nil {
		return nil, err
	}
	return entriesOf(records)
}

// Setup returns the state of setup n.
func (c Chapter) Setup(n int) (booking.Setup, error) {
	entries, err := c.entries(n)
	if err != nil {
		return booking.Setup{}, err
	}
	c.walk.one()
	if len(entries) == 0 {
		return booking.Setup{}, fmt.Errorf("%w %d in this book", ErrNoSetup, n)
	}
	return booking.Fold(entries)
}

// Numbers returns the numbers of all setups, ascending.
func (c Chapter) Numbers() ([]int, error) {
	groups, err := c.src.Groups()
	if err != nil {
		return nil, err
	}
	var ns []int
	for _, g := range groups {
		if g > 0 {
			ns = append(ns, int(g))
		}
	}
	return ns, nil
}

// setups walks the setups in order, one in memory at a time.
func (c Chapter) setups() iter.Seq2[booking.Setup, error] {
	return func(yield func(booking.Setup, error) bool) {
		ns, err := c.Numbers()
		if err != nil {
			yield(booking.Setup{}, err)
			return
		}
		for _, n := range ns {
			s, err := c.Setup(n)
			if !yield(s, err) || err != nil {
				return
			}
		}
	}
}

// summary returns the summary of setup n: the one kept beside the events, or,
// where there is none, one made anew from them.
func (c Chapter) summary(n int) (day.Summary, error) {
	var m day.Summary
	digest, err := c.src.Digest(uint32(n))
	if err != nil {
		return m, err
	}
	if digest != nil && json.Unmarshal(digest, &m) == nil {
		return m, nil
	}
	s, err := c.Setup(n)
	return check.Summarize(s), err
}

// Summaries returns the summaries of all setups in order, with their numbers in
// the file: in an office book they run on from book to book. Whoever reads a book that
// is kept so shares them, and changes none.
func (c Chapter) Summaries() ([]day.Summary, error) {
	if c.kept != nil && *c.kept != nil {
		return *c.kept, nil
	}
	var list []day.Summary
	for m, err := range c.eachSummary() {
		if err != nil {
			return nil, err
		}
		list = append(list, m)
	}
	if c.kept != nil {
		*c.kept = list
	}
	return list, nil
}

// eachSummary walks the same summaries, one in memory at a time where they are not kept.
func (c Chapter) eachSummary() iter.Seq2[day.Summary, error] {
	return func(yield func(day.Summary, error) bool) {
		if c.kept != nil && *c.kept != nil {
			for _, m := range *c.kept {
				if !yield(m, nil) {
					return
				}
			}
			return
		}
		ns, err := c.Numbers()
		if err != nil {
			yield(day.Summary{}, err)
			return
		}
		for _, n := range ns {
			m, err := c.summary(n)
			m.Setup += c.Before
			if !yield(once(m), err) || err != nil {
				return
			}
		}
	}
}

// once gives the summary with every name in it kept once for all setups: in a season
// the same ones come again thousands of times.
func once(m day.Summary) day.Summary {
	for _, s := range []*string{&m.Station, &m.RO, &m.Instrument.Name, &m.Instrument.Serial, &m.Observer, &m.Booker, &m.State, &m.Figure.From} {
		*s = unique.Make(*s).Value()
	}
	for i := range m.Targets {
		m.Targets[i] = unique.Make(m.Targets[i]).Value()
	}
	for i := range m.Sights {
		m.Sights[i].Target = unique.Make(m.Sights[i].Target).Value()
	}
	return m
}

// alone is the chapter as if its book were the only one, and nothing of it kept in
// memory: its numbers are those in its own book.
func (c Chapter) alone() Chapter {
	c.Before, c.kept = 0, nil
	return c
}

// openChosen opens a book for reading, field book or office book, and proves it
// whole.
func openChosen(path string, watch proof.Watch) (Chosen, func() error, error) {
	st, err := proof.OpenWatched(path, watch)
	if err != nil {
		return Chosen{}, nil, err
	}
	c := Chosen{Path: path, Notes: st.Notes, proven: st, walk: &walk{}}
	before := 0
	for _, s := range st.Sources {
		c.Chapters = append(c.Chapters, Chapter{src: s, Before: before, walk: c.walk, kept: new([]day.Summary)})
		last, err := s.LastGroup()
		if err != nil {
			st.Close()
			return Chosen{}, nil, err
		}
		before += int(last)
	}
	return c, st.Close, nil
}

// Records walks the chain as it is stored.
func (c Chapter) Records() iter.Seq2[store.Record, error] { return c.src.Records() }

// Last returns the last record of the chain; the zero Record where there is none.
func (c Chapter) Last() (store.Record, error) {
	r, _, err := c.src.Last()
	return r, err
}

// event returns the event with a number.
func (c Chapter) event(seq uint64) (event.Entry, error) {
	r, err := c.src.Record(seq)
	if err != nil {
		return event.Entry{}, err
	}
	return entryOf(r)
}
