package main

import (
	"fmt"

	"example.org/readback/booking/instrument"
)

// A HealthCmd follows the errors of each instrument over the setups of a book.
type HealthCmd struct {
	Book string `arg:"" help:"The book, or an office book."`
}

// Run prints the history of each instrument.
func (h *HealthCmd) Run(c *Context) error {
	picked, done, err := openChosen(h.Book, nil)
	if err != nil {
		return err
	}
	defer done()
	if picked, err = picked.observed(c.Out); err != nil {
		return err
	}
	var samples []instrument.Sample
	for _, ch := range picked.chapters {
		list, err := ch.samples()
		if err != nil {
			return err
		}
		samples = append(samples, list...)
	}
	_, err = fmt.Fprint(c.Out, instrument.Text(instrument.Work(samples, instrument.DefaultSettings())))
	return err
}
