package main

import (
	"fmt"
	"io"
	"iter"
	"slices"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/exchange"
	"example.org/readback/booking/exchange/landxml"
	"example.org/readback/booking/exchange/reductions"
	"example.org/readback/booking/spec"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/output"
	"example.org/readback/cmd/internal/program"
	"example.org/readback/store/journal"
)

// ExportCmd writes what a book holds in an open format.
type ExportCmd struct {
	Book  []string `arg:"" help:"The book; several for sql and tables."`
	As    string   `help:"csv: every reading. directions: the final directions. json: the reductions. jsonl: the events. landxml: LandXML 1.2. sql: a stream for PostgreSQL. tables: a folder of CSV files with a manifest." enum:"csv,directions,json,jsonl,landxml,sql,tables" default:"csv"`
	Since string   `help:"With --as sql: send only what came after what the database holds: a file with the hash of the last event of each book, one a line; - is standard input." placeholder:"FILE"`
	output.Flags
}

// Help shows how it is called.
func (ExportCmd) Help() string {
	return `Examples:
  readback export dam.readback
  readback export dam.readback --as directions -o directions.csv
  readback export dam.readback --as landxml -o dam.xml --replace
  readback export east.readback west.readback --as sql | psql
  psql -Atc "select last_hash from readback.books" | readback export office.readback --as sql --since - | psql
  readback export office.readback --as tables -o season`
}

// Run writes the export. A file has its name only when it is whole.
func (x ExportCmd) Run(c *Context) error {
	switch {
	case x.Since != "" && x.As != "sql":
		return badInput(fmt.Errorf("--since goes with --as sql, not with --as %s", x.As))
	case x.As == "tables":
		return x.exportTables(c)
	case len(x.Book) > 1 && x.As != "sql":
		return badInput(fmt.Errorf("%d books are named: --as %s takes one; --as sql and --as tables take several", len(x.Book), x.As))
	}
	if err := x.Check(x.Book...); err != nil {
		return err
	}
	if x.As == "sql" {
		return x.exportSQL(c)
	}
	picked, done, err := c.choose(x.Book[0], nil)
	if err != nil {
		return err
	}
	defer done()
	if err := x.Write(c.Out, x.Book, func(w io.Writer) error { return x.write(w, picked, c) }); err != nil {
		return err
	}
	return c.tie(picked)
}

func (x ExportCmd) write(w io.Writer, b book.Chosen, c *Context) error {
	switch x.As {
	case "directions":
		return exportDirections(w, b.Folded())
	case "json":
		return exportJSON(w, b.Folded())
	case "jsonl":
		p := c.progress("events", b.Events())
		defer p.End()
		return exportEvents(w, b.Chapters, p)
	case "landxml":
		return exportLandXML(w, b)
	}
	return exportCSV(w, b.Folded())
}

// exportCSV writes every reading. Nothing is kept of a setup once it is written.
func exportCSV(w io.Writer, setups iter.Seq2[book.Outgoing, error]) error {
	out := exchange.NewWriter(w)
	for s, err := range setups {
		if err != nil {
			return err
		}
		write := out.Setup
		if s.Book.Drill {
			write = out.Drill
		}
		if err := write(s.Setup, exchange.Source{Name: s.Name, ID: s.ID}); err != nil {
			return err
		}
	}
	return out.Flush()
}

// hasReference tells whether the reference object of a setup was named by who
// observed: on paper without a horizontal reading it was not.
func hasReference(s booking.Setup) bool {
	return s.Spec.KeyedAfterwards == nil || slices.ContainsFunc(s.Readings, func(r booking.Reading) bool {
		return r.Slot.Quantity == spec.Horizontal
	})
}

func exportDirections(w io.Writer, setups iter.Seq2[book.Outgoing, error]) error {
	out, err := reductions.NewDirectionsWriter(w)
	if err != nil {
		return err
	}
	for s, err := range setups {
		if err != nil {
			return err
		}
		if err := out.Setup(s.Setup, exchange.Source{Name: s.Name, ID: s.ID}, s.Book.Drill); err != nil {
			return err
		}
	}
	return out.Flush()
}

func exportJSON(w io.Writer, setups iter.Seq2[book.Outgoing, error]) error {
	out := reductions.NewWriter(w)
	for s, err := range setups {
		if err != nil {
			return err
		}
		j := reductions.Of(s.Setup, hasReference(s.Setup))
		j.Drill, j.Book, j.BookName = s.Book.Drill, s.ID, s.Name
		j.Job, j.Client, j.Place = s.Book.Job, s.Book.Client, s.Book.Place
		if err := out.Setup(j); err != nil {
			return err
		}
	}
	return out.Close()
}

// exportEvents writes the events as the journal has them.
func exportEvents(w io.Writer, chapters []book.Chapter, p *output.Progress) error {
	var line []byte
	n := 0
	for _, ch := range chapters {
		for r, err := range ch.Records() {
			if err != nil {
				return err
			}
			line = journal.AppendLine(line[:0], r)
			if _, err := w.Write(line); err != nil {
				return err
			}
			n++
			p.At(n)
		}
	}
	return nil
}

func exportLandXML(w io.Writer, b book.Chosen) error {
	points, err := b.Points()
	if err != nil {
		return err
	}
	return landxml.Write(w, landxml.Document{
		Title: b.Title(), Program: program.Version(), Made: time.Now(), Sheets: b.Sheets(), Points: points,
	})
}
