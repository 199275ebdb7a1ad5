package book

import (
	"errors"
	"fmt"

	"example.org/readback/booking/exchange/tables"
	"example.org/readback/booking/network"
)

// Tables writes the rows of all books that were chosen, one setup in memory at a
// time, and returns the books. at is told how many readings were written.
func (c Chosen) Tables(w *tables.Writer, at func(readings int)) ([]tables.Book, error) {
	var list []tables.Book
	for _, ch := range c.Chapters {
		b, err := ch.tables(c, w, at)
		if err != nil {
			return nil, err
		}
		list = append(list, b)
	}
	return list, nil
}

// tables writes the rows of one book.
func (c Chapter) tables(all Chosen, w *tables.Writer, at func(int)) (tables.Book, error) {
	b := tables.Book{ID: fmt.Sprintf("%x", c.src.ID()), Name: c.Name(all)}
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
	for _, n := range ns {
		s, err := c.sheet(n)
		if err == nil {
			err = w.Setup(b, s.Setup, s.Hash)
		}
		if err != nil {
			return b, err
		}
		at(w.Written())
	}
	in, err := FigureInput(c)
	if errors.Is(err, ErrNoSetups) {
		return b, w.Book(b, network.Report{})
	}
	if err != nil {
		return b, err
	}
	return b, w.Book(b, network.Work(in))
}
