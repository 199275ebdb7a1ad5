package store

import (
	"errors"
	"fmt"
	"os"
)

// second is the journal's copy in another directory, often on a card that can
// be pulled out at any time. What happens to it never stops the booking; the
// status tells, and with every booking it is tried again until it has caught up.
type second struct {
	dir, path string
	j         *journal
}

func newSecond(b *Book, dir string) *second {
	if dir == "" || b.opt.ReadOnly {
		return nil
	}
	s := &second{dir: dir, path: CopyPath(dir, b.path)}
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
		s.behind(b, err)
		return nil
	}
	taken, caught, err := b.join(s.j)
	b.opening.TakenOver = append(b.opening.TakenOver, taken...)
	b.opening.CopyCaughtUp = caught
	if err != nil {
		s.behind(b, err)
	} else {
		s.upToDate(b)
	}
	if len(taken) == 0 {
		return nil
	}
	n, err := b.feed(b.journal) // what the copy gave the book, the journal needs too
	b.opening.JournalCaughtUp += n
	if err != nil {
		return openError(b.journal.path, err)
	}
	return nil
}

// open opens the file in the directory, which must be there: a missing one is
// a card that is not in.
func (s *second) open(b *Book) error {
	if info, err := os.Stat(s.dir); err != nil {
		return err
	} else if !info.IsDir() {
		return fmt.Errorf("%s is no directory", s.dir)
	}
	if s.path == JournalPath(b.path) {
		return fmt.Errorf("%s is the directory of the book itself", s.dir)
	}
	j, err := openJournal(b.opt.files, s.path, os.O_RDWR|os.O_CREATE)
	if err != nil {
		return err
	}
	s.j = j
	return nil
}

// append writes one line, or catches up when the copy was behind.
func (s *second) append(b *Book, line []byte, r *Record) {
	if s == nil {
		return
	}
	if s.j == nil || s.j.replaced() != nil || s.j.head.seq != r.Seq-1 {
		s.catchUp(b)
		return
	}
	if err := s.j.write(line, r); err != nil {
		s.behind(b, err)
		return
	}
	s.upToDate(b)
}

// catchUp opens the copy anew and appends what it lacks.
func (s *second) catchUp(b *Book) {
	if s == nil {
		return
	}
	_ = s.j.close()
	s.j = nil
	if err := s.open(b); err != nil {
		s.behind(b, err)
		return
	}
	if s.j.head.seq > b.last.Seq {
		s.behind(b, &Error{Path: s.path, What: ErrDiffer, Detail: fmt.Sprintf("it is ahead: event %d", s.j.head.seq)})
		return
	}
	_, err := b.ahead(s.j)
	if err == nil {
		err = s.j.mend()
	}
	if err == nil {
		_, err = b.feed(s.j)
	}
	if err != nil {
		s.behind(b, err)
		return
	}
	s.upToDate(b)
}

// behind notes that the copy could not be written and why.
func (s *second) behind(b *Book, err error) {
	var have uint64
	if s.j != nil {
		have = s.j.head.seq
	}
	_ = s.j.close()
	s.j = nil
	if errors.Is(err, os.ErrNotExist) {
		err = fmt.Errorf("%s is not there; is the card in? (%w)", s.dir, err)
	}
	b.note(func(st *Status) {
		if have == 0 && st.CopyBehind > 0 { // not known anew: one more than before
			have = b.last.Seq - min(b.last.Seq, st.CopyBehind+1)
		}
		st.Copy, st.CopyError, st.CopyBehind = CopyBehind, err.Error(), b.last.Seq-min(b.last.Seq, have)
	})
}

func (s *second) upToDate(b *Book) {
	b.note(func(st *Status) { st.Copy, st.CopyError, st.CopyBehind = CopyWritten, "", 0 })
}

func (s *second) close() {
	if s != nil {
		_ = s.j.close()
		s.j = nil
	}
}
