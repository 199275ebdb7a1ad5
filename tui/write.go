package tui

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/readback/booking"
	"example.org/readback/booking/check/culprit"
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
)

// queued is an event that was given to the writer and not yet answered.
type queued struct {
	seq  uint64
	what string // in words, for the screen of a failed write
	read bool   // it is a reading: the observer can call it again
}

// a failure is a write that reported an error, from then until the booker goes
// on.
type failure struct {
	err    error
	seq    uint64
	what   string
	read   bool // what is that of a reading
	queue  []queued
	busy   bool // the file is being opened again
	done   bool // it was opened again and found answers
	found  Status
	reopen error // why it could not be opened again
}

// appendSetup folds an event into a setup and queues it. The fold comes first:
// what cannot have happened is never written.
func (a *app) appendSetup(s booking.Setup, number int, e event.Event) bool {
	entry := event.Entry{Seq: a.port.Next(), At: a.opts.Now(), Setup: number, Event: e}
	next, err := s.Apply(entry)
	if err != nil {
		a.notice = say{text: "Not booked: " + sentence(err), bad: true}
		return false
	}
	a.port.Append(entry, &next)
	a.v.setup = next
	a.enqueue(entry)
	return true
}

// appendBook queues an event of the book itself.
func (a *app) appendBook(e event.Event) {
	entry := event.Entry{Seq: a.port.Next(), At: a.opts.Now(), Event: e}
	a.port.Append(entry, nil)
	if b, err := a.v.book.Apply(entry); err == nil {
		a.v.book = b
	}
	if isOfFigures(e) {
		a.workDue, a.v.text = true, loadedText{which: figureText, loading: true}
	}
	a.enqueue(entry)
	a.v.last, a.v.lastBad, a.v.lastRead = said(e, a.v.setup.Spec.Order), false, false
}

func (a *app) enqueue(e event.Entry) {
	_, what := eventWords(e.Event, a.v.setup.Spec.Order)
	_, reading := e.Event.(event.ReadingBooked)
	a.queue = append(a.queue, queued{seq: e.Seq, what: what, read: reading})
	a.syncSaving()
	if a.opts.Drill != nil {
		a.opts.Drill.Booked(e)
		if _, lifted := e.Event.(event.Lifted); lifted {
			a.v.score = a.opts.Drill.Score()
			a.v.version++
		}
	}
}

func (a *app) syncSaving() {
	a.v.saving = a.v.saving[:0:0]
	for _, q := range a.queue {
		a.v.saving = append(a.v.saving, q.seq)
	}
	a.v.version++
}

// saved takes the events that are on disk out of the queue.
func (a *app) saved(seq uint64) {
	n := 0
	for _, q := range a.queue {
		if q.seq > seq {
			a.queue[n] = q
			n++
		}
	}
	a.queue = a.queue[:n]
	a.syncSaving()
	a.v.status = a.port.Status()
}

// saveFailed stops booking: nothing more is queued until the file was opened
// again and looked at.
func (a *app) saveFailed(m Written) {
	if a.v.failure != nil {
		return
	}
	f := &failure{err: m.Err, seq: m.Seq, queue: append([]queued(nil), a.queue...), what: fmt.Sprintf("event %d", m.Seq)}
	for _, q := range a.queue {
		if q.seq == m.Seq {
			f.what, f.read = q.what, q.read
		}
	}
	if a.home != nil {
		a.goHome()
	}
	a.v.failure, a.modal = f, nil
	a.show(onFailed)
}

// inFile is what was found in the file that was opened again.
type inFile struct {
	found Status
	book  day.Book
	setup booking.Setup // the one at work, empty where it is not in the file
}

func (a *app) reopenFile() tea.Cmd {
	f := a.v.failure
	if f == nil || f.busy {
		return nil
	}
	if f.done {
		return a.afterFailure()
	}
	f.busy = true
	port, n := a.port, a.v.setup.Number
	return reads(func() (m inFile, err error) {
		if m.found, err = port.Reopen(); err != nil {
			return m, err
		}
		if m.book, err = port.Book(); err == nil && n != 0 {
			m.setup, err = port.Setup(n)
		}
		return m, err
	}, (*app).reopened)
}

// reopened throws the state away, which is ahead of the file, and takes the one
// that was folded from it.
func (a *app) reopened(m inFile, err error) tea.Cmd {
	f := a.v.failure
	if f.busy, f.reopen = false, err; err != nil {
		return nil
	}
	f.done, f.found = true, m.found
	a.queue, a.chosen = nil, nil
	a.syncSaving()
	if a.v.setup.Number != 0 && m.setup.Number == 0 {
		a.lastNum--
	}
	a.v.book, a.v.setup = m.book, m.setup
	a.v.status = a.port.Status()
	a.v.last, a.v.lastBad = "", false
	a.rebuild()
	return nil
}

// afterFailure goes on at the pointing that the file says is next.
func (a *app) afterFailure() tea.Cmd {
	f := a.v.failure
	a.v.failure = nil
	a.v.last, a.v.lastBad = f.verdict()
	if a.workDue {
		return tea.Batch(a.show(onBooking), a.workAnew())
	}
	return a.show(onBooking)
}

// verdict says in one sentence what became of the reading that was being booked.
func (f *failure) verdict() (string, bool) {
	switch {
	case f.holds(f.seq):
		return "Booked after all: " + f.what + ".", false
	case f.read:
		return "Not booked: " + f.what + ". Have it read again.", true
	}
	return "Not in the book: " + f.what + ". Do it again.", true
}

// holds tells whether the reopened file holds an event: it is said to, or it was
// answered before and lies under the head.
func (f *failure) holds(seq uint64) bool {
	return slices.Contains(f.found.InFile, seq) || seq <= f.found.Head && !slices.Contains(f.found.Lost, seq)
}

// rebuild works the setup out anew after a change and tells the drill what is
// asked now.
func (a *app) rebuild() {
	before, asked := a.v.slot, a.v.asks
	a.v.readOnly = a.v.setup.Lift != nil || a.v.setup.Void != nil
	a.v.work = workOut(a.v.setup, a.v.known, a.chosen, a.v.readOnly)
	a.v.version++
	if a.v.sought != a.v.setup.LastSeq {
		a.v.culprits = culprit.Finding{}
	}
	if a.v.slot != before || !asked {
		a.again, a.v.called = 0, ""
	}
	a.desk.sync(&a.v)
	a.prompt()
}

// prompted is what the observer of a drill was asked for last.
type prompted struct {
	of    draftOf
	again int
}

// prompt has the observer of a drill call the pointing, once for each time it is
// asked for.
func (a *app) prompt() {
	now := prompted{draftOf{a.v.setup.Number, a.v.slot}, a.again}
	if a.opts.Drill == nil || !a.v.asks || now == a.prompted {
		return
	}
	a.prompted = now
	call, later := a.opts.Drill.Prompt(a.v.setup, a.v.slot, a.again)
	if call != "" {
		a.v.called = call
	}
	if later == nil {
		return
	}
	a.later = append(a.later, brings(later, func(a *app, call string) tea.Cmd {
		if call != "" && now == a.prompted {
			a.v.called = call
		}
		return nil
	}))
}
