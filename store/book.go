package store

import (
	"path/filepath"
	"sync"
	"time"

	"example.org/readback/store/chain"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
)

// Options say how a book is created or opened. The zero value serves.
type Options struct {
	Copy      string           // directory of a second journal (a memory card); empty: none
	Stale     bool             // book on in a file although more of the book was rescued into another one
	Clock     func() time.Time // asked for the time of an event; nil: time.Now
	Reserve   int64            // bytes held beside the book for a full disk; 0: 1 MiB, negative: none
	LockWait  time.Duration    // how long to wait for another holder; 0: 300 ms
	SlowWrite time.Duration    // every booking waits so long before it writes; for trying out slow disks

	noReserve    bool           // set by Reopen: the space was just given up on purpose
	files        journal.Opener // the layer under the journals; nil: the operating system
	maxSize      int            // greatest size of the book file, for tests
	copyPatience time.Duration  // see second; 0: copyPatience
}

func (o *Options) fill() {
	if o.Clock == nil {
		o.Clock = time.Now
	}
	if o.LockWait == 0 {
		o.LockWait = chain.LockWait
	}
	if o.Reserve == 0 {
		o.Reserve = defaultReserve
	}
	if o.copyPatience == 0 {
		o.copyPatience = copyPatience
	}
	if o.files == nil {
		o.files = journal.OpenOS
	}
}

// A Book is an open book. Append, Close and the other writing methods may be
// called from one goroutine while others read; Head and Status answer at once
// even while a slow disk holds up an Append.
type Book struct {
	*chain.Source // the book's own chain; in an office book it answers ErrOffice

	path    string
	opt     Options
	h       *chain.File
	sources []*chain.Source
	opening Opening

	mu      sync.Mutex     // held through every write
	last    journal.Record // the newest acknowledged event; Seq 0 when there is none
	journal *journal.File
	second  *second
	latest  time.Time // of all events since the opening
	failed  error     // the latch
	closed  bool
	unnamed func() // takes the name of who has the book open away; nil: there is none

	stateMu sync.Mutex
	state   Status
}

// A CopyState tells how the second journal stands.
type CopyState uint8

// The states of the second journal.
const (
	CopyOff     CopyState = iota // no directory was named
	CopyWritten                  // it holds every event
	CopyBehind                   // it could not be written; booking goes on, it catches up by itself
)

// Status is what the screen wants to know about an open book.
type Status struct {
	Path, Journal string
	Events        uint64   // number of the last acknowledged event
	Hash          [32]byte // and its hash
	Copy          CopyState
	CopyPath      string
	CopyError     string        // why the copy is behind
	CopyBehind    uint64        // by how many events
	Reserve       bool          // space is held for a full disk
	ReserveError  string        // why not
	Failed        error         // the latch: why nothing more is booked until Reopen
	Rescue        string        // the book that the whole log was written to, when the file vanished
	ClockJumps    int           // how often the clock went back since the opening, by more than journal.ClockBack
	ClockBack     time.Duration // by how much the last event lies before an earlier one; 0: it does not
}

// Opening is what was found and mended when the book was opened.
type Opening struct {
	TakenOver       []journal.Record // the journal was ahead: events that were booked and not in the file; now they are
	JournalCaughtUp int              // events the journal lacked
	CopyCaughtUp    int              // events the second journal lacked
	MigratedFrom    int              // format the file had; 0 when it was the current one
	MigratedKept    string           // where the file in the old format was kept
	Fault           error            // a damaged event was found; only small books (some weeks of booking) are walked whole
	Notes           []string         // whole sentences for the booker
}

// Opening tells what was found and mended when the book was opened.
func (b *Book) Opening() Opening { return b.opening }

// Path is the file of the book.
func (b *Book) Path() string { return b.path }

// Office says whether the book was gathered from others.
func (b *Book) Office() bool { return b.Source.ID() == ([32]byte{}) }

// Head is the number and the hash of the last acknowledged event; number 0 and
// the identity of the book when there is none.
func (b *Book) Head() (seq uint64, hash [32]byte) {
	s := b.Status()
	return s.Events, s.Hash
}

// Status tells how the book stands. It never waits for the disk.
func (b *Book) Status() Status {
	b.stateMu.Lock()
	defer b.stateMu.Unlock()
	return b.state
}

// note changes the status.
func (b *Book) note(change func(*Status)) {
	b.stateMu.Lock()
	defer b.stateMu.Unlock()
	change(&b.state)
}

// SetDigests keeps summaries of groups that were made anew from their events.
// They are derived data and stand outside the chain.
func (b *Book) SetDigests(list []chain.Digest) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	if err := b.writable(); err != nil {
		return err
	}
	if err := b.Source.SetDigests(list); err != nil {
		return b.fail(err, "")
	}
	return nil
}

// SetCopy names another directory for the second journal, or none with "".
func (b *Book) SetCopy(dir string) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	if err := b.writable(); err != nil {
		return err
	}
	b.second.close()
	b.opt.Copy = dir
	b.note(func(s *Status) { s.Copy, s.CopyPath, s.CopyError, s.CopyBehind = CopyOff, "", "", 0 })
	b.second = newSecond(b, dir)
	b.second.begin(b)
	return nil
}

// writable says why nothing can be written, if so.
func (b *Book) writable() error {
	switch {
	case b.closed:
		return &fault.Error{Path: b.path, What: fault.ErrClosed}
	case b.Office():
		return &fault.Error{Path: b.path, What: fault.ErrOffice, Do: "Book in the field book and gather again"}
	case b.failed != nil:
		return &fault.Error{Path: b.path, What: fault.ErrLatched, Cause: b.failed}
	}
	return nil
}

// Close closes the book. It may be called again.
func (b *Book) Close() error {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.closed {
		return nil
	}
	b.closed = true
	b.second.close()
	err := b.journal.Close()
	if cerr := b.h.Close(); err == nil {
		err = cerr
	}
	b.unname()
	return err
}

// unname takes the name of who has the book open away.
func (b *Book) unname() {
	if b.unnamed != nil {
		b.unnamed()
		b.unnamed = nil
	}
}

// base is the file name of the book.
func (b *Book) base() string { return filepath.Base(b.path) }
