package main

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/alecthomas/kong"

	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/drill"
	"example.org/readback/cmd/internal/output"
	"example.org/readback/cmd/internal/program"
	"example.org/readback/cmd/internal/settings"
	"example.org/readback/cmd/internal/term"
	"example.org/readback/cmd/internal/usage"
	"example.org/readback/store/fault"
)

// Exit codes. They are part of the interface and stand in the README.
const (
	exitFine  = 0
	exitNo    = 1 // the answer is no: damage found, a write failed
	exitUsage = 2 // bad usage, or a bad input file
)

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
	l, err := newLine()
	if err != nil {
		return report(world, badInput(err))
	}
	return l.run(args, world)
}

// A line is the command line: what it may say, and what one call said.
type line struct {
	said     CLI
	parser   *kong.Kong
	defaults settings.Defaults // of this call: from the environment and the defaults file
}

// run does one call.
func (l *line) run(args []string, world *Context) int {
	out := output.NewHarmless(world.Out)
	c := &Context{In: world.In, Out: out, Err: output.NewHarmless(world.Err), Getenv: world.Getenv, errs: world.Err, args: args, app: l.parser.Model}
	c.screen, _ = world.Out.(*os.File)
	done := -1
	ctx, err := l.parse(c, func(code int) { done = code })
	var wrong *kong.ParseError
	switch {
	case done >= 0: // --help or --version was answered
		return done
	case errors.As(err, &wrong):
		if merr := mistyped(c, firstWord(args)); merr != nil {
			return report(c, merr)
		}
		what, see := usage.Sentences(err)
		fmt.Fprintf(c.Err, "readback: %s\nreadback: %s\n", c.oneLine(what), see)
		return exitUsage
	case err != nil:
		return report(c, badInput(err))
	}
	if err := mistyped(c, l.said.Book.File); err != nil {
		return report(c, err)
	}
	err = ctx.Run(c)
	if werr := out.Err(); err == nil && werr != nil {
		err = fmt.Errorf("cannot write to standard output: %w", werr)
	}
	return report(c, err)
}

// parse reads what c.args say. What they leave out comes from the environment and the
// defaults file.
func (l *line) parse(c *Context, exit func(code int)) (_ *kong.Context, err error) {
	if l.defaults, err = settings.LoadDefaults(c.Getenv); err != nil {
		return nil, err
	}
	c.defaults = l.defaults
	l.parser.Exit, l.parser.Stdout, l.parser.Stderr = exit, c.Out, c.Err
	return l.parser.Parse(c.args)
}

// newLine makes the command line.
func newLine() (*line, error) {
	l := &line{}
	parser, err := kong.New(&l.said,
		kong.Name("readback"),
		kong.Description("A live observation booker for theodolite crews."),
		kong.Vars{"version": program.Full()},
		kong.UsageOnError(),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.Resolvers(kong.ResolverFunc(func(ctx *kong.Context, _ *kong.Path, f *kong.Flag) (any, error) {
			if n := ctx.Selected(); n != nil && n.Name == "limits" && f.Name != "by" {
				return nil, nil // what it is given goes on record: only what is asked for
			}
			if v, ok := l.defaults.OfCall(f.Name); ok {
				return v, nil
			}
			return nil, nil
		})),
	)
	l.parser = parser
	return l, err
}

// mistyped refuses a word that is neither a command nor a book: a command keyed
// wrongly must not make a book of that name. A new book is made by the command
// book.
func mistyped(c *Context, file string) error {
	if file == "" || slices.Contains(c.args, "book") || slices.Contains(commandNames(c.app), file) {
		return nil
	}
	if _, err := os.Lstat(file); err == nil {
		return nil
	}
	if name := usage.Nearest(file, commandNames(c.app)); name != "" {
		return badInput(fmt.Errorf("%s is no command and no book: did you mean readback %s?", file, name))
	}
	return badInput(fmt.Errorf("%s is no command and no book; to begin a new book: readback book %s", file, file))
}

// firstWord is what stands where a command stands; empty where that is one.
func firstWord(args []string) string {
	if len(args) == 0 || strings.HasPrefix(args[0], "-") {
		return ""
	}
	return args[0]
}

// commandNames lists the commands.
func commandNames(app *kong.Application) []string {
	var names []string
	for _, leaf := range app.Leaves(true) {
		names = append(names, leaf.Name)
	}
	return names
}

// report prints an error and returns its exit code.
func report(c *Context, err error) int {
	if err == nil {
		return exitFine
	}
	if err.Error() != "" {
		fmt.Fprintln(c.Err, "readback:", c.oneLine(err.Error()))
	}
	if hint := c.hint(err); hint != "" {
		fmt.Fprintln(c.Err, "readback:", c.oneLine(hint))
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
		errors.Is(err, fault.ErrNoBook), errors.Is(err, fault.ErrNoDirectory), errors.Is(err, fault.ErrNotABook), errors.Is(err, fault.ErrDevice), errors.Is(err, fault.ErrNoName):
		return exitUsage
	}
	return exitNo
}
