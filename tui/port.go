package tui

import (
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/instrument"
	"example.org/readback/booking/network"
	"example.org/readback/booking/page"
	"example.org/readback/booking/spec"
)

// A Port is all that the screens ask of the world. Its calls are made on the
// goroutine of Update and return at once, except those that say otherwise; those
// are made in a command, on a goroutine of their own.
type Port interface {
	// Next returns the number that the next event will have.
	Next() uint64
	// Append queues an event on the one writer: its number is Next, and after is
	// its setup folded with it, nil for an event of the book itself. The answer
	// comes as a Written message through Program.Send. After one with an error nothing more is queued until Reopen has returned without an error.
	Append(e event.Entry, after *booking.Setup)

	// Book returns the fold of the book's own events. May be long.
	Book() (day.Book, error)
	// Setup returns the fold of one setup from the file. May be long.
	Setup(n int) (booking.Setup, error)
	// Summaries returns count setups from offset on, newest first, and how many
	// there are. May be long.
	Summaries(offset, count int) (list []day.Summary, total int, err error)

	// Status says which file is booked into and how it is.
	Status() Status
	// Reopen opens the file again after a write that failed, verifies it and says how
	// it is, and which of the queued events are in it. May be long.
	Reopen() (Status, error)

	// Known returns what is known of the setup's station beyond the setup itself:
	// an earlier occupation, coordinates. May be long.
	Known(s booking.Setup) check.Known
	// FigureReport returns the figures of the book, for their page and plan and for
	// what the verdict says of them before the tripod is lifted. May be long.
	// stop is asked while they are adjusted; true ends that, and the report is of no use.
	FigureReport(stop func() bool) (network.Report, error)
	// FigurePage returns what the plan of the book brings before anything is read, else
	// the net of the book laid onto its known stations. May be long.
	FigurePage(foreseen bool) (page.Page, error)
	// Instruments returns the history of each instrument. May be long.
	Instruments() ([]instrument.Instrument, error)

	// Digest reads a file and returns its size and its SHA-256 in hexadecimal. May
	// be long.
	Digest(path string) (bytes int64, sha256 string, err error)
}

// Status says where the book is and how it is.
type Status struct {
	Path     string // the book's file
	Journal  string // the journal beside it
	CopyDir  string // directory of the second journal, empty: none
	CopyNote string // what is wrong with the copy in one sentence, empty: nothing
	Clock    string // that the clock of this tablet went back, in one sentence, empty: it did not
	Head     uint64 // number of the last event known to be in the file
	Note     string // one more sentence for the booker, such as what was recovered on opening

	InFile []uint64 // from Reopen: numbers of the queued events that are in the file: booked
	Lost   []uint64 // from Reopen: numbers of the queued events that are not: not booked
}

// Written says what became of the event with this number. Without an error it is on
// disk, and every one before it; with one it may be in the file all the same: Reopen
// tells.
type Written struct {
	Seq uint64
	Err error
}

// Options are what the program tells the screens at the start.
type Options struct {
	Now   func() time.Time // the tablet's clock; must not be nil
	Theme string           // overrides the remembered theme, empty: does not
	ASCII bool             // overrides the remembered signs when true
	// Getenv reads the environment, to see what the terminal can show; nil means
	// a terminal of 256 colours.
	Getenv func(string) string
	First  *spec.Spec // the form of the first setup of a book begins with it; nil: spec.FirstSpec
	Setup  int        // setup to begin with; 0: the latest one that is open, else the work list
	Ring   func()     // rings the terminal's bell; nil: there is none
	// Remember keeps the choices about the screens, which are no part of the book, beyond
	// this run; nil: they end with it. Remembered is what it was given in an earlier one.
	Remember   func(choices []byte)
	Remembered []byte
	// Drill plays the observer in a drill; nil: the observer is a person.
	Drill interface {
		// Prompt says that the screen now asks for a pointing, again being how often the
		// observer was asked to read it again. It returns at once what he calls, or what
		// waits for it in a command: empty where another pointing was asked for first.
		Prompt(s booking.Setup, slot spec.Slot, again int) (call string, later func() string)
		// Booked says that an event was queued. It returns at once.
		Booked(e event.Entry)
		// Score is what the learner made of the drill so far, a few short lines. It returns
		// at once.
		Score() string
	}
	// Say speaks a text in a process of its own and returns at once, cutting off
	// what is being said; nil: the system has no speech command.
	Say func(text string)
}
