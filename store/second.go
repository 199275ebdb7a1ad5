package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync/atomic"
	"time"

	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
	"example.org/readback/store/repair"
)

// second is the journal's copy in another directory, often on a card that can
// be pulled out, be full or hang at any time. What happens to it never stops
// the booking; the status tells, and with every booking it is tried again until
// it has caught up. One goroutine at a time works on it, who has the turn.
type second struct {
	dir, path string
	patience  time.Duration // how long a booking waits for the copy
	turn      chan struct{} // holds one token while nobody works on the copy
	gone      atomic.Bool   // closed; whoever still works on it has nothing to say any more
	have      atomic.Uint64 // events it was seen to hold
	j         *journal.File // nil while it is not open
}

// copyPatience is how long a booking waits for a card that does not answer.
const copyPatience = 500 * time.Millisecond

func newSecond(b *Book, dir string) *second {
	if dir == "" {
		return nil
	}
	s := &second{dir: dir, path: disk.CopyPath(dir, b.path), patience: b.opt.copyPatience, turn: make(chan struct{}, 1)}
	s.turn <- struct{}{}
	b.note(func(st *Status) { st.Copy, st.CopyPath = CopyBehind, s.path })
	return s
}

// join is the copy's part in opening a book: the copy can be the one that is
// ahead, when book and journal were both put back from an older state.
func (s *second) join(b *Book) error {
	if s == nil {
		return nil
	}
	if err := s.open(b); err != nil {
		s.behind(b, b.last.Seq, err)
		return nil
	}
	taken, caught, err := b.join(s.j)
	b.opening.TakenOver = append(b.opening.TakenOver, taken...)
	b.opening.CopyCaughtUp = caught
	if err != nil {
		s.behind(b, b.last.Seq, err)
	} else {
		s.upToDate(b, b.last.Seq)
	}
	if len(taken) == 0 {
		return nil
	}
	n, err := repair.Feed(b.journal, b.Source, b.last.Seq) // what the copy gave the book, the journal needs too
	b.opening.JournalCaughtUp += n
	if err != nil {
		return fault.OpenError(b.journal.Path, err)
	}
	return nil
}

// open opens the file in the directory, which must be there: a missing one is
// a card that is not in.
func (s *second) open(b *Book) error {
	if info, err := os.Stat(s.dir); err != nil {
		return err
	} else if !info.IsDir() {
		return fmt.Errorf("%s is no folder", s.dir)
	}
	if copyHere(s.dir, b.path) {
		return fault.ErrCopyHere
	}
	j, err := journal.Open(b.opt.files, s.path, os.O_RDWR|os.O_CREATE)
	if err != nil {
		return err
	}
	s.j = j
	return nil
}

// append writes the line of the newest event, or catches up when the copy was behind.
func (s *second) append(b *Book, line []byte, r *journal.Record) {
	if s == nil {
		return
	}
	now := b.picture()
	s.work(b, func() {
		if s.j == nil || s.j.Replaced() != nil || s.j.Head.Seq != r.Seq-1 {
			s.catchUp(b, now)
		} else if err := s.j.Write(line, r); err != nil {
			s.behind(b, r.Seq, err)
		} else {
			s.upToDate(b, r.Seq)
		}
	})
}

// begin lets a copy that was just named catch up.
func (s *second) begin(b *Book) {
	if s != nil {
		now := b.picture()
		s.work(b, func() { s.catchUp(b, now) })
	}
}

// picture is what the copy needs of the book as it stands now; booking may go on.
func (b *Book) picture() *Book {
	return &Book{Source: b.Source, path: b.path, opt: b.opt, h: b.h, last: b.last}
}

// work does something with the copy and waits for it, but not for ever: a card
// that hangs is left to itself, and is behind until it answers.
func (s *second) work(b *Book, do func()) {
	select {
	case <-s.turn:
	default:
		s.late(b)
		return
	}
	done := make(chan struct{})
	go func() {
		do()
		s.turn <- struct{}{}
		close(done)
	}()
	select {
	case <-done:
	case <-time.After(s.patience):
		s.late(b)
	}
}

// late notes that the copy has not answered yet.
func (s *second) late(b *Book) {
	s.say(b, func(st *Status) {
		st.Copy, st.CopyError = CopyBehind, s.path+" has not answered yet; booking goes on without it"
		st.CopyBehind = b.last.Seq - min(b.last.Seq, s.have.Load())
	})
}

// catchUp opens the copy anew and appends what it lacks of the book as in now.
func (s *second) catchUp(b, now *Book) {
	_ = s.j.Close()
	s.j = nil
	err := s.open(now)
	if err == nil && s.j.Head.Seq > now.last.Seq {
		err = &fault.Error{Path: s.path, What: fault.ErrDiffer, Detail: fmt.Sprintf("it is ahead: event %d", s.j.Head.Seq)}
	}
	if err == nil {
		_, err = now.ahead(s.j)
	}
	if err == nil {
		err = s.j.Mend()
	}
	if err == nil {
		_, err = repair.Feed(s.j, now.Source, now.last.Seq)
	}
	if err != nil {
		s.behind(b, now.last.Seq, err)
		return
	}
	s.upToDate(b, now.last.Seq)
}

// behind notes that the copy could not be brought to event last, and why.
func (s *second) behind(b *Book, last uint64, err error) {
	if s.j != nil {
		s.have.Store(s.j.Head.Seq)
	}
	_ = s.j.Close()
	s.j = nil
	if errors.Is(err, os.ErrNotExist) {
		err = fmt.Errorf("%s is not there; is the card in? (%w)", s.dir, err)
	}
	s.say(b, func(st *Status) {
		st.Copy, st.CopyError, st.CopyBehind = CopyBehind, fault.Printable(err.Error()), last-min(last, s.have.Load())
	})
}

// upToDate notes that the copy holds everything up to event last.
func (s *second) upToDate(b *Book, last uint64) {
	s.have.Store(last)
	s.say(b, func(st *Status) {
		if behind := st.Events - min(st.Events, last); behind > 0 { // it hung meanwhile
			st.Copy, st.CopyBehind = CopyBehind, behind
			return
		}
		st.Copy, st.CopyError, st.CopyBehind = CopyWritten, "", 0
	})
}

// say changes the status, unless another copy was named since.
func (s *second) say(b *Book, change func(*Status)) {
	b.note(func(st *Status) {
		if !s.gone.Load() {
			change(st)
		}
	})
}

// close ends the work on the copy. One that hangs is given up.
func (s *second) close() {
	if s == nil {
		return
	}
	s.gone.Store(true)
	select {
	case <-s.turn:
		_ = s.j.Close()
		s.j = nil
	case <-time.After(s.patience):
	}
}

// copyHere says whether dir is the directory of the book itself, by any name: a
// copy beside the journal protects nothing.
func copyHere(dir, book string) bool { return repair.SameFile(dir, filepath.Dir(book)) }
