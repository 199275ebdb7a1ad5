package main

import (
	"fmt"

	"example.org/readback/booking/day"
	"example.org/readback/booking/exchange/reports"
	"example.org/readback/booking/instrument"
	"example.org/readback/cmd/internal/output"
)

// A HealthCmd follows the errors of each instrument over the setups of a book.
type HealthCmd struct {
	Book string `arg:"" help:"The book, or an office book."`
	JSON bool   `help:"Print the history as JSON."`
	Held bool   `help:"Count setups on Hold and those with a suspect too; else they are named and left out."`
	output.Flags
}

// Help shows how it is called.
func (HealthCmd) Help() string {
	return `Examples:
  readback health office.readback
  readback health office.readback -o health.txt`
}

// Run prints the history of each instrument.
func (h *HealthCmd) Run(c *Context) error {
	return c.hand(h.Flags, []string{h.Book}, h.print)
}

func (h *HealthCmd) print(c *Context) error {
	picked, done, err := c.choose(h.Book, nil)
	if err != nil {
		return err
	}
	defer done()
	words := c.Out
	if h.JSON {
		words = c.Err
	}
	if picked, err = picked.Observed(words); err != nil {
		return err
	}
	var samples []instrument.Sample
	var checks []day.InstrumentCheck
	for _, ch := range picked.Chapters {
		list, err := ch.Samples()
		if err != nil {
			return err
		}
		samples = append(samples, list...)
		b, err := ch.Book()
		if err != nil {
			return err
		}
		checks = append(checks, b.Checks...)
	}
	set := instrument.DefaultSettings()
	set.Held = h.Held
	list := instrument.WithChecks(instrument.Work(samples, set), checks, set)
	made, err := picked.Made()
	if err != nil {
		return err
	}
	if h.JSON {
		if err = c.json(reports.HealthOf(made, list)); err != nil {
			return err
		}
		return c.tie(picked)
	}
	for _, b := range made {
		fmt.Fprint(c.Out, headingOf(b))
	}
	fmt.Fprintln(c.Out)
	if _, err = fmt.Fprint(c.Out, instrument.Text(list)); err != nil {
		return err
	}
	return c.tie(picked)
}
