package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/filekind"
	"example.org/readback/store/repair"
)

// A GatherCmd brings several books into one office book.
type GatherCmd struct {
	Out   string   `arg:"" help:"The office book; it is made when it is not there."`
	Books []string `arg:"" help:"Books to gather, or folders of books. One gathered before adds only what is new."`
}

// Help shows how it is called.
func (GatherCmd) Help() string {
	return `Examples:
  readback gather office.readback north.readback south.readback
  readback gather office.readback inbox`
}

// Run gathers named books all or none. With a folder every book that can be gathered
// is, and those that cannot are named.
func (g *GatherCmd) Run(c *Context) error {
	books, folder, err := g.books()
	if err != nil {
		return err
	}
	got, err := c.gather(g.Out, books...)
	if err == nil {
		printGathered(c, got)
		return g.behind(c)
	}
	if !folder {
		return err
	}
	failed := 0
	for _, b := range books {
		got, err := c.gather(g.Out, b)
		if err != nil {
			failed++
			fmt.Fprintf(c.Out, "%s: NOT GATHERED: %v\n", b, err)
			continue
		}
		printGathered(c, got)
	}
	if failed < len(books) {
		err = g.behind(c)
	}
	return errors.Join(err, fmt.Errorf("%d of %d books were not gathered: what differs is named with each; the others are in %s", failed, len(books), g.Out))
}

// gather brings books into the office book and says meanwhile how far it is.
func (c *Context) gather(out string, books ...string) ([]repair.Gathered, error) {
	p := c.progress("kB", 0)
	defer p.End()
	return repair.Gather(out, func(done, total uint64) { p.Of(done>>10, total>>10) }, books...)
}

// dated is the name of the copy that a day of booking leaves.
var dated = regexp.MustCompile(`\.\d{4}-\d{2}-\d{2}\b`)

// books lists the files to gather: the books in a folder, but for the office book
// itself and dated copies of books that are there.
func (g *GatherCmd) books() (list []string, folder bool, err error) {
	for _, name := range g.Books {
		info, err := os.Stat(name)
		if err != nil || !info.IsDir() {
			list = append(list, name)
			continue
		}
		folder = true
		in, err := booksIn(name, g.Out)
		if err != nil {
			return nil, folder, err
		}
		if len(in) == 0 {
			return nil, folder, badInput(fmt.Errorf("there is no book in the folder %s", name))
		}
		list = append(list, in...)
	}
	return list, folder, nil
}

func booksIn(dir, office string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("cannot look into the folder: %w", err)
	}
	var list []string
	for _, e := range entries {
		path := filepath.Join(dir, e.Name())
		if strings.HasPrefix(e.Name(), ".") || repair.SameFile(path, office) {
			continue
		}
		if kind, err := filekind.Of(path); err == nil && kind == filekind.Book {
			list = append(list, path)
		}
	}
	return slices.DeleteFunc(list, func(path string) bool {
		original := dated.ReplaceAllString(path, "")
		return original != path && slices.Contains(list, original)
	}), nil
}

func printGathered(c *Context, got []repair.Gathered) {
	for _, b := range got {
		fmt.Fprintf(c.Out, "%s: %s, %d of them new, chain %x sound.\n", b.Book, book.Events(int(b.Events)), b.Added, b.ID[:8])
		for _, n := range b.Notes {
			fmt.Fprintf(c.Out, "  %s\n", n)
		}
	}
}

// behind names the crews whose books end on an earlier day than the latest one.
func (g *GatherCmd) behind(c *Context) error {
	picked, done, err := c.prove(g.Out, nil)
	if err != nil {
		return err
	}
	defer done()
	season, err := seasonOf(picked, false)
	if err != nil {
		return err
	}
	for _, b := range season.Books {
		if b.Behind && !b.Drill {
			day := b.LastDay
			if day == "" {
				day = "no day yet"
			}
			fmt.Fprintf(c.Out, "Behind: %s, last event %d on %s, hash %.16s.\n", b.Name, b.LastEvent, day, b.LastHash)
		}
	}
	return nil
}
