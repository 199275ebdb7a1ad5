package main

import (
	"errors"
	"fmt"

	"example.org/readback/cmd/internal/book"
	"example.org/readback/store/fault"
	"example.org/readback/store/repair"
)

// A GatherCmd brings several books into one office book.
type GatherCmd struct {
	Out   string   `arg:"" help:"The office book; it is made when it is not there."`
	Books []string `arg:"" help:"Books to gather. One gathered before adds only what is new."`
}

// Help shows how it is called.
func (GatherCmd) Help() string {
	return `Examples:
  readback gather office.readback north.readback south.readback`
}

// Run gathers all books or none.
func (g *GatherCmd) Run(c *Context) error {
	got, err := repair.Gather(g.Out, g.Books...)
	if errors.Is(err, fault.ErrConflict) {
		return err
	}
	if err != nil {
		return err
	}
	for _, b := range got {
		fmt.Fprintf(c.Out, "%s: %s, %d of them new, chain %x sound.\n", b.Book, book.Events(int(b.Events)), b.Added, b.ID[:8])
		for _, n := range b.Notes {
			fmt.Fprintf(c.Out, "  %s\n", n)
		}
	}
	return nil
}
