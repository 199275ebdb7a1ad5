package main

import (
	"errors"
	"fmt"
	"io"
	"iter"
	"path/filepath"
	"time"

	"example.org/readback/booking/page/sheet"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/output"
	"example.org/readback/cmd/internal/program"
	"example.org/readback/cmd/internal/term"
	"example.org/readback/store/disk"
)

// A SheetCmd prints setups as field-book pages.
type SheetCmd struct {
	Book   string        `arg:"" help:"The book."`
	Setups []book.Ranges `arg:"" optional:"" help:"Numbers of the setups, such as 7 or 1-3,7; none prints all."`
	Text   bool          `help:"Plain text for a terminal or a mail instead of HTML."`
	Width  int           `help:"Columns of the plain text." default:"80" placeholder:"N"`
	Cover  bool          `help:"Before the setups a cover: stations with verdict and time, figures with closure and plan, instrument, crew, signatures."`
	File   []string      `help:"With --cover: a file that is handed over too, listed with its hash beside the book and its journal. May be given more than once." placeholder:"FILE" type:"path"`
	Annex  bool          `help:"After each setup a page with limits and their sources, precision and drawings."`
	Zone
	About
	output.Flags
}

// Help shows how it is called.
func (SheetCmd) Help() string {
	return `Examples:
  readback sheet dam.readback --cover -o dam.html
  readback sheet dam.readback --cover --file dam.csv --file dam.xml -o dam.html
  readback sheet dam.readback 1-3,7 --text --utc`
}

// Run prints the sheet.
func (s *SheetCmd) Run(c *Context) error {
	if err := s.Check(s.Book); err != nil {
		return err
	}
	picked, done, err := c.choose(s.Book, book.Numbers(s.Setups))
	if err != nil {
		return err
	}
	defer done()
	if len(s.File) > 0 && !s.Cover {
		return badInput(errors.New("--file lists what is handed over on the cover: add --cover"))
	}
	if !s.Text && s.ToStdout() && term.IsTerminal(c.screen) {
		return badInput(errors.New("HTML is not printed on a terminal: name a file with -o, or take --text"))
	}
	b := sheet.Binder{Name: filepath.Base(s.Book), Program: program.Version(), Printed: time.Now(), Zone: s.location(),
		Annex: s.Annex}
	b.Walk = s.printed(picked, c)
	if s.Cover {
		for sh, err := range b.Walk {
			if err != nil {
				return err
			}
			b.Sheets = append(b.Sheets, sh)
		}
		b.Walk = nil
		if b.Cover, err = s.cover(picked); err != nil {
			return err
		}
	}
	err = s.Write(c.Out, []string{s.Book}, func(w io.Writer) error {
		if s.Text {
			return b.Text(w, s.Width)
		}
		return b.HTML(w)
	})
	if err != nil {
		return err
	}
	return c.tie(picked)
}

// printed walks the setups that are printed. One that was struck whole is printed when
// its number is asked for.
func (s *SheetCmd) printed(picked book.Chosen, c *Context) iter.Seq2[sheet.Sheet, error] {
	return func(yield func(sheet.Sheet, error) bool) {
		for sh, err := range picked.Sheets() {
			if err == nil && sh.Setup.Void != nil && len(s.Setups) == 0 {
				continue
			}
			a := s.About.or(About{sh.Book.Job, sh.Book.Client, sh.Book.Place}).or(c.aboutDefaults())
			sh.Book.Job, sh.Book.Client, sh.Book.Place = a.Job, a.Client, a.Place
			if !yield(sh, err) || err != nil {
				return
			}
		}
	}
}

// cover ties the cover to the book: by the last event of one book. An office book
// has one for each of its books, which stand on their setups.
func (s *SheetCmd) cover(picked book.Chosen) (*sheet.Cover, error) {
	files, err := handedOver(append([]string{s.Book, disk.JournalPath(s.Book)}, s.File...))
	if err != nil || len(picked.Chapters) != 1 {
		return &sheet.Cover{Files: files}, err
	}
	last, err := picked.Chapters[0].Last()
	if err != nil {
		return nil, err
	}
	return &sheet.Cover{Files: files, LastSeq: last.Seq, Hash: fmt.Sprintf("%x", last.Hash)}, nil
}
