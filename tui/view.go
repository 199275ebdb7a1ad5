package tui

import (
	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/check/culprit"
	"example.org/readback/tui/look"
)

// a view is what screens see: the setup at work, what follows from it, and how
// it is with the file. It is rebuilt by app after every change; screens read it
// and change nothing in it.
type view struct {
	w, h      int      // of the window
	work               // the setup and what follows from it
	saving    []uint64 // numbers of the events that are queued and not yet on disk
	status    Status
	prefs     Preferences
	theme     *look.Theme
	book      booking.Book
	list      worklist
	last      string // what was booked last and what it showed
	lastBad   bool
	lastRead  bool   // it was a reading
	called    string // what the observer of a drill calls
	drill     bool
	speaks    bool // the system has a speech command
	text      loadedText
	failure   *failure
	standing  []check.Check // how the figures stand with this setup
	misses    []string      // what the figures hold against lifting its tripod
	score     string        // of a drill, since the last lift
	loading   bool
	first     booking.Spec            // the form of the first setup of a book begins with it
	lastSpec  booking.Spec            // of the newest setup: it fills the form of the next
	lastSetup int                     // its number, 0: there is none
	priorSpec booking.Spec            // of the setup before it
	today     string                  // 2026-05-04
	wanted    *booking.PlannedStation // chosen from the plan for the next setup
	turned    bool                    // narrow pages show the mean instead of the reduced direction, the gradient instead of the altitude
	sought    uint64                  // last event of the setup in which the reading at fault was searched
	culprits  culprit.Finding         // what explains a misfit, as soon as it is found
	version   int                     // goes up with every change of what a page shows
}

// a work is a setup with all that follows from it, worked out once per event.
type work struct {
	open     bool // there is a setup
	readOnly bool // looked back at: nothing can be booked
	setup    booking.Setup
	prompt   booking.Prompt
	slot     booking.Slot // the pointing that takes the reading
	asks     bool         // slot takes a reading now
	chosen   bool         // slot was chosen and is not the one that is called
	known    check.Known
	exp      check.Expectation
	red      booking.Reduction
	verdict  check.Verdict
}

// workOut works a setup out. chosen is the pointing turned to by the booker, nil
// for the one that is called.
func workOut(s booking.Setup, known check.Known, chosen *booking.Slot, readOnly bool) work {
	w := work{open: s.Number != 0, readOnly: readOnly, setup: s, known: known}
	if !w.open {
		return w
	}
	w.prompt = s.Expect()
	w.red = s.Reduce()
	w.verdict = check.JudgeReduction(s, w.red)
	switch {
	case readOnly && (chosen == nil || s.Lift == nil || s.Bookable(*chosen) != nil):
	case chosen != nil:
		w.slot, w.asks, w.chosen = *chosen, true, *chosen != w.prompt.Slot
	case w.prompt.Phase <= booking.InDistances:
		w.slot, w.asks = w.prompt.Slot, true
	}
	if w.asks {
		w.exp = check.Expect(s, w.slot, known)
	}
	return w
}

// isSaving tells whether the event is not yet known to be on disk.
func (v *view) isSaving(seq uint64) bool { return slices.Contains(v.saving, seq) }
