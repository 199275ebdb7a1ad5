package main

import (
	"errors"
	"fmt"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/exchange/reports"
	"example.org/readback/booking/instrument"
	"example.org/readback/booking/reduction"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/output"
)

// A FieldtestCmd works setups as the field test of ISO 17123-3.
type FieldtestCmd struct {
	Book   string        `arg:"" help:"The book."`
	Setups []book.Ranges `arg:"" optional:"" help:"Numbers of the setups, such as 1-4, a series each; none takes all. The full test has 4 setups of 3 rounds on 5 targets, the reference object counted; the short form 1 setup on 4. Two setups are also held against each other."`
	JSON   bool          `help:"Print the outcome as JSON."`
	Held   bool          `help:"Count setups on Hold and those with a suspect too; else they are named and left out."`
	output.Flags
}

// fieldTestWidth is the width of the report, columns.
const fieldTestWidth = 80

// Help shows how it is called.
func (FieldtestCmd) Help() string {
	return `Examples:
  readback fieldtest test.readback
  readback fieldtest season.readback 5-8`
}

// Run prints the outcome.
func (f *FieldtestCmd) Run(c *Context) error {
	return c.hand(f.Flags, []string{f.Book}, f.print)
}

func (f *FieldtestCmd) print(c *Context) error {
	picked, done, err := c.choose(f.Book, book.Numbers(f.Setups))
	if err != nil {
		return err
	}
	defer done()
	setups, err := picked.Setups()
	if err != nil {
		return err
	}
	var left []instrument.LeftOut
	if !f.Held {
		setups, left = withoutDoubtful(setups)
	}
	r, err := instrument.WorkFieldTest(setups)
	if errors.Is(err, instrument.ErrNoTest) && len(left) > 0 {
		return badInput(fmt.Errorf("%w; left out: %s --held counts them too", err, sentences(left)))
	}
	r.Left = left
	if errors.Is(err, instrument.ErrNoTest) {
		return badInput(err)
	}
	if err != nil {
		return err
	}
	if f.JSON {
		made, err := picked.Made()
		if err == nil {
			err = c.json(reports.FieldTestOf(made, r))
		}
		if err != nil {
			return err
		}
		return c.tie(picked)
	}
	if err := picked.MarkDrills(c.Out); err != nil {
		return err
	}
	if _, err = fmt.Fprint(c.Out, r.Page().String(fieldTestWidth)); err != nil {
		return err
	}
	return c.tie(picked)
}

// withoutDoubtful leaves out the setups that are on Hold or have a suspect.
func withoutDoubtful(setups []booking.Setup) (kept []booking.Setup, left []instrument.LeftOut) {
	for _, s := range setups {
		if why := check.Doubt(s, reduction.Of(s)); why != "" {
			left = append(left, instrument.LeftOut{Setup: s.Number, Station: s.Spec.Station, Why: why})
			continue
		}
		kept = append(kept, s)
	}
	return kept, left
}

func sentences(left []instrument.LeftOut) string {
	var list []string
	for _, l := range left {
		list = append(list, l.Sentence())
	}
	return strings.Join(list, " ")
}
