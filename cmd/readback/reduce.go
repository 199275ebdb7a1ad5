package main

import (
	"errors"
	"fmt"
	"io"
	"runtime/debug"

	"example.org/readback/booking/exchange"
	"example.org/readback/booking/exchange/reductions"
	"example.org/readback/cmd/internal/output"
	"example.org/readback/cmd/internal/paper"
)

// ReduceCmd works a file of readings.
type ReduceCmd struct {
	File string `arg:"" help:"Readings file (CSV); - reads standard input."`
	JSON bool   `help:"Print the reductions as JSON."`
	output.Flags
	paper.Options
}

// Help shows how it is called.
func (ReduceCmd) Help() string {
	return `Examples:
  readback reduce day.csv --least-count 10
  readback reduce day.csv --json -o day.json
  readback export dam.readback | readback reduce -`
}

// Run prints the reductions of every setup of the file, once all of it is worked
// on: a bad file prints nothing on standard output.
func (r ReduceCmd) Run(c *Context) error {
	if err := r.Check(r.File); err != nil {
		return err
	}
	papers, err := paper.Open(r.File, r.Options, c.In)
	if err != nil {
		return badInput(err)
	}
	defer papers.Close()
	said := c.progress("setups", papers.Len())
	defer said.End()
	papers.Watch = said.At
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // the heap is small and made anew all the time
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(flat))
	var out output.Spool
	defer out.Close()
	err = papers.Work(&out, r.reduce)
	said.End()
	if err != nil {
		if errors.Is(err, exchange.ErrFile) || errors.Is(err, exchange.ErrOption) {
			err = badInput(err)
		}
		return err
	}
	if r.JSON {
		fmt.Fprint(&out, reductions.Tail)
	}
	return r.Write(c.Out, []string{r.File}, func(w io.Writer) error {
		if _, err := out.WriteTo(w); err != nil {
			return fmt.Errorf("cannot write the reductions: %w", err)
		}
		return nil
	})
}

// reduce prints the reductions of the i-th setup.
func (r ReduceCmd) reduce(d *paper.Desk, i int, p exchange.Paper) error {
	s, err := p.Setup()
	if err != nil {
		return err
	}
	if r.JSON {
		b, err := reductions.Append(d.Out.AvailableBuffer(), i == 0, reductions.Of(s, p.Named))
		d.Out.Write(b)
		return err
	}
	if i > 0 {
		d.Out.WriteString("\n")
	}
	return d.Printer.Table(&d.Out, s, p.Named)
}
