package main

import (
	"fmt"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/booking/exchange"
)

// A PlanCmd loads the office's plan into a book. The plan proposes the next setup
// and never binds; the work list shows what of it is done.
type PlanCmd struct {
	Book string `arg:"" help:"The book; it is made when it is not there."`
	File string `arg:"" optional:"" help:"The plan as CSV: station,ro,targets,rounds,verticals,distances,day; targets clockwise with semicolons between them, verticals and distances yes, no or names. It takes the place of the plan before. Without a file the plan is listed."`
	Doer
}

// Help shows how it is called.
func (PlanCmd) Help() string {
	return `Examples:
  readback plan dam.readback
  readback plan dam.readback week.csv --by "Ines Holm"`
}

// Run checks the whole file before anything is booked.
func (p *PlanCmd) Run(c *Context) error {
	if p.File == "" {
		return p.list(c)
	}
	text, err := c.read(p.File)
	if err != nil {
		return badInput(fmt.Errorf("cannot read the plan: %w", err))
	}
	e := booking.PlanLoaded{File: p.File, By: p.By}
	if e.Stations, err = exchange.ReadPlan(text, p.File); err != nil {
		return badInput(err)
	}
	return c.load(p.Book, e, fmt.Sprintf("a plan of %d setups", len(e.Stations)))
}

// list prints the plan with what is done, what is next and what is open.
func (p *PlanCmd) list(c *Context) error {
	picked, done, err := c.choose(p.Book, nil)
	if err != nil {
		return err
	}
	defer done()
	for _, ch := range picked.Chapters {
		b, err := ch.Book()
		if err != nil {
			return err
		}
		setups, err := ch.Summaries()
		if err != nil {
			return err
		}
		fmt.Fprintf(c.Out, "%s: planned setups %d.\n", ch.Name(picked), len(b.Plan))
		next := true
		for _, l := range booking.Follow(b.Plan, setups) {
			state := "open"
			switch {
			case l.Done():
				state = fmt.Sprintf("done, setup %d", l.Setup)
			case l.Setup > 0:
				state = fmt.Sprintf("begun, setup %d", l.Setup)
			case next:
				state, next = "next", false
			}
			fmt.Fprintf(c.Out, "%-10s %s, RO %s, to %s: %s\n", l.Day, l.Station, l.RO, strings.Join(l.Targets, ", "), state)
		}
	}
	return nil
}
