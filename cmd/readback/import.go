package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"example.org/readback/booking/page"
	"example.org/readback/booking/spec"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/paper"
)

// ImportCmd books a readings file that was kept on paper.
type ImportCmd struct {
	Book       string `arg:"" help:"The book; it is made when it is not there."`
	File       string `arg:"" help:"Readings file (CSV); - reads standard input."`
	Booker     string `required:"" help:"Who keyed the file in." placeholder:"NAME" aliases:"by"`
	Observer   string `help:"Who observed." placeholder:"NAME"`
	Instrument string `help:"Name of the instrument." placeholder:"NAME"`
	Serial     string `help:"Serial number of the instrument." placeholder:"NUMBER"`
	paper.Options
	About
}

// Help shows how it is called.
func (ImportCmd) Help() string {
	return `Examples:
  readback import dam.readback day.csv --booker "Tam Okoro" --observer "Ines Holm"
  readback import dam.readback - --booker "Tam Okoro"`
}

// Run checks and folds the whole file before it books the first event.
func (m ImportCmd) Run(c *Context) error {
	if strings.TrimSpace(m.Booker) == "" {
		return badInput(fmt.Errorf("--booker is empty: expected the name of who keyed the file in"))
	}
	papers, err := paper.Open(m.File, m.Options, c.In)
	if err != nil {
		return badInput(err)
	}
	defer papers.Close()
	papers.Sign = m.sign(papers.File)
	p := c.progress("setups checked", papers.Len())
	papers.Watch = p.At
	_, err = papers.Check()
	p.End()
	if err != nil {
		return badInput(err)
	}
	l, err := c.open(m.Book)
	if err != nil {
		return err
	}
	defer l.Close()
	p, n := c.progress("setups", papers.Len()), 0
	defer p.End()
	err = l.Import(papers, time.Now(), func(s book.Imported) {
		p.Wipe()
		fmt.Fprintf(c.Out, "Setup %d: %s, %d readings, %s.\n", s.Setup, page.Visible(s.Station), s.Readings, s.Verdict)
		n++
		p.At(n)
	})
	if err == nil {
		_, err = c.describe(l, m.About, m.Booker)
	}
	return err
}

// sign writes who keyed a setup in, and from what, into it.
func (m ImportCmd) sign(file string) func(*spec.Spec) {
	by := strings.TrimSpace(m.Booker)
	return func(agreed *spec.Spec) {
		agreed.Booker, agreed.Observer = by, strings.TrimSpace(m.Observer)
		agreed.Instrument.Name, agreed.Instrument.Serial = strings.TrimSpace(m.Instrument), strings.TrimSpace(m.Serial)
		agreed.KeyedAfterwards = &spec.KeyedAfterwards{By: by, File: filepath.Base(file)}
	}
}
