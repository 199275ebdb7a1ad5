package main

import (
	"errors"
	"fmt"

	"example.org/readback/booking/exchange"
	"example.org/readback/booking/exchange/reports"
	"example.org/readback/booking/network"
	"example.org/readback/cmd/internal/book"
)

// foresee prints what the plan brings, before anything is read.
func (p *PlanCmd) foresee(c *Context) error {
	if !(p.Want >= 0 && p.Want <= 1e6) {
		return badInput(fmt.Errorf("--want-mm %g: expected millimetres, from 0 to 1000000", p.Want))
	}
	plan, err := p.planned(c)
	if err != nil {
		return err
	}
	picked, done, err := c.choose(p.Book, nil)
	if err != nil {
		return err
	}
	defer done()
	document := reports.Plans{Books: []reports.PlanOfBook{}}
	for _, ch := range picked.Chapters {
		e, err := p.expected(ch, plan)
		if err != nil {
			return badInput(fmt.Errorf("%s: %w", ch.Name(picked), err))
		}
		made, err := ch.Made(picked)
		if err != nil {
			return err
		}
		if p.JSON {
			document.Books = append(document.Books, reports.PlanOf(made, e))
			continue
		}
		if _, err := fmt.Fprintf(c.Out, "%s\n%s", headingOf(made), e.Page().String(network.TextWidth)); err != nil {
			return err
		}
	}
	if p.JSON {
		if err := c.json(document); err != nil {
			return err
		}
	}
	return c.tie(picked)
}

// planned reads what the command line names: the plan, if not that of the book, and
// the rough places.
func (p *PlanCmd) planned(c *Context) (network.Planned, error) {
	plan := network.Planned{Want: p.Want / 1000}
	if p.File != "" {
		var err error
		if plan.Stations, err = file(c, p.File, "plan", exchange.ReadPlan); err != nil {
			return plan, err
		}
	}
	if p.Near == "" {
		return plan, nil
	}
	var err error
	plan.Near, err = file(c, p.Near, "rough coordinates", inFile(network.ParseKnown))
	return plan, err
}

// expected works the plan with what the book knows.
func (p *PlanCmd) expected(ch book.Chapter, plan network.Planned) (*network.Expected, error) {
	in, err := book.FigureInput(ch)
	if err != nil && !errors.Is(err, book.ErrNoSetups) {
		return nil, err
	}
	if p.DirectionSD != nil {
		if in.Settings, err = in.Settings.With("direction-sd", *p.DirectionSD, "set by the crew"); err != nil {
			return nil, err
		}
	}
	if plan.Stations == nil {
		b, err := ch.Book()
		if err != nil {
			return nil, err
		}
		plan.Stations = b.Plan
	}
	return network.Expect(in, plan)
}
