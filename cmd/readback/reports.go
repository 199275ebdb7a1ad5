package main

import (
	"example.org/readback/booking"
	"example.org/readback/booking/figure"
	"example.org/readback/booking/health"
	"example.org/readback/booking/known"
)

// recentSetups bounds how far back an earlier occupation of a station is looked
// for, so that opening a setup costs the same in a book of any length.
const recentSetups = 200

// Known implements tui.Port: what an earlier occupation of the station or known
// coordinates say of the directions of a setup, and earlier setups of its
// instrument of the collimation and the index error.
func (p *port) Known(s booking.Setup) booking.Known {
	l := p.ledger()
	b, err := l.Book()
	if err != nil {
		return booking.Known{}
	}
	earlier, err := l.recent(s.Number)
	if err != nil {
		return booking.Known{}
	}
	k := known.Directions(b.Known, earlier, s.Spec.Station, s.Spec.RO)
	k.Collimation, k.Index = booking.InstrumentBefore(earlier, s.Spec.Instrument)
	return k
}

// recent returns the summaries of the setups before n, not too many.
func (c chapter) recent(n int) ([]booking.Summary, error) {
	var list []booking.Summary
	for k := max(1, n-recentSetups); k < n; k++ {
		m, err := c.Summary(k)
		if err != nil {
			return nil, err
		}
		list = append(list, m)
	}
	return list, nil
}

// figureInput gathers what the figures of a book are made from.
func figureInput(c chapter) (figure.Input, error) {
	b, err := c.Book()
	if err != nil {
		return figure.Input{}, err
	}
	in := figure.Input{Known: b.Known, Settings: figure.DefaultSettings()}
	for _, k := range b.Bearings {
		in.Bearings = append(in.Bearings, figure.KnownBearing(k))
	}
	in.Setups, err = c.Summaries()
	if err == nil && len(in.Setups) == 0 {
		err = errNoSetups
	}
	return in, err
}

// Figure implements tui.Port.
func (p *port) Figure() (string, error) {
	in, err := figureInput(p.ledger().chapter)
	if err != nil {
		return "", err
	}
	return figure.Text(figure.Work(in)), nil
}

// Health implements tui.Port.
func (p *port) Health() (string, error) {
	samples, err := p.ledger().samples()
	if err != nil {
		return "", err
	}
	if len(samples) == 0 {
		return "", errNoSetups
	}
	return health.Text(health.Work(samples, health.DefaultSettings())), nil
}

// samples gathers what each setup says of its instrument.
func (c chapter) samples() ([]health.Sample, error) {
	var list []health.Sample
	for s, err := range c.Setups() {
		if err != nil {
			return nil, err
		}
		list = append(list, health.SampleOf(s))
	}
	return list, nil
}
