package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"

	"example.org/readback/store/chain"
	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
	"example.org/readback/store/repair"
)

// joinJournal opens the journal beside the book and brings the two together:
// the one that is behind catches up; when they differ the book is refused.
func (b *Book) joinJournal() error {
	path := disk.JournalPath(b.path)
	fresh := false
	if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) {
		fresh = true
	}
	j, err := journal.Open(b.opt.files, path, os.O_RDWR|os.O_CREATE)
	if errors.Is(err, fault.ErrBadLine) {
		if j, err = b.renewJournal(path, err); err != nil {
			return err
		}
	}
	if err != nil {
		return fault.OpenError(path, err)
	}
	b.journal = j
	if fresh {
		if err := disk.SyncDir(filepath.Dir(path)); err != nil {
			return fault.OpenError(path, err)
		}
		if b.last.Seq > 0 {
			b.remark("The journal %s was missing; it is written anew from the book.", filepath.Base(path))
		}
	}
	taken, caught, err := b.join(j)
	b.opening.TakenOver, b.opening.JournalCaughtUp = taken, caught
	return err
}

// renewJournal keeps a journal whose end cannot be read under another name and
// begins a new one; the book then writes all its events into it.
func (b *Book) renewJournal(path string, why error) (*journal.File, error) {
	aside, err := disk.SetAside(path)
	if err != nil {
		return nil, fault.OpenError(path, err)
	}
	b.remark("The end of the journal could not be read (%v). It is kept as %s, and a new one is written from the book; "+
		"if the book had lost its last events, they could not be seen in it.", why, filepath.Base(aside))
	return journal.Open(b.opt.files, path, os.O_RDWR|os.O_CREATE)
}

// remark adds a sentence to what the booker is told on opening.
func (b *Book) remark(format string, args ...any) {
	b.opening.Notes = append(b.opening.Notes, fault.Printable(fmt.Sprintf(format, args...)))
}

// join brings the book and the journal j together.
func (b *Book) join(j *journal.File) (taken []journal.Record, caught int, err error) {
	if len(j.Torn) > 0 {
		b.remark("The last line of %s broke off (%d bytes behind event %d); it is dropped.", filepath.Base(j.Path), len(j.Torn), j.Head.Seq)
	}
	if err := j.Mend(); err != nil {
		return nil, 0, fault.OpenError(j.Path, err)
	}
	taken, err = b.ahead(j)
	if err != nil {
		return nil, 0, err
	}
	if len(taken) > 0 {
		if err := b.takeOver(taken); err != nil {
			return nil, 0, fault.AsDamage(b.path, err)
		}
		b.remark("%s holds %s, which the book file did not have yet or had lost: taken over.",
			filepath.Base(j.Path), journal.Span(taken[0].Seq, taken[len(taken)-1].Seq))
	}
	caught, err = repair.Feed(j, b.Source, b.last.Seq)
	if err != nil {
		return taken, caught, fault.OpenError(j.Path, err)
	}
	return taken, caught, nil
}

// ahead compares book and journal where both reach and lists the events that
// only the journal has. ErrDiffer shows both sides.
func (b *Book) ahead(j *journal.File) ([]journal.Record, error) {
	if j.Head.Seq <= b.last.Seq {
		hash := b.last.Hash
		if j.Head.Seq == 0 {
			return nil, nil
		} else if j.Head.Seq < b.last.Seq {
			r, err := b.Record(j.Head.Seq)
			if err != nil {
				return nil, err
			}
			hash = r.Hash
		}
		if hash != j.Head.Hash {
			return nil, b.differ(j, j.Head.Seq, hash, j.Head.Hash)
		}
		return nil, nil
	}
	list, at, known, err := j.Since(b.last.Seq)
	if err != nil {
		return nil, &fault.Error{Path: j.Path, What: fault.ErrDiffer, Detail: fmt.Sprintf("the journal is ahead (event %d, the book ends at %d), and its lines between cannot be read",
			j.Head.Seq, b.last.Seq), Cause: err, Do: fault.RestoreAdvice(b.path)}
	}
	if known && at != b.last.Hash {
		return nil, b.differ(j, b.last.Seq, b.last.Hash, at)
	}
	if err := list[0].Follows(b.last.Seq, b.last.Hash); err != nil {
		return nil, &fault.Error{Path: b.path, What: fault.ErrDiffer, Detail: "journal " + j.Path, Cause: err, Do: differAdvice(b.path)}
	}
	return list, nil
}

// differ words that event seq is not the same in the book and in the journal.
func (b *Book) differ(j *journal.File, seq uint64, book, journal [32]byte) error {
	return &fault.Error{Path: b.path, What: fault.ErrDiffer, Detail: fmt.Sprintf("event %d has hash %x in the book and %x in %s", seq, book[:6], journal[:6], j.Path),
		Do: differAdvice(b.path)}
}

func differAdvice(book string) string {
	return "Do not book in it. Look at both with: readback audit " + fault.Quoted(book) +
		"; then move the wrong one away and open again, or restore from the journal under another name"
}

// takeOver writes events that the journal proved into the book.
func (b *Book) takeOver(list []journal.Record) error {
	for from := 0; from < len(list); from += chain.Batch {
		part := list[from:min(from+chain.Batch, len(list))]
		err := b.h.Update(func(tx *bolt.Tx) error {
			c, err := b.In(tx)
			if err != nil {
				return err
			}
			for i := range part {
				if err := c.Put(&part[i], journal.Encode(&part[i]), nil); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
		b.setLast(part[len(part)-1])
	}
	return nil
}
