package store

import (
	"errors"
	"time"

	bolt "go.etcd.io/bbolt"

	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
)

// AppendAll books several events in one transaction, all of them or none, and
// returns the newest event afterwards. It holds them in memory: some ten
// thousand at once are meant. Errors are those of Append; after one from the
// disk, Reopen tells by the identity of the last draft whether all are there.
//
// The book comes first and the journal after it: a journal that was ahead by
// some of them would be taken over at the next opening, and a part be booked.
func (b *Book) AppendAll(drafts []journal.Draft) (journal.Record, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if err := b.writable(); err != nil {
		return journal.Record{}, err
	}
	list := make([]journal.Record, 0, len(drafts))
	last := b.last
	for i := range drafts {
		r, err := b.seal(drafts[i], &last)
		if err != nil {
			return journal.Record{}, err
		}
		r.Hash = r.Sum()
		list, last = append(list, r), r
	}
	if len(list) == 0 {
		return b.last, nil
	}
	if b.opt.SlowWrite > 0 {
		time.Sleep(b.opt.SlowWrite)
	}
	if err := b.replaced(); err != nil {
		return journal.Record{}, b.rescue(err)
	}
	if err := b.writeAll(list, drafts); err != nil {
		return journal.Record{}, err
	}
	if err := b.replaced(); err != nil {
		return journal.Record{}, b.rescue(err)
	}
	for i := range list {
		b.jumped(&list[i])
		b.last = list[i]
	}
	b.setLast(last)
	b.second.begin(b)
	return last, nil
}

// writeAll writes the events into the book, then into the journal.
func (b *Book) writeAll(list []journal.Record, drafts []journal.Draft) error {
	var lines []byte
	err := b.h.Update(func(tx *bolt.Tx) error {
		c, err := b.In(tx)
		for i := 0; i < len(list) && err == nil; i++ {
			lines = journal.AppendLine(lines, list[i])
			err = c.Put(&list[i], journal.Encode(&list[i]), drafts[i].Digest)
		}
		return err
	})
	switch {
	case errors.Is(err, fault.ErrGone):
		return b.rescue(err)
	case err != nil:
		return b.fail(err, "")
	}
	if err := b.journal.Write(lines, &list[len(list)-1]); err != nil { // the lines it lacks are written at the next opening
		return b.fail(err, "journal "+b.journal.Path)
	}
	return nil
}
