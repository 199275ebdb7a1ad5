package main

import (
	"errors"
	"fmt"
	"os/exec"
	"runtime"
	"runtime/debug"
	"time"

	"example.org/readback/booking/event"
	"example.org/readback/cmd/internal/aloud"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/drill"
	"example.org/readback/cmd/internal/paper"
	"example.org/readback/cmd/internal/settings"
	"example.org/readback/cmd/internal/term"
	"example.org/readback/store"
	"example.org/readback/tui"
)

// A BookCmd opens a book and shows the booking screens.
type BookCmd struct {
	File string `arg:"" optional:"" help:"The book; it is made when it is not there. Without it your own default book is opened."`
	Copy string `help:"Folder (on a memory card) that keeps a second journal of every reading." placeholder:"DIR" type:"path"`
	About
	Stale  bool       `help:"Go on booking in a file although more of the book was rescued into another one."`
	Screen ScreenOpts `embed:""`

	SlowWrite time.Duration `help:"Wait so long before every writing, to try out how a slow disk feels." hidden:""`
}

// ScreenOpts are the options about the look of the screens.
type ScreenOpts struct {
	Theme string `help:"Theme of the screens: day, night, sixteen or plain. The choice made on the screen is remembered." enum:",day,night,sixteen,plain" default:""`
	ASCII bool   `help:"Draw no signs beyond ASCII: 123-45-06 and +-|." name:"ascii"`
}

// Help shows how it is called.
func (BookCmd) Help() string {
	return `Examples:
  readback
  readback book dam.readback
  readback book dam.readback --copy /media/card`
}

// Run opens the book and lets the booker work until they leave.
func (b *BookCmd) Run(c *Context) error {
	if err := term.Need(c.In, c.screen); err != nil {
		return err
	}
	file, note := b.File, ""
	if file == "" {
		var err error
		if file, err = settings.DefaultBook(c.Getenv); err != nil {
			return err
		}
		note = "This is your own book, " + file + "."
	}
	options, silence := screenOptions(c, b.Screen.Theme, b.Screen.ASCII)
	defer silence()
	first, err := paper.First(c.defaults.Of)
	if err != nil {
		return badInput(err)
	}
	options.First = &first
	s := session{file: file, note: note, options: options, about: b.About}
	s.store.Copy, s.store.Stale, s.store.SlowWrite = b.Copy, b.Stale, b.SlowWrite
	return s.run(c)
}

// A session is one run of the booking screens on one book.
type session struct {
	file    string
	store   store.Options
	begin   event.BookOpened // what a new book begins with
	options tui.Options
	note    string       // a sentence for the booker at the start
	voice   *drill.Voice // plays the observer of a drill; nil: a person does
	quiet   bool         // do not say what was booked
	about   About        // what is said of the book
}

// run opens the book, shows the screens and closes it: needTerminal was asked
// before. What was booked is said after the terminal has been given back.
func (s session) run(c *Context) error {
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // the heap is small and made anew at every reading
	l, err := book.Open(s.file, true, s.begin, s.store)
	if err != nil {
		return err
	}
	if err := s.describe(c, l); err != nil {
		return errors.Join(err, l.Close())
	}
	p := book.NewPort(l)
	p.Say(s.note)
	scr := &term.Screen{In: c.In, Out: c.screen, Book: s.file, Talkers: []term.Talker{p}}
	s.options.Ring = scr.Ring
	s.options.Remembered, s.options.Remember = settings.Choices()
	code, err := scr.Show(tui.New(p, s.options))
	n, cerr := p.Close(s.voice == nil && code == exitFine)
	if !s.quiet {
		fmt.Fprintf(c.Err, "readback: %s booked in %s\n", book.Events(n), p.Path())
	}
	switch {
	case err != nil:
		return err
	case cerr != nil:
		return cerr
	case code != exitFine:
		return &exitError{code: code}
	}
	return nil
}

// describe books what is said of the book. A book that cannot be written is opened
// to be read all the same, unless something was to be said of it.
func (s session) describe(c *Context, l *book.Ledger) error {
	if s.voice != nil || s.about == (About{}) && l.ReadOnly() {
		return nil
	}
	_, err := c.describe(l, s.about, "")
	return err
}

// screenOptions are the options common to every command that shows the screens, and
// what ends a figure that is still being read aloud when they close.
func screenOptions(c *Context, theme string, ascii bool) (o tui.Options, silence func()) {
	o = tui.Options{Now: time.Now, Theme: theme, ASCII: ascii, Getenv: c.Getenv}
	speech := aloud.Find(runtime.GOOS, exec.LookPath)
	if speech == nil {
		return o, func() {}
	}
	voice := aloud.New(speech)
	o.Say = voice.Say
	return o, voice.Close
}
