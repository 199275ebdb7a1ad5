package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"example.org/readback/booking"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/paper"
	"example.org/readback/store"
)

// ImportCmd books a readings file that was kept on paper.
type ImportCmd struct {
	Book       string `arg:"" help:"The book; it is made when it is not there."`
	File       string `arg:"" help:"Readings file (CSV); - reads standard input."`
	Booker     string `required:"" help:"Who keyed the file in." placeholder:"NAME"`
	Observer   string `help:"Who observed." placeholder:"NAME"`
	Instrument string `help:"Name of the instrument." placeholder:"NAME"`
	Serial     string `help:"Serial number of the instrument." placeholder:"NUMBER"`
	paper.Options
}

// Run checks and folds the whole file before it books the first event.
func (m ImportCmd) Run(c *Context) error {
	if strings.TrimSpace(m.Booker) == "" {
		return badInput(fmt.Errorf("--booker is empty: expected the name of who keyed the file in"))
	}
	papers, err := paper.Read(m.File, m.Options, c.In)
	if err != nil {
		return badInput(err)
	}
	m.sign(papers)
	for _, p := range papers.List {
		if err := p.Bookable(); err != nil {
			return badInput(err)
		}
	}
	l, err := book.Open(m.Book, true, booking.BookOpened{}, store.Options{})
	if err != nil {
		return err
	}
	defer l.Close()
	setups, err := l.Import(papers, time.Now())
	if err != nil {
		return err
	}
	for _, s := range setups {
		fmt.Fprintf(c.Out, "Setup %d: %s, %d readings, %s.\n", s.Number, s.Spec.Station, len(s.Readings), s.Lift.Verdict)
	}
	return nil
}

// sign writes who keyed the setups in, and from what, into them.
func (m ImportCmd) sign(p paper.Papers) {
	by := strings.TrimSpace(m.Booker)
	for i := range p.List {
		spec := &p.List[i].Spec
		spec.Booker, spec.Observer = by, strings.TrimSpace(m.Observer)
		spec.Instrument.Name, spec.Instrument.Serial = strings.TrimSpace(m.Instrument), strings.TrimSpace(m.Serial)
		spec.KeyedAfterwards = &booking.KeyedAfterwards{By: by, File: filepath.Base(p.File)}
	}
}
