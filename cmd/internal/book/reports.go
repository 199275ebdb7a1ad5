package book

import (
	"example.org/readback/booking/instrument"
	"example.org/readback/booking/network"
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
