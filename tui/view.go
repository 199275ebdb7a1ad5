package tui

import (
	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/check/culprit"
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/tui/look"
)

// a view is what screens see: the setup at work, what follows from it, and how
// it is with the file. It is rebuilt by app after every change; screens read it
// and change nothing in it.
//
// What draws takes the part that it draws: rows, lists and forms a frame, pictures
// and tables the work, screens all of it.
type view struct {
	frame
	work
	file
	outside
	figures
	drilled
	last     string // what was booked last and what it showed
	lastBad  bool
	lastRead bool // it was a reading
	speaks   bool // the system has a speech command
	turned   bool // narrow pages show the mean instead of the reduced direction, the gradient instead of the altitude
	version  int  // goes up with every change of what a page shows
}

// a frame is the window and how it is painted.
type frame struct {
	w, h  int // of the window
	prefs preferences
	theme *look.Theme
}

// a file is how it is with what is written.
type file struct {
	status  Status
	saving  []uint64 // numbers of the events that are queued and not yet on disk
	failure *failure
	loading bool
}

// outside is the book around the setup at work, and what the next one begins with.
type outside struct {
	book      day.Book
	list      worklist
	first     spec.Spec             // the form of the first setup of a book begins with it
	lastSpec  spec.Spec             // of the newest setup: it fills the form of the next
	lastSetup int                   // its number, 0: there is none
	priorSpec spec.Spec             // of the setup before it
	today     string                // 2026-05-04
	wanted    *event.PlannedStation // chosen from the plan for the next setup
}

// figures are what commands worked out beside the setup.
type figures struct {
	text     loadedText
	standing []check.Check   // how the figures stand with this setup
	misses   []string        // what the figures hold against lifting its tripod
	sought   uint64          // last event of the setup in which the reading at fault was searched
	culprits culprit.Finding // what explains a misfit, as soon as it is found
}

// a drilled setup has its observer played.
type drilled struct {
	drill  bool
	called string // what the observer calls
	score  string // since the last lift
}

// a work is a setup with all that follows from it, worked out once per event.
type work struct {
	open     bool // there is a setup
	readOnly bool // looked back at: nothing can be booked
	setup    booking.Setup
	prompt   programme.Prompt
	slot     spec.Slot // the pointing that takes the reading
	asks     bool      // slot takes a reading now
	chosen   bool      // slot was chosen and is not the one that is called
	known    check.Known
	exp      check.Expectation
	red      reduction.Reduction
	verdict  check.Verdict
}

// workOut works a setup out. chosen is the pointing turned to by the booker, nil
// for the one that is called.
func workOut(s booking.Setup, known check.Known, chosen *spec.Slot, readOnly bool) work {
	w := work{open: s.Number != 0, readOnly: readOnly, setup: s, known: known}
	if !w.open {
		return w
	}
	w.prompt = programme.Expect(s)
	w.red = reduction.Of(s)
	w.verdict = check.JudgeReduction(s, w.red)
	switch {
	case readOnly && (chosen == nil || s.Lift == nil || s.Bookable(*chosen) != nil):
	case chosen != nil:
		w.slot, w.asks, w.chosen = *chosen, true, *chosen != w.prompt.Slot
	case w.prompt.Phase <= programme.InDistances:
		w.slot, w.asks = w.prompt.Slot, true
	}
	if w.asks {
		w.exp = check.Expect(s, w.slot, known)
	}
	return w
}

// isSaving tells whether the event is not yet known to be on disk.
func (f *file) isSaving(seq uint64) bool { return slices.Contains(f.saving, seq) }
