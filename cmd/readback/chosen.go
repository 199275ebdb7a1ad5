package main

import (
	"errors"
	"fmt"
	"iter"
	"path/filepath"
	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/exchange/landxml"
	"example.org/readback/booking/network"
	"example.org/readback/booking/page/sheet"
)

// chosen is some setups of a book, or of every book of an office book.
type chosen struct {
	path     string
	chapters []chapter
	numbers  []int // nil: every setup
}

// openChosen opens a book for reading and picks setups by number; none picks all.
// A number that is no setup is bad input.
func openChosen(path string, numbers []int) (chosen, func() error, error) {
	chapters, done, err := openChapters(path)
	if err != nil {
		return chosen{}, nil, err
	}
	c := chosen{path: path, chapters: chapters, numbers: numbers}
	if err := c.check(); err != nil {
		done()
		return chosen{}, nil, err
	}
	return c, done, nil
}

// check looks for every number that is asked for.
func (c chosen) check() error {
	have := map[int]bool{}
	for _, ch := range c.chapters {
		ns, err := ch.Numbers()
		if err != nil {
			return err
		}
		for _, n := range ns {
			have[n] = true
		}
	}
	for _, n := range c.numbers {
		if !have[n] {
			return badInput(fmt.Errorf("there is no setup %d in %s", n, c.path))
		}
	}
	return nil
}

// sheets walks the chosen setups in order, one in memory at a time, each with the
// hash of its last event.
func (c chosen) sheets() iter.Seq2[sheet.Sheet, error] {
	return func(yield func(sheet.Sheet, error) bool) {
		for _, ch := range c.chapters {
			book, err := ch.Book()
			if err != nil {
				yield(sheet.Sheet{}, err)
				return
			}
			ns, err := ch.Numbers()
			if err != nil {
				yield(sheet.Sheet{}, err)
				return
			}
			for _, n := range ns {
				if c.numbers != nil && !slices.Contains(c.numbers, n) {
					continue
				}
				s, err := ch.sheet(n)
				s.Book, s.Name = book, ch.name(c)
				if !yield(s, err) || err != nil {
					return
				}
			}
		}
	}
}

// sheet folds setup n and names its last event.
func (c chapter) sheet(n int) (sheet.Sheet, error) {
	records, err := c.src.Group(uint32(n))
	if err != nil {
		return sheet.Sheet{}, err
	}
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

// name is the file name of the chapter's book: of the file itself, or of the book
// that was gathered.
func (c chapter) name(all chosen) string {
	if len(all.chapters) > 1 && c.src.Name() != "" {
		return c.src.Name()
	}
	return filepath.Base(all.path)
}

// title is the title of the book, or of the first one, else the file's name.
func (c chosen) title() string {
	if len(c.chapters) > 0 {
		if b, err := c.chapters[0].Book(); err == nil && b.Title != "" {
			return b.Title
		}
	}
	return filepath.Base(c.path)
}

// setups lists the chosen setups.
func (c chosen) setups() ([]booking.Setup, error) {
	var list []booking.Setup
	for s, err := range c.sheets() {
		if err != nil {
			return nil, err
		}
		list = append(list, s.Setup)
	}
	return list, nil
}

// points are the coordinates of the known stations and, where figures give them
// in the same system, of the observed ones.
func (c chosen) points() (map[string]landxml.Point, error) {
	points := map[string]landxml.Point{}
	for _, ch := range c.chapters {
		in, err := figureInput(ch)
		if errors.Is(err, errNoSetups) {
			continue
		}
		if err != nil {
			return nil, err
		}
		for _, p := range network.Work(in).Places() {
			if !p.Local {
				points[p.Name] = landxml.Point{North: p.Point.N, East: p.Point.E}
			}
		}
		for _, k := range in.Known {
			points[k.Name] = landxml.Point{North: k.North, East: k.East, Elev: k.Elev}
		}
	}
	return points, nil
}
