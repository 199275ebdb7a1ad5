package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/alecthomas/kong"

	"example.org/readback/booking"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/drill"
	"example.org/readback/cmd/internal/output"
	"example.org/readback/cmd/internal/term"
	"example.org/readback/store"
	"example.org/readback/store/fault"
)

// Exit codes. They are part of the interface and stand in the README.
const (
	exitFine  = 0
	exitNo    = 1 // the thing itself says no: damage found, a write failed
	exitUsage = 2 // bad usage, or a bad input file
)

// A Context is what a command may use of the world.
type Context struct {
	In       *os.File
	Out, Err io.Writer
	Getenv   func(string) string

	screen *os.File  // Out where it is a file: the terminal of the screens; run sets it
	errs   io.Writer // Err as it is, for a line that is written over
	args   []string
}

// An exitError carries the exit code that belongs to an error.
type exitError struct {
	code int
	err  error
}

func (e *exitError) Error() string {
	if e.err == nil {
		return ""
	}
	return e.err.Error()
}

// Unwrap returns the error that has the code; nil for a code alone.
func (e *exitError) Unwrap() error { return e.err }

// badInput marks an error as the fault of a file or of the call: exit code 2.
func badInput(err error) error {
	if err == nil {
		return nil
	}
	return &exitError{code: exitUsage, err: err}
}

// run is the whole program: it parses args, does the command and returns the
// exit code. Errors go to c.Err as one sentence. What a command prints goes
// through a harmless writer; the screens have the terminal itself.
func run(args []string, world *Context) int {
	var cli CLI
	out := output.NewHarmless(world.Out)
	c := &Context{In: world.In, Out: out, Err: output.NewHarmless(world.Err), Getenv: world.Getenv, errs: world.Err, args: args}
	c.screen, _ = world.Out.(*os.File)
	done := -1
	parser, err := kong.New(&cli,
		kong.Name("readback"),
		kong.Description("A live observation booker for theodolite crews."),
		kong.Writers(c.Out, c.Err),
		kong.Exit(func(code int) { done = code }),
		kong.UsageOnError(),
	)
	if err != nil {
		fmt.Fprintln(c.Err, "readback:", err)
		return exitUsage
	}
	ctx, err := parser.Parse(args)
	if done >= 0 { // --help or --version was answered
		return done
	}
	if err != nil {
		what, see := usageSentences(err)
		fmt.Fprintf(c.Err, "readback: %s\nreadback: %s\n", what, see)
		return exitUsage
	}
	if err := mistyped(args, cli.Book.File); err != nil {
		return report(c, err)
	}
	err = ctx.Run(c)
	if werr := out.Err(); err == nil && werr != nil {
		err = fmt.Errorf("cannot write to standard output: %w", werr)
	}
	return report(c, err)
}

// mistyped refuses a word that is neither a command nor a book: a command keyed
// wrongly must not make a book of that name. A new book is made by the command
// book.
func mistyped(args []string, file string) error {
	if file == "" || slices.Contains(args, "book") {
		return nil
	}
	if _, err := os.Lstat(file); err == nil {
		return nil
	}
	return badInput(fmt.Errorf("%s is no command and no book; to begin a new book: readback book %s", file, file))
}

// choose opens a book for reading and says what opening it found, whatever the
// command is.
func (c *Context) choose(path string, numbers []int) (book.Chosen, func() error, error) {
	picked, done, err := book.Choose(path, numbers)
	if err != nil {
		return picked, done, err
	}
	c.say(picked.Notes)
	return picked, done, nil
}

// tie says at the end of a reading what it was made from.
func (c *Context) tie(picked book.Chosen) error {
	c.say(picked.Ties())
	return nil
}

// open opens a field book to write into, made when it is not there, and says what
// opening it found.
func (c *Context) open(path string) (*book.Ledger, error) {
	l, err := book.Open(path, true, booking.BookOpened{}, store.Options{})
	if err == nil {
		c.say(l.Notes())
	}
	return l, err
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
// a file may have a line feed in its name.
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
	return sentence
}

// report prints an error and returns its exit code.
func report(c *Context, err error) int {
	if err == nil {
		return exitFine
	}
	if err.Error() != "" {
		fmt.Fprintln(c.Err, "readback:", c.oneLine(err.Error()))
	}
	return codeOf(err)
}

// codeOf is the exit code that belongs to an error: bad usage and bad input are
// told from a book that says no.
func codeOf(err error) int {
	var e *exitError
	var f *book.FileError
	var r *output.Refused
	switch {
	case errors.As(err, &e):
		return e.code
	case errors.As(err, &f), errors.As(err, &r), errors.Is(err, book.ErrNoSetup), errors.Is(err, term.ErrNone), errors.Is(err, drill.ErrFieldBook),
		errors.Is(err, fault.ErrNoBook), errors.Is(err, fault.ErrNoDirectory), errors.Is(err, fault.ErrNotABook):
		return exitUsage
	}
	return exitNo
}
