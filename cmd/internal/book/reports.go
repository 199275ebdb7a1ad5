package book

import (
	"errors"

	"example.org/readback/booking/instrument"
	"example.org/readback/booking/network"
	"example.org/readback/booking/page"
)

// FigureReport implements tui.Port: the figures themselves, for their plan on
// the screen and for what the verdict says of them.
func (p *Port) FigureReport(stop func() bool) (network.Report, error) {
	in, err := FigureInput(p.ledger().Chapter)
	if err != nil {
		return network.Report{}, err
	}
	in.Stop = stop
	return network.Work(in), nil
}

// FigurePage implements tui.Port: what the plan brings, or the net on its known stations.
func (p *Port) FigurePage(foreseen bool) (page.Page, error) {
	c := p.ledger().Chapter
	in, err := FigureInput(c)
	if err != nil && !(foreseen && errors.Is(err, ErrNoSetups)) {
		return page.Page{}, err
	}
	if !foreseen {
		return pageOf(network.Onto(in, nil, false))
	}
	b, err := c.Book()
	if err != nil {
		return page.Page{}, err
	}
	return pageOf(network.Expect(in, network.Planned{Stations: b.Plan}))
}

func pageOf[T interface{ Page() page.Page }](of T, err error) (page.Page, error) {
	if err != nil {
		return page.Page{}, err
	}
	return of.Page(), nil
}

// Instruments implements tui.Port: the history of each instrument, for the
// plots on the screen.
func (p *Port) Instruments() ([]instrument.Instrument, error) {
	samples, err := p.ledger().Samples()
	if err != nil {
		return nil, err
	}
	book, err := p.ledger().Book()
	if err != nil {
		return nil, err
	}
	if len(samples)+len(book.Checks) == 0 {
		return nil, ErrNoSetups
	}
	set := instrument.DefaultSettings()
	return instrument.WithChecks(instrument.Work(samples, set), book.Checks, set), nil
}
