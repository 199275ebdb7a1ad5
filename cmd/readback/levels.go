package main

import (
	"fmt"

	"example.org/readback/booking/event"
	"example.org/readback/booking/network"
)

// A LevelsCmd loads levelled differences of height into a book: they count in the
// network of heights beside the rises that were measured.
type LevelsCmd struct {
	Book string `arg:"" help:"The book; it is made when it is not there."`
	File string `arg:"" help:"Levelled differences as CSV: from,to,rise,sd; the rise in metres, its standard deviation in millimetres. They take the place of those loaded before."`
	Doer
}

// Help shows how it is called.
func (LevelsCmd) Help() string {
	return `Examples:
  readback levels dam.readback levelled.csv --by "Ines Holm"`
}

// Run checks the whole file before anything is booked.
func (l *LevelsCmd) Run(c *Context) error {
	rises, err := file(c, l.File, "levelled differences", inFile(network.ParseLevels))
	if err != nil {
		return err
	}
	return c.load(l.Book, event.LevelsLoaded{File: l.File, By: l.By, Rises: rises}, fmt.Sprintf("levelled differences %d", len(rises)))
}
