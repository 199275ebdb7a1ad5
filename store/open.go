package store

import (
	"fmt"
	"path/filepath"

	"example.org/readback/store/chain"
	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
	"example.org/readback/store/pages"
	"example.org/readback/store/repair"
)

// Open opens a book that is there; it never makes one. The file is looked at
// before it is trusted, its head is compared with the journal's last line, and
// the one that is behind catches up; see Opening. How long that takes does not
// depend on how many events there are. Errors: ErrNoBook, ErrNoDirectory,
// ErrNotABook, ErrEmpty, ErrTruncated, ErrDamaged, ErrInUse, ErrNewer,
// ErrDiffer, ErrNotAllowed, ErrNoSpace.
func Open(path string, o Options) (*Book, error) {
	o.fill()
	path = disk.Real(path)
	if o.Copy != "" && copyHere(o.Copy, path) {
		return nil, &fault.Error{Path: o.Copy, What: fault.ErrCopyHere, Do: "Name another one, on another disk or a card"}
	}
	if err := chain.BusyHere(path, false); err != nil {
		return nil, err
	}
	head, err := pages.Look(path, false)
	if err == nil {
		err = head.Tree
	}
	if err != nil {
		return nil, err
	}
	var opening Opening
	if head.Valid == 1 {
		opening.Notes = append(opening.Notes, "One of the two heads of the book file was unreadable; the other one served.")
	}
	b, err := open(path, o, opening)
	if err != nil {
		return nil, err
	}
	err = b.start()
	if err == nil && head.HighWater <= pages.FullCheckPages {
		b.walkSmall()
	}
	if err != nil {
		b.closed = true
		b.second.close()
		_ = b.journal.Close()
		_ = b.h.Close()
		return nil, err
	}
	return b, nil
}

// open opens the file and makes it the current format.
func open(path string, o Options, opening Opening) (*Book, error) {
	mode := chain.Mode{Wait: o.LockWait, MaxSize: o.maxSize}
	h, err := chain.OpenFile(path, mode)
	if err != nil {
		return nil, err
	}
	m, err := h.Meta()
	if err == nil && m.Format < chain.FormatCurrent {
		if err = h.Close(); err == nil {
			opening.MigratedFrom = m.Format
			opening.MigratedKept, err = repair.Migrate(path, m)
		}
		if err == nil {
			opening.Notes = append(opening.Notes, fmt.Sprintf("The book had format %03d and has format %03d now; the file as it was is kept as %s.", m.Format, chain.FormatCurrent, opening.MigratedKept))
			h, err = chain.OpenFile(path, mode)
		}
	}
	var list []*chain.Source
	if err == nil {
		list, err = h.Sources(m, filepath.Base(path))
	}
	if err != nil {
		_ = h.Close()
		return nil, fault.AsDamage(path, err)
	}
	own := chain.NewSource(m.Id, filepath.Base(path), h)
	return &Book{Source: own, path: path, opt: o, h: h, sources: list, opening: opening}, nil
}

// start verifies the head and brings book, journal and copy together.
func (b *Book) start() error {
	b.state = Status{Path: b.path, Journal: disk.JournalPath(b.path)}
	if b.Office() {
		return nil
	}
	last, err := b.CheckHead()
	if err != nil {
		return fault.AsDamage(b.path, err)
	}
	b.setLast(last)
	if err := b.mendIndex(&last); err != nil {
		return fault.AsDamage(b.path, err)
	}
	if err := b.joinJournal(); disk.IsNoSpace(err) {
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
	if err := b.checkStale(); err != nil {
		return err
	}
	b.tellClock()
	disk.Sweep(b.path)
	b.unname()
	b.unnamed = chain.WriteHolder(b.path, b.opt.Clock())
	b.holdReserve()
	return nil
}

// walkSmall proves every event of a small book while it is being opened, so
// that the booker hears of damage before it is met. It stops nothing: the last
// events are sound, and the journal holds them all.
func (b *Book) walkSmall() {
	for _, s := range b.sources {
		n, err := chain.LastOf(s.Records())
		if err == nil {
			b.checkIndex(s, n)
			continue
		}
		b.opening.Fault = err
		b.remark("Event %d of %s is damaged in the book file. The other setups can be read and booking can go on; bring the book in order when the round is finished. %v.", n+1, s.Name(), err)
	}
}

// checkIndex holds the index of a small book against its events and makes it anew
// where the two do not agree.
func (b *Book) checkIndex(s *chain.Source, events uint64) {
	err := s.CheckIndex(events)
	if err == nil || b.Office() || b.failed != nil {
		return
	}
	if rerr := s.RebuildIndex(); rerr != nil {
		b.opening.Fault = rerr
		b.remark("The index by setup does not agree with the events (%v) and could not be made anew: %v.", err, rerr)
		return
	}
	b.remark("The index by setup did not agree with the events (%v); it was made anew from them.", err)
}

// setLast makes r the newest acknowledged event.
func (b *Book) setLast(r journal.Record) {
	b.last = r
	b.note(func(s *Status) { s.Events, s.Hash = r.Seq, r.Hash })
}

// mendIndex makes the index anew when it does not know the newest event.
func (b *Book) mendIndex(last *journal.Record) error {
	holds := true
	err := b.View(func(c chain.Buckets) error { holds = c.IndexHolds(last); return nil })
	if err != nil || holds {
		return err
	}
	b.remark("The index by setup did not agree with the events; it was made anew from them.")
	return b.Source.RebuildIndex()
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

// tellClock says so when the newest event is younger than the clock's time: the
// clock went back, or was ahead when that event was booked.
func (b *Book) tellClock() {
	if s := journal.ClockSentence(b.opt.Clock(), b.last.At); s != "" && b.last.Seq > 0 {
		b.remark("%s", s)
	}
}
