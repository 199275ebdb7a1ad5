package main

import (
	"errors"
	"fmt"

	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/exchange"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/output"
)

// A PlanCmd loads the office's plan into a book. The plan proposes the next setup
// and never binds; the work list shows what of it is done.
type PlanCmd struct {
	Book        string   `arg:"" help:"The book; it is made when it is not there."`
	File        string   `arg:"" optional:"" help:"The plan as CSV: station,ro,targets,rounds,verticals,distances,day,order; targets clockwise with semicolons between them, further reference objects behind the RO in the same way, verticals and distances yes, no or names, order by halves, target by target, or repetition and how often (repetition 6). It takes the place of the plan before. Without a file the plan is listed."`
	Foresee     bool     `help:"Foresee the network of the plan, before anything is read: standard deviations, ellipses of 95 %, what one more round buys. Nothing is loaded; a file named here stands for the plan of the book."`
	Near        string   `help:"With --foresee, rough coordinates as CSV (name,E,N,H in metres) of the points that are not known." placeholder:"FILE"`
	DirectionSD *float64 `name:"direction-sd" help:"With --foresee, standard deviation of one direction, both faces, one round, seconds; else as stated for the last instrument. The other ones are set with readback limits." placeholder:"SECONDS"`
	Want        float64  `name:"want-mm" help:"With --foresee, how many rounds bring every place within this at 95 %, millimetres." placeholder:"MM"`
	JSON        bool     `help:"With --foresee, print it as JSON."`
	Doer
	output.Flags
}

// Help shows how it is called.
func (PlanCmd) Help() string {
	return `Examples:
  readback plan dam.readback
  readback plan dam.readback week.csv --by "Ines Holm"
  readback plan dam.readback --foresee --near sketch.csv --direction-sd 3 --want-mm 5`
}

// Run checks the whole file before anything is booked.
func (p *PlanCmd) Run(c *Context) error {
	if p.Foresee {
		return c.hand(p.Flags, []string{p.Book, p.File, p.Near}, p.foresee)
	}
	if p.Near != "" || p.DirectionSD != nil || p.Want != 0 || p.JSON || p.File != "" && p.Out != "" {
		return badInput(errors.New("--near, --direction-sd, --want-mm, --json and the -o of a file go with --foresee"))
	}
	if p.File == "" {
		return c.hand(p.Flags, []string{p.Book}, p.list)
	}
	stations, err := file(c, p.File, "plan", exchange.ReadPlan)
	if err != nil {
		return err
	}
	return c.load(p.Book, event.PlanLoaded{File: p.File, By: p.By, Stations: stations}, fmt.Sprintf("a plan of %d setups", len(stations)))
}

// list prints the plan with what is done, what is next and what is open.
func (p *PlanCmd) list(c *Context) error {
	return c.eachBook(p.Book, func(name string, ch book.Chapter, b day.Book) error {
		setups, err := ch.Summaries()
		if err != nil {
			return err
		}
		fmt.Fprintf(c.Out, "%s: planned setups %d.\n", name, len(b.Plan))
		next := true
		for _, l := range day.Follow(b.Plan, setups) {
			state := "open"
			switch {
			case l.Done():
				state = fmt.Sprintf("done, setup %d", l.Setup)
			case l.Setup > 0:
				state = fmt.Sprintf("begun, setup %d", l.Setup)
			case next:
				state, next = "next", false
			}
			fmt.Fprintf(c.Out, "%-10s %s: %s\n", l.Day, l.Words(), state)
		}
		return nil
	})
}
