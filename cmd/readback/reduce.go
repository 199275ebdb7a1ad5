package main

import (
	"bytes"
	"errors"
	"fmt"

	"example.org/readback/booking/exchange/reductions"
	"example.org/readback/cmd/internal/paper"
)

// ReduceCmd works a file of readings.
type ReduceCmd struct {
	File string `arg:"" help:"Readings file (CSV); - reads standard input."`
	JSON bool   `help:"Print the reductions as JSON."`
	paper.Options
}

// Run prints the reductions of every setup of the file. A bad file prints
// nothing on standard output.
func (r ReduceCmd) Run(c *Context) error {
	papers, err := paper.Read(r.File, r.Options, c.In)
	if err != nil {
		return badInput(err)
	}
	var out bytes.Buffer
	w := reductions.NewWriter(&out)
	for i, p := range papers.List {
		s, err := p.Setup()
		if err != nil {
			return badInput(err)
		}
		switch {
		case r.JSON:
			err = w.Setup(reductions.Of(s, p.Named))
		default:
			if i > 0 {
				out.WriteString("\n")
			}
			err = reductions.Table(&out, s, p.Named)
		}
		if err != nil {
			return err
		}
	}
	if r.JSON {
		err = w.Close()
	}
	if _, werr := out.WriteTo(c.Out); werr != nil {
		err = errors.Join(err, fmt.Errorf("cannot write the reductions: %w", werr))
	}
	return err
}
