package main

import (
	"example.org/readback/booking/figure"
	"example.org/readback/booking/health"
)

// FigureReport implements tui.Reports: the figures themselves, for their plan on
// the screen and for what the verdict says of them.
func (p *port) FigureReport() (figure.Report, error) {
	in, err := figureInput(p.ledger().chapter)
	if err != nil {
		return figure.Report{}, err
	}
	return figure.Work(in), nil
}

// Instruments implements tui.Reports: the history of each instrument, for the
// plots on the screen.
func (p *port) Instruments() ([]health.Instrument, error) {
	samples, err := p.ledger().samples()
	if err != nil {
		return nil, err
	}
	if len(samples) == 0 {
		return nil, errNoSetups
	}
	return health.Work(samples, health.DefaultSettings()), nil
}
