package book

import (
	"errors"
	"fmt"
	"iter"
	"path/filepath"
	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/day"
	"example.org/readback/booking/exchange/landxml"
	"example.org/readback/booking/network"
	"example.org/readback/booking/page/sheet"
	"example.org/readback/store/proof"
)

// Chosen is some setups of a book, or of every book of an office book.
type Chosen struct {
	Path     string
	Chapters []Chapter
	Notes    []string // what opening the book found, whole sentences
	numbers  []int    // nil: every setup
	proven   *proof.Book
	walk     *walk
}

// A walk counts the setups that are read, for who watches it.
type walk struct {
	n  int
	at func(n int)
}

func (w *walk) one() {
	if w != nil && w.at != nil {
		w.n++
		w.at(w.n)
	}
}

// Watch calls at with the number of setups read so far, whenever one more is.
func (c Chosen) Watch(at func(n int)) { c.walk.at = at }

// Size is how many setups the whole book has.
func (c Chosen) Size() (n int) {
	for _, ch := range c.Chapters {
		if last, err := ch.src.LastGroup(); err == nil {
			n += int(last)
		}
	}
	return n
}

// Events is how many events the whole book has.
func (c Chosen) Events() (n int) {
	for _, ch := range c.Chapters {
		if last, err := ch.Last(); err == nil {
			n += int(last.Seq)
		}
	}
	return n
}

// Ties says what an output was made from, so that it can be tied to the book: for
// each chain how many events, all proven, and the hash of the last.
func (c Chosen) Ties() (list []string) {
	for _, s := range c.proven.Sources {
		name := filepath.Base(c.Path)
		if c.proven.Office {
			name += ", " + s.Name()
		}
		if r, ok, _ := s.Last(); ok {
			list = append(list, fmt.Sprintf("%s: %s read and proven, last hash %x", name, Events(int(r.Seq)), r.Hash))
		} else {
			list = append(list, name+": no event is booked yet.")
		}
	}
	return list
}

// Has tells whether one of the books has this identity, in hexadecimal.
func (c Chosen) Has(identity string) bool {
	return slices.ContainsFunc(c.Chapters, func(ch Chapter) bool { return fmt.Sprintf("%x", ch.src.ID()) == identity })
}

// Choose opens a book for reading and picks setups by number; none picks all. In an
// office book of several books the numbers run on from book to book. A number that
// is no setup is bad input. watch may be nil.
func Choose(path string, numbers []int, watch proof.Watch) (Chosen, func() error, error) {
	c, done, err := openChosen(path, watch)
	if err != nil {
		return Chosen{}, nil, err
	}
	c.numbers = numbers
	if err := c.check(); err != nil {
		done()
		return Chosen{}, nil, err
	}
	return c, done, nil
}

// check looks for every number that is asked for.
func (c Chosen) check() error {
	have := map[int]bool{}
	for _, ch := range c.Chapters {
		ns, err := ch.Numbers()
		if err != nil {
			return err
		}
		for _, n := range ns {
			have[ch.Before+n] = true
		}
	}
	for _, n := range c.numbers {
		if !have[n] {
			return fmt.Errorf("%w %d in %s", ErrNoSetup, n, c.Path)
		}
	}
	return nil
}

// Sheets walks the chosen setups in order, a few in memory at a time, each with the
// hash of its last event. Nothing else may read the book in the walk.
func (c Chosen) Sheets() iter.Seq2[sheet.Sheet, error] { return ahead(c.sheets()) }

func (c Chosen) sheets() iter.Seq2[sheet.Sheet, error] {
	return func(yield func(sheet.Sheet, error) bool) {
		for _, ch := range c.Chapters {
			book, err := ch.Book()
			if err != nil {
				yield(sheet.Sheet{}, err)
				return
			}
			book.Centres = slices.Clone(book.Centres)
			for i := range book.Centres {
				book.Centres[i].Setup += ch.Before
			}
			ns, err := ch.Numbers()
			if err != nil {
				yield(sheet.Sheet{}, err)
				return
			}
			for _, n := range ns {
				if c.numbers != nil && !slices.Contains(c.numbers, ch.Before+n) {
					continue
				}
				s, err := ch.sheet(n)
				s.Setup.Number += ch.Before
				s.Book, s.Name, s.ID = book, ch.Name(c), fmt.Sprintf("%x", ch.src.ID())
				if !yield(s, err) || err != nil {
					return
				}
			}
		}
	}
}

// sheet folds setup n and names its last event.
func (c Chapter) sheet(n int) (sheet.Sheet, error) {
	records, err := c.src.Group(uint32(n))
	if err != nil {
		return sheet.Sheet{}, err
	}
	c.walk.one()
	entries, err := entriesOf(records)
	if err != nil {
		return sheet.Sheet{}, err
	}
	s, err := booking.Fold(entries)
	if err != nil || len(records) == 0 {
		return sheet.Sheet{}, err
	}
	return sheet.Sheet{Setup: s, Hash: fmt.Sprintf("%x", records[len(records)-1].Hash)}, nil
}

// Name is the file name of the chapter's book: of the file itself, or of the book
// that was gathered.
func (c Chapter) Name(all Chosen) string {
	if len(all.Chapters) > 1 && c.src.Name() != "" {
		return c.src.Name()
	}
	return filepath.Base(all.Path)
}

// Title is the title of the book, or of the first one, else the file's name.
func (c Chosen) Title() string {
	if len(c.Chapters) > 0 {
		if b, err := c.Chapters[0].Book(); err == nil && b.Job != "" {
			return b.Job
		}
	}
	return filepath.Base(c.Path)
}

// Setups lists the chosen setups.
func (c Chosen) Setups() ([]booking.Setup, error) {
	var list []booking.Setup
	for s, err := range c.Sheets() {
		if err != nil {
			return nil, err
		}
		list = append(list, s.Setup)
	}
	return list, nil
}

// Points are the coordinates of the known stations and, where figures give them
// in the same system, of the observed ones.
func (c Chosen) Points() (map[string]landxml.Point, error) {
	points := map[string]landxml.Point{}
	for _, ch := range c.Chapters {
		in, err := FigureInput(ch.alone())
		if errors.Is(err, ErrNoSetups) {
			continue
		}
		if err != nil {
			return nil, err
		}
		for _, p := range network.Figures(in).Places() {
			if !p.Local {
				points[p.Name] = landxml.Point{North: p.Point.N, East: p.Point.E, Elev: p.Elev}
			} else if len(c.Chapters) == 1 { // two books have no local system in common
				points[p.Name] = landxml.Point{North: p.Point.N, East: p.Point.E, Elev: p.Over, Local: true, LocalElev: p.Over != nil}
			}
		}
		for _, k := range in.Known {
			points[k.Name] = landxml.Point{North: k.North, East: k.East, Elev: k.Elev}
		}
	}
	return points, nil
}

// An Outgoing setup knows its book, and whether that was only a drill: every output
// says so.
type Outgoing struct {
	booking.Setup
	Book     day.Book
	Name, ID string // of the book
}

// Folded walks the chosen setups in order, a few in memory at a time.
func (c Chosen) Folded() iter.Seq2[Outgoing, error] {
	return func(yield func(Outgoing, error) bool) {
		for s, err := range c.Sheets() {
			if !yield(Outgoing{s.Setup, s.Book, s.Name, s.ID}, err) || err != nil {
				return
			}
		}
	}
}
