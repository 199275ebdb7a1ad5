package book

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/readback/booking"
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/store"
	"example.org/readback/store/proof"
	"example.org/readback/tui"
)

// A Port is what the screens see of the open book. It implements tui.Port.
type Port struct {
	mu      sync.Mutex
	l       *Ledger
	w       *writer
	next    uint64 // number the next event will have
	waiting []job  // queued, not answered yet
	failed  job    // the event whose writing failed
	saved   int    // events booked by writers that were stopped
	note    string // for the booker, from the opening

	send func(tea.Msg)
}

// NewPort starts the writer. send must be set with SendTo before the program
// runs.
func NewPort(l *Ledger) *Port {
	p := &Port{l: l, send: func(tea.Msg) {}, note: openingNote(l.st.Opening())}
	p.begin()
	return p
}

// Say puts a sentence for the booker before what was mended on opening.
func (p *Port) Say(note string) { p.note = strings.TrimSpace(note + " " + p.note) }

// begin starts a writer on the book as it is now.
func (p *Port) begin() {
	head, _ := p.l.st.Head()
	p.next, p.waiting = head+1, nil
	p.w = startWriter(p.l, p.answerSaved, p.answerFailed)
}

// SendTo names the program that gets the answers.
func (p *Port) SendTo(send func(tea.Msg)) { p.send = send }

// Next implements tui.Port.
func (p *Port) Next() uint64 {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.next
}

// Append implements tui.Port.
func (p *Port) Append(e event.Entry, after *booking.Setup) {
	if c, ok := e.Event.(event.CopySet); ok {
		c.Dir = fullPath(c.Dir)
		e.Event = c
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.next++
	p.note = "" // it has been on the screen since the opening
	j := job{id: newID(), entry: e, after: after}
	p.waiting = append(p.waiting, j)
	p.w.queue <- j
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

func (p *Port) answerSaved(seq uint64) {
	p.mu.Lock()
	var done job
	if len(p.waiting) > 0 && p.waiting[0].entry.Seq == seq {
		done, p.waiting = p.waiting[0], p.waiting[1:]
	}
	l := p.l
	p.mu.Unlock()
	if c, ok := done.entry.Event.(event.CopySet); ok {
		if err := l.st.SetCopy(c.Dir); err != nil {
			p.send(tui.Written{Seq: seq, Err: err})
			return
		}
	}
	p.send(tui.Written{Seq: seq})
}

func (p *Port) answerFailed(seq uint64, err error) {
	p.mu.Lock()
	if p.failed.entry.Event == nil {
		for _, j := range p.waiting {
			if j.entry.Seq == seq {
				p.failed = j
			}
		}
	}
	p.mu.Unlock()
	p.send(tui.Written{Seq: seq, Err: err})
}

// Reopen implements tui.Port: it ends the writer, opens the file again, verifies
// it and says which of the queued events are in it.
func (p *Port) Reopen() (tui.Status, error) {
	p.w.stop()
	p.mu.Lock()
	defer p.mu.Unlock()
	p.saved += p.w.count
	before := p.l.st.Path()
	st, _, err := p.l.st.Reopen(p.failed.id)
	if err != nil {
		p.w = startWriter(p.l, p.answerSaved, p.answerFailed)
		return tui.Status{}, err
	}
	p.l = newLedger(st)
	if failed := st.Status().Failed; failed != nil { // open to be looked at only: the disk is still full
		p.w = startWriter(p.l, p.answerSaved, p.answerFailed)
		return tui.Status{}, failed
	}
	head, _ := st.Head()
	found := tui.Status{Head: head, Note: openingNote(st.Opening())}
	if st.Path() != before {
		found.Note = strings.TrimSpace("Booking goes on in " + st.Path() + ". " + found.Note)
	}
	for _, j := range p.waiting {
		r, err := st.Record(j.entry.Seq)
		if err == nil && r.ID == j.id {
			found.InFile = append(found.InFile, j.entry.Seq)
		} else {
			found.Lost = append(found.Lost, j.entry.Seq)
		}
	}
	p.failed = job{}
	p.begin()
	return found, nil
}

// Close drains the writer, closes the book and returns how many events this run
// booked. With copy set, a run that booked something leaves a dated copy of the
// book beside it.
func (p *Port) Close(copy bool) (int, error) {
	p.w.stop()
	booked := p.saved + p.w.count
	var err error
	if copy && booked > 0 && p.l.st.Status().Failed == nil {
		_, err = p.l.st.DailyCopy("")
	}
	return booked, errors.Join(err, p.l.Close())
}

// Book implements tui.Port.
func (p *Port) Book() (day.Book, error) { return p.ledger().Book() }

// Setup implements tui.Port.
func (p *Port) Setup(n int) (booking.Setup, error) { return p.ledger().Setup(n) }

func (p *Port) ledger() *Ledger {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.l
}

// Summaries implements tui.Port.
func (p *Port) Summaries(offset, count int) ([]day.Summary, int, error) {
	l := p.ledger()
	last, err := l.src.LastGroup()
	if err != nil {
		return nil, 0, err
	}
	total := int(last)
	var list []day.Summary
	for n := total - offset; n >= 1 && len(list) < count; n-- {
		m, err := l.summary(n)
		if err != nil {
			return nil, total, err
		}
		list = append(list, m)
	}
	return list, total, nil
}

// Status implements tui.Port.
func (p *Port) Status() tui.Status {
	p.mu.Lock()
	st, note := p.l.st, p.note
	p.mu.Unlock()
	s := st.Status()
	t := tui.Status{Path: s.Path, Journal: s.Journal, CopyDir: s.CopyPath, Head: s.Events, Note: note}
	if s.Copy == store.CopyBehind {
		t.CopyNote = copyNote(s)
	}
	if s.ClockBack > 0 {
		t.Clock = fmt.Sprintf("The clock of this tablet went back by %s. Set it; the readings keep their order.", proof.Span(s.ClockBack))
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

// Digest implements tui.Port.
func (p *Port) Digest(path string) (int64, string, error) {
	path = fullPath(path)
	i, err := os.Stat(path) // before it is opened: a pipe would wait for a writer
	if err != nil {
		return 0, "", err
	}
	if !i.Mode().IsRegular() {
		return 0, "", fmt.Errorf("%s is no file that can be hashed: %w", path, fs.ErrInvalid)
	}
	f, err := os.Open(path)
	if err != nil {
		return 0, "", err
	}
	defer f.Close()
	h := sha256.New()
	n, err := io.Copy(h, f)
	if err != nil {
		return 0, "", fmt.Errorf("read %s: %w", path, err)
	}
	return n, hex.EncodeToString(h.Sum(nil)), nil
}

// ErrNoSetups is shown where a figure or a history needs a booked setup.
var ErrNoSetups = errors.New("no setup is booked yet")

// copyNote says how the second journal stands.
func copyNote(s store.Status) string {
	note := "The second journal cannot be written."
	if s.CopyBehind > 0 {
		note = fmt.Sprintf("The second journal is %s behind.", Events(int(s.CopyBehind)))
	}
	if s.CopyError != "" {
		note += " " + s.CopyError
	}
	return note
}

// Events counts events in words.
func Events(n int) string {
	if n == 1 {
		return "1 event"
	}
	return fmt.Sprintf("%d events", n)
}

// Path returns the file that is booked into: a rescue goes on in another one.
func (p *Port) Path() string { return p.ledger().path() }
