package book

import (
	"errors"
	"fmt"

	"example.org/readback/booking/exchange/tables"
	"example.org/readback/booking/network"
)

// Tables writes the rows of all books that were chosen, one setup in memory at a
// time, and returns the books. Of a book that has an event with one of the hashes
// in held, only the setups are written that have events after it.
func (c Chosen) Tables(w *tables.Writer, held map[string]bool) ([]tables.Book, error) {
	var list []tables.Book
	for _, ch := range c.Chapters {
		b, err := ch.tables(c, w, held)
		if err != nil {
			return nil, err
		}
		list = append(list, b)
	}
	return list, nil
}

// tables writes the rows of one book.
func (c Chapter) tables(all Chosen, w *tables.Writer, held map[string]bool) (tables.Book, error) {
	b := tables.Book{ID: fmt.Sprintf("%x", c.src.ID()), Name: c.Name(all), Before: c.Before}
	last, err := c.Last()
	if err != nil {
		return b, err
	}
	b.LastEvent, b.LastHash, b.LastKeyed = last.Seq, fmt.Sprintf("%x", last.Hash), last.At
	if b.State, err = c.Book(); err != nil {
		return b, err
	}
	ns, err := c.Numbers()
	if err != nil {
		return b, err
	}
	news := map[int]bool{} // setups with events that are not held
	if b.Since, err = c.since(held, news); err != nil {
		return b, err
	}
	for _, n := range ns {
		if b.Since > 0 && !news[n] {
			c.walk.one()
			continue
		}
		s, err := c.sheet(n)
		if err == nil {
			err = w.Setup(b, s.Setup, s.Hash)
		}
		if err != nil {
			return b, err
		}
	}
	in, err := FigureInput(c.alone()) // in the tables a setup has its number in its own book
	if errors.Is(err, ErrNoSetups) {
		return b, w.Book(b, nil, network.Report{})
	}
	if err != nil {
		return b, err
	}
	return b, w.Book(b, in.Setups, network.Figures(in))
}

// since returns the number of the last event whose hash is held, 0 where there is
// none, and notes the setups of the events after it.
func (c Chapter) since(held map[string]bool, news map[int]bool) (seq uint64, err error) {
	if len(held) == 0 {
		return 0, nil
	}
	for r, err := range c.Records() {
		if err != nil {
			return 0, err
		}
		if held[fmt.Sprintf("%x", r.Hash)] {
			seq = r.Seq
			clear(news)
		} else {
			news[int(r.Group)] = true
		}
	}
	return seq, nil
}
