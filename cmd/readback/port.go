package main

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/readback/booking"
	"example.org/readback/store"
	"example.org/readback/tui"
)

// A port is what the screens see of the open book. It implements tui.Port.
type port struct {
	mu      sync.Mutex
	l       *ledger
	w       *writer
	next    uint64                // number the next event will have
	waiting []job                 // queued, not answered yet
	folds   map[int]booking.Setup // setups booked into in this run, as they will be
	failed  job                   // the event whose writing failed
	saved   int                   // events booked by writers that were stopped
	note    string                // for the booker, from the opening

	send  func(tea.Msg)
	prefs *preferences
}

// newPort starts the writer. send must be set with sendTo before the program
// runs.
func newPort(l *ledger, prefs *preferences) *port {
	p := &port{l: l, prefs: prefs, send: func(tea.Msg) {}, note: openingNote(l.st.Opening())}
	p.begin()
	return p
}

// say puts a sentence for the booker before what was mended on opening.
func (p *port) say(note string) { p.note = strings.TrimSpace(note + " " + p.note) }

// begin starts a writer on the book as it is now.
func (p *port) begin() {
	head, _ := p.l.st.Head()
	p.next, p.waiting, p.folds = head+1, nil, map[int]booking.Setup{}
	p.w = startWriter(p.l, p.answerSaved, p.answerFailed)
}

// sendTo names the program that gets the answers.
func (p *port) sendTo(send func(tea.Msg)) { p.send = send }

// Append implements tui.Port.
func (p *port) Append(setup int, at time.Time, e booking.Event) uint64 {
	if c, ok := e.(booking.CopySet); ok {
		c.Dir = fullPath(c.Dir)
		e = c
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	seq := p.next
	p.next++
	p.note = "" // it has been on the screen since the opening
	j := job{id: newID(), seq: seq, setup: setup, at: at, event: e}
	if setup > 0 {
		after, err := p.fold(setup, booking.Entry{Seq: seq, At: at, Setup: setup, Event: e})
		if err != nil {
			go p.send(tui.SaveFailed{Seq: seq, Err: err})
			return seq
		}
		j.after = &after
	}
	p.waiting = append(p.waiting, j)
	p.w.queue <- j
	return seq
}

// fullPath makes a typed directory one that is found again from everywhere: ~ is
// the home directory.
func fullPath(dir string) string {
	if dir == "" {
		return ""
	}
	if rest, ok := strings.CutPrefix(dir, "~"); ok && (rest == "" || os.IsPathSeparator(rest[0])) {
		if home, err := os.UserHomeDir(); err == nil {
			dir = home + rest
		}
	}
	if full, err := filepath.Abs(dir); err == nil {
		return full
	}
	return dir
}

// fold applies an entry to the setup as it will be when the queue is booked.
func (p *port) fold(n int, e booking.Entry) (booking.Setup, error) {
	s, ok := p.folds[n]
	if _, opens := e.Event.(booking.SetupOpened); !ok && !opens {
		var err error
		if s, err = p.l.Setup(n); err != nil {
			return s, err
		}
	}
	s, err := s.Apply(e)
	if err == nil {
		p.folds[n] = s
	}
	return s, err
}

func (p *port) answerSaved(seq uint64) {
	p.mu.Lock()
	var done job
	if len(p.waiting) > 0 && p.waiting[0].seq == seq {
		done, p.waiting = p.waiting[0], p.waiting[1:]
	}
	l := p.l
	p.mu.Unlock()
	if c, ok := done.event.(booking.CopySet); ok {
		if err := l.st.SetCopy(c.Dir); err != nil {
			p.send(tui.SaveFailed{Seq: seq, Err: err})
			return
		}
	}
	p.send(tui.Saved{Seq: seq})
}

func (p *port) answerFailed(seq uint64, err error) {
	p.mu.Lock()
	if p.failed.event == nil {
		for _, j := range p.waiting {
			if j.seq == seq {
				p.failed = j
			}
		}
	}
	p.mu.Unlock()
	p.send(tui.SaveFailed{Seq: seq, Err: err})
}

// Reopen implements tui.Port: it ends the writer, opens the file again, verifies
// it and says which of the queued events are in it.
func (p *port) Reopen() (tui.Reopened, error) {
	p.w.stop()
	p.mu.Lock()
	defer p.mu.Unlock()
	p.saved += p.w.count
	before := p.l.st.Path()
	st, _, err := p.l.st.Reopen(p.failed.id)
	if err != nil {
		p.w = startWriter(p.l, p.answerSaved, p.answerFailed)
		return tui.Reopened{}, err
	}
	p.l = &ledger{chapter: chapter{src: st.Source}, st: st}
	if failed := st.Status().Failed; failed != nil { // open to be looked at only: the disk is still full
		p.w = startWriter(p.l, p.answerSaved, p.answerFailed)
		return tui.Reopened{}, failed
	}
	head, _ := st.Head()
	found := tui.Reopened{Head: head, Note: openingNote(st.Opening())}
	if st.Path() != before {
		found.Note = strings.TrimSpace("Booking goes on in " + st.Path() + ". " + found.Note)
	}
	for _, j := range p.waiting {
		r, err := st.Record(j.seq)
		if err == nil && r.ID == j.id {
			found.InFile = append(found.InFile, j.seq)
		} else {
			found.Lost = append(found.Lost, j.seq)
		}
	}
	p.failed = job{}
	p.begin()
	return found, nil
}

// Close drains the writer, closes the book and returns how many events this run
// booked. With copy set, a run that booked something leaves a dated copy of the
// book beside it.
func (p *port) Close(copy bool) (int, error) {
	p.w.stop()
	booked := p.saved + p.w.count
	var err error
	if copy && booked > 0 && p.l.st.Status().Failed == nil {
		_, err = p.l.st.DailyCopy("")
	}
	return booked, errors.Join(err, p.l.Close())
}

// Book implements tui.Port.
func (p *port) Book() (booking.Book, error) { return p.ledger().Book() }

// Setup implements tui.Port.
func (p *port) Setup(n int) (booking.Setup, error) { return p.ledger().Setup(n) }

func (p *port) ledger() *ledger {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.l
}

// Summaries implements tui.Port.
func (p *port) Summaries(offset, count int) ([]booking.Summary, int, error) {
	l := p.ledger()
	last, err := l.src.LastGroup()
	if err != nil {
		return nil, 0, err
	}
	total := int(last)
	var list []booking.Summary
	for n := total - offset; n >= 1 && len(list) < count; n-- {
		m, err := l.Summary(n)
		if err != nil {
			return nil, total, err
		}
		list = append(list, m)
	}
	return list, total, nil
}

// Status implements tui.Port.
func (p *port) Status() tui.Status {
	p.mu.Lock()
	st, note := p.l.st, p.note
	p.mu.Unlock()
	s := st.Status()
	t := tui.Status{Path: s.Path, Journal: s.Journal, CopyDir: s.CopyPath, Head: s.Events, Note: note}
	if s.Copy == store.CopyBehind {
		t.CopyNote = copyNote(s)
	}
	return t
}

// openingNote puts what was mended on opening into one text.
func openingNote(o store.Opening) string {
	note := ""
	for _, n := range o.Notes {
		if note != "" {
			note += " "
		}
		note += n
	}
	return note
}

// Preferences implements tui.Port.
func (p *port) Preferences() tui.Preferences { return p.prefs.get() }

// SetPreferences implements tui.Port.
func (p *port) SetPreferences(v tui.Preferences) { p.prefs.set(v) }

// errNoSetups is shown where a figure or a history needs a booked setup.
var errNoSetups = errors.New("no setup is booked yet")
