package store

import (
	"errors"
	"fmt"
	"path/filepath"
)

// Open opens a book that is there; it never makes one. The file is looked at
// before it is trusted, its head is compared with the journal's last line, and
// the one that is behind catches up; see Opening. How long that takes does not
// depend on how many events there are. Errors: ErrNoBook, ErrNoDirectory,
// ErrNotABook, ErrEmpty, ErrTruncated, ErrDamaged, ErrInUse, ErrNewer,
// ErrDiffer, ErrNotAllowed, ErrNoSpace.
func Open(path string, o Options) (*Book, error) {
	o.fill()
	if err := busyHere(path, o.ReadOnly); err != nil {
		return nil, err
	}
	head, err := preflight(path, false)
	if err == nil {
		err = head.tree
	}
	if err != nil {
		return nil, err
	}
	var opening Opening
	if head.valid == 1 {
		opening.Notes = append(opening.Notes, "One of the two heads of the book file was unreadable; the other one served.")
	}
	b, err := open(path, o, opening)
	if err != nil {
		return nil, err
	}
	err = b.start()
	if err == nil && head.highWater <= fullCheckPages {
		b.walkSmall()
	}
	if err != nil {
		b.closed = true
		b.second.close()
		_ = b.journal.close()
		_ = b.h.close()
		return nil, err
	}
	return b, nil
}

// open opens the file and makes it the current format.
func open(path string, o Options, opening Opening) (*Book, error) {
	h, err := openHandle(path, o)
	if err != nil {
		return nil, err
	}
	m, err := h.readMetaBucket()
	if err == nil && m.format < formatCurrent && !o.ReadOnly {
		if err = h.close(); err == nil {
			err = migrate(path, m, &opening)
		}
		if err == nil {
			h, err = openHandle(path, o)
		}
	}
	var list []*Source
	if err == nil {
		list, err = h.sources(m, filepath.Base(path))
	}
	if err != nil {
		_ = h.close()
		return nil, asDamage(path, err)
	}
	own := &Source{id: m.id, name: filepath.Base(path), h: h}
	return &Book{Source: own, path: path, opt: o, h: h, sources: list, opening: opening}, nil
}

// asDamage turns an error without a sentinel into ErrDamaged.
func asDamage(path string, err error) error {
	var e *Error
	if errors.As(err, &e) {
		return err
	}
	return &Error{Path: path, What: ErrDamaged, Cause: err, Do: restoreAdvice(path)}
}

// start verifies the head and brings book, journal and copy together.
func (b *Book) start() error {
	b.state = Status{Path: b.path, Journal: JournalPath(b.path), ReadOnly: b.opt.ReadOnly}
	if b.Office() {
		return nil
	}
	last, err := b.checkHead()
	if err != nil {
		return asDamage(b.path, err)
	}
	b.setLast(last)
	if err := b.mendIndex(&last); err != nil {
		return asDamage(b.path, err)
	}
	if err := b.joinJournal(); isNoSpace(err) && !b.opt.ReadOnly {
		b.remark("The disk is full: the book can be looked at, and nothing can be booked until there is room.")
		_ = b.latch(err)
	} else if err != nil {
		return err
	}
	b.second = newSecond(b, b.opt.Copy)
	if b.failed == nil {
		if err := b.second.join(b); err != nil {
			return err
		}
	}
	if b.opt.ReadOnly {
		return nil
	}
	writeHolder(b.path, b.opt.Clock())
	b.holdReserve()
	return nil
}

// walkSmall proves every event of a small book while it is being opened, so
// that the booker hears of damage before it is met. It stops nothing: the last
// events are sound, and the journal holds them all.
func (b *Book) walkSmall() {
	for _, s := range b.sources {
		n, err := lastOf(s.Records())
		if err == nil {
			continue
		}
		b.opening.Fault = err
		b.remark("Event %d of %s is damaged in the book file. The other setups can be read and booking can go on; bring the book in order when the round is finished. %v.", n+1, s.name, err)
	}
}

// setLast makes r the newest acknowledged event.
func (b *Book) setLast(r Record) {
	b.last = r
	b.note(func(s *Status) { s.Events, s.Hash = r.Seq, r.Hash })
}

// headLinks is how many of the last events are proven and linked on opening.
const headLinks = 8

// checkHead reads the newest event and proves the last few links, and that the
// number kept in the parent page agrees: bbolt alone would show an older leaf
// without a word when a page was lost. For an empty book the record returned
// has number 0 and the identity as its hash.
func (b *Book) checkHead() (Record, error) {
	last := Record{Hash: b.id}
	err := b.view(func(c chain) error {
		k, _ := c.records.Cursor().Last()
		seq := seqOf(k)
		if n := c.records.Sequence(); n != seq {
			return &Error{Path: b.path, What: ErrDamaged, Detail: fmt.Sprintf("%d events were written, %d are found", n, seq), Do: restoreAdvice(b.path)}
		}
		from := uint64(1)
		if seq > headLinks {
			from = seq - headLinks
			r, err := b.get(c, from)
			if err != nil {
				return err
			}
			last, from = r, from+1
		}
		for n := from; n <= seq; n++ {
			r, err := b.get(c, n)
			if err != nil {
				return err
			}
			if err := r.follows(last.Seq, last.Hash); err != nil {
				return b.damaged(n, fmt.Errorf("%w: %w", ErrChain, err))
			}
			last = r
		}
		return nil
	})
	return last, err
}

// mendIndex makes the index anew when it does not know the newest event.
func (b *Book) mendIndex(last *Record) error {
	holds := true
	err := b.view(func(c chain) error { holds = c.indexHolds(last); return nil })
	if err != nil || holds || b.opt.ReadOnly {
		return err
	}
	b.remark("The index by setup did not agree with the events; it was made anew from them.")
	return b.rebuildIndex()
}

// holdReserve makes the reserve and notes how that went.
func (b *Book) holdReserve() {
	if b.opt.Reserve < 0 || b.opt.noReserve {
		return
	}
	err := holdReserve(b.path, b.opt.Reserve)
	b.note(func(s *Status) {
		if s.Reserve = err == nil; err != nil {
			s.ReserveError = err.Error()
		}
	})
}
