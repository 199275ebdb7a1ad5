package main

import (
	"path/filepath"
	"time"

	"example.org/readback/booking/page/sheet"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/output"
	"example.org/readback/cmd/internal/program"
)

// A SheetCmd prints setups as field-book pages.
type SheetCmd struct {
	Book   string `arg:"" help:"The book."`
	Setups []int  `arg:"" optional:"" help:"Numbers of the setups; none prints all."`
	Text   bool   `help:"Plain text for a terminal or a mail instead of HTML."`
	Width  int    `help:"Columns of the plain text." default:"80" placeholder:"N"`
	Annex  bool   `help:"After each setup a page with limits and their sources, precision and drawings."`
	Client string `help:"For whom, as it is to stand on the sheets; without it there is room to write." placeholder:"NAME"`
	Place  string `help:"Where, likewise." placeholder:"NAME"`
	UTC    bool   `help:"Print times in UTC instead of this machine's own zone." name:"utc"`
	Out    string `short:"o" help:"File to write; standard output when it is not given." placeholder:"FILE"`
}

// Run prints the sheet.
func (s *SheetCmd) Run(c *Context) error {
	picked, done, err := book.Choose(s.Book, s.Setups)
	if err != nil {
		return err
	}
	defer done()
	b := sheet.Binder{Name: filepath.Base(s.Book), Program: program.Version(), Printed: time.Now(), Zone: time.Local,
		Annex: s.Annex, Client: s.Client, Place: s.Place}
	if s.UTC {
		b.Zone = time.UTC
	}
	for sh, err := range picked.Sheets() {
		if err != nil {
			return err
		}
		b.Sheets = append(b.Sheets, sh)
	}
	out, err := output.Create(s.Out, c.Out)
	if err != nil {
		return err
	}
	defer out.Abandon()
	w := out.Writer
	if s.Out != "" {
		var stop func()
		w, stop = output.UntilSignal(w)
		defer stop()
	}
	if s.Text {
		err = b.Text(w, s.Width)
	} else {
		err = b.HTML(w)
	}
	if err != nil {
		return err
	}
	return out.Commit()
}
