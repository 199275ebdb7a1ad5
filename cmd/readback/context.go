package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strconv"
	"strings"
	"time"
	"unicode"

	"github.com/alecthomas/kong"

	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/exchange"
	"example.org/readback/booking/network"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/filekind"
	"example.org/readback/cmd/internal/output"
	"example.org/readback/cmd/internal/settings"
	"example.org/readback/store"
	"example.org/readback/store/fault"
)

// A Context is what a command may use of the world.
type Context struct {
	In       *os.File
	Out, Err io.Writer
	Getenv   func(string) string

	screen *os.File  // Out where it is a file: the terminal of the screens; run sets it
	errs   io.Writer // Err as it is, for a line that is written over
	args   []string

	defaults settings.Defaults // what the options take that are not given
	app      *kong.Application
}

// choose opens a book for reading and says what opening it found, whatever the
// command is.
func (c *Context) choose(path string, numbers []int) (book.Chosen, func() error, error) {
	picked, done, err := c.prove(path, numbers)
	if err != nil {
		return picked, done, err
	}
	c.say(picked.Notes)
	p := c.progress("setups", picked.Size())
	picked.Watch(p.At)
	return picked, func() error { p.End(); return done() }, nil
}

// flat is what the memory of reading a book, or a readings file, should stay under, so that what was thrown
// away is swept before more is taken: what lasts of a season needs about half.
const flat = 80 << 20

// prove opens a book for reading and says meanwhile how far it is.
func (c *Context) prove(path string, numbers []int) (book.Chosen, func() error, error) {
	p := c.progress("events", 0)
	defer p.End()
	before := debug.SetMemoryLimit(flat)
	picked, done, err := book.Choose(path, numbers, p.Of)
	if err != nil {
		debug.SetMemoryLimit(before)
		return picked, done, err
	}
	return picked, func() error { debug.SetMemoryLimit(before); return done() }, nil
}

// tie says at the end of a reading what it was made from.
func (c *Context) tie(picked book.Chosen) error {
	c.say(picked.Ties())
	return nil
}

// open opens a field book to write into, made when it is not there, and says what
// opening it found.
func (c *Context) open(path string) (*book.Ledger, error) {
	l, err := book.Open(path, true, event.BookOpened{}, store.Options{})
	if err == nil {
		c.say(l.Notes())
	}
	return l, err
}

// load books an event of the book itself, made from a file that was checked, and
// says what was loaded.
func (c *Context) load(path string, e event.Event, what string) error {
	l, err := c.open(path)
	if err != nil {
		return err
	}
	defer l.Close()
	if f, ok := e.(event.FiguresSet); ok {
		b, err := l.Book()
		if err != nil {
			return err
		}
		if err := network.Accepts(b.Figures, f); err != nil {
			return badInput(err)
		}
	}
	if err := l.Append(time.Now(), e); err != nil {
		return err
	}
	fmt.Fprintf(c.Out, "Loaded into %s: %s.\n", path, what)
	return nil
}

// eachBook lets print write what each of the books says, and says at the end how
// much of them was read and proven.
func (c *Context) eachBook(path string, print func(name string, ch book.Chapter, b day.Book) error) error {
	picked, done, err := c.choose(path, nil)
	if err != nil {
		return err
	}
	defer done()
	for _, ch := range picked.Chapters {
		b, err := ch.Book()
		if err != nil {
			return err
		}
		if err := print(ch.Name(picked), ch, b); err != nil {
			return err
		}
	}
	return c.tie(picked)
}

// json prints a document.
func (c *Context) json(document any) error {
	text, err := json.MarshalIndent(document, "", " ")
	if err == nil {
		_, err = c.Out.Write(append(text, '\n'))
	}
	return err
}

// hand lets print write what is handed over: to the file of the flags or to
// standard output.
func (c *Context) hand(f output.Flags, inputs []string, print func(*Context) error) error {
	return f.Write(c.Out, inputs, func(w io.Writer) error {
		to := *c
		to.Out = output.NewHarmless(w)
		return print(&to)
	})
}

// read reads a whole file; - is standard input.
func (c *Context) read(file string) ([]byte, error) {
	if file == "-" {
		return io.ReadAll(c.In)
	}
	return os.ReadFile(file)
}

// file reads a file that the command line names and says what is in it; either may
// fail, and then the input is bad. what is the file's words in a sentence.
func file[T any](c *Context, name, what string, parse func(text []byte, name string) (T, error)) (t T, err error) {
	text, err := c.read(name)
	if err != nil {
		return t, badInput(fmt.Errorf("cannot read the %s: %w", what, err))
	}
	if t, err = parse(text, name); err != nil {
		return t, badInput(err)
	}
	return t, nil
}

// inFile lets the faults that parse finds name the file.
func inFile[T any](parse func(text []byte) (T, error)) func([]byte, string) (T, error) {
	return func(text []byte, name string) (T, error) {
		t, err := parse(text)
		if err != nil {
			err = fmt.Errorf("%s: %w", name, err)
		}
		return t, err
	}
}

// say prints notes for who called the command.
func (c *Context) say(notes []string) {
	for _, note := range notes {
		fmt.Fprintln(c.Err, "readback:", c.oneLine(note))
	}
}

// progress watches a job of total things of a noun.
func (c *Context) progress(noun string, total int) *output.Progress {
	return output.StartProgress(c.errs, noun, total)
}

// oneLine keeps names that were given on the command line from breaking a sentence:
// a file may have a line feed in its name, or a character that turns the text round.
func (c *Context) oneLine(sentence string) string {
	for _, arg := range c.args {
		for i, r := range arg {
			if r != '\n' && r != '\r' {
				continue
			}
			before := arg[:i]
			if k := strings.LastIndexFunc(before, unicode.IsControl); k >= 0 {
				before = before[k+1:]
			}
			quoted := strings.Trim(strconv.QuoteRune(r), "'")
			sentence = strings.ReplaceAll(sentence, before+string(r), before+quoted)
		}
	}
	return fault.Printable(sentence)
}

// hint says which command takes a file that was given to another one.
func (c *Context) hint(err error) string {
	if !errors.Is(err, fault.ErrNotABook) && !errors.Is(err, exchange.ErrFile) {
		return ""
	}
	for _, arg := range c.args {
		kind, kerr := filekind.Of(arg)
		switch {
		case kerr != nil:
		case kind == filekind.Readings && errors.Is(err, fault.ErrNotABook):
			return fmt.Sprintf("%s is a readings file: readback import BOOK %s, or readback reduce %s", arg, arg, arg)
		case kind == filekind.Journal:
			return fmt.Sprintf("%s is a journal: readback restore %s BOOK", arg, arg)
		case kind == filekind.Book && errors.Is(err, exchange.ErrFile):
			return fmt.Sprintf("%s is a book: readback export %s", arg, arg)
		}
	}
	return ""
}
