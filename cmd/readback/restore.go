package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"example.org/readback/booking/event"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/output"
	"example.org/readback/store"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
	"example.org/readback/store/repair"
)

// A RestoreCmd builds a book from a journal, or from a damaged book file.
type RestoreCmd struct {
	Journal string `arg:"" help:"The journal, or what is left of a book; - reads a journal from standard input."`
	Book    string `arg:"" help:"The book to build. Nothing is written over."`
}

// Help shows how it is called.
func (RestoreCmd) Help() string {
	return `Examples:
  readback restore dam.readback.jsonl dam-again.readback
  readback restore /media/card/dam.readback.jsonl dam-again.readback`
}

// Run restores and says what was found. Exit 0: whole, or whole but for a torn
// last line; 1: something was lost or nothing could be done; 2: there is nothing
// to restore from.
func (r *RestoreCmd) Run(c *Context) error {
	from, done, err := r.source(c)
	if err != nil {
		return err
	}
	defer done()
	stage, end := c.stages()
	defer end()
	rep, err := repair.Restore(from, r.Book, stage)
	end()
	if errors.Is(err, fault.ErrNothing) {
		return badInput(err)
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(c.Out, "%s restored into %s from %s.\n", book.Events(int(rep.Events)), rep.Book, rep.From)
	if rep.Mended != nil {
		fmt.Fprintf(c.Out, "%s was not whole (%v); what it lacked was found.\n", rep.From, rep.Mended)
	}
	for _, name := range rep.Also {
		fmt.Fprintf(c.Out, "Also read: %s\n", name)
	}
	for _, name := range rep.SetAside {
		fmt.Fprintf(c.Out, "A file stood in the way and was kept as %s.\n", name)
	}
	if rep.Torn != nil {
		fmt.Fprintf(c.Out, "%v\n", rep.Torn)
	}
	if err := c.summariseBook(rep.Book); err != nil {
		return err
	}
	if rep.Beyond > 0 {
		fmt.Fprintf(c.Out, "%s after the fault are sound but cannot be linked.\n", book.Events(rep.Beyond))
	}
	return shortfall(rep)
}

// stages watches a job of several stages, one line after the other.
func (c *Context) stages() (stage repair.Stage, end func()) {
	var p *output.Progress
	now, before := "", uint64(0)
	end = func() {
		if p != nil {
			p.End()
		}
	}
	return func(what string, done, total uint64) {
		if what != now || done < before {
			end()
			p = c.progress(what, int(total))
		}
		now, before = what, done
		p.Of(done, total)
	}, end
}

// source is the file to restore from: what comes through standard input is kept in
// one until the book is built.
func (r *RestoreCmd) source(c *Context) (path string, done func(), err error) {
	if r.Journal != "-" {
		return r.Journal, func() {}, nil
	}
	dir, err := os.MkdirTemp("", "readback-restore-")
	if err != nil {
		return "", nil, fmt.Errorf("cannot keep what standard input gives: %w", err)
	}
	done = func() { os.RemoveAll(dir) }
	path = filepath.Join(dir, "standard-input.jsonl")
	f, err := os.Create(path)
	if err == nil {
		_, err = io.Copy(f, c.In)
		err = errors.Join(err, f.Close())
	}
	if err != nil {
		done()
		return "", nil, fmt.Errorf("cannot keep what standard input gives: %w", err)
	}
	return path, done, nil
}

// shortfall says what is missing in the restored book; nil when nothing is known
// to be.
func shortfall(rep repair.RestoreReport) error {
	err := rep.Fault
	if err != nil {
		err = fmt.Errorf("what stands before the fault is saved, the rest is not: %w", err)
	}
	if first, last := rep.Missing(); last > 0 {
		err = errors.Join(err, fmt.Errorf("%w: %s; look for the second journal on the card", errShort, journal.Span(first, last)))
	}
	return err
}

// errShort is the outcome of a restoring that found that more had been written.
var errShort = errors.New("the restored book is short, these were written and are missing")

// summariseBook makes the summaries of all setups of a book anew, so that its work list
// opens at once.
func (c *Context) summariseBook(path string) error {
	l, err := book.Open(path, false, event.BookOpened{}, store.Options{Reserve: -1})
	if err != nil {
		return fmt.Errorf("the book is restored, but it does not open: %w", err)
	}
	defer l.Close()
	c.say(l.Notes())
	ns, err := l.Numbers()
	if err != nil {
		return err
	}
	p, done := c.progress("setups", len(ns)), 0
	defer p.End()
	for part := range slices.Chunk(ns, 500) {
		if err := l.Summarise(part); err != nil {
			return err
		}
		done += len(part)
		p.At(done)
	}
	return nil
}
