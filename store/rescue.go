package store

import (
	"errors"
	"fmt"
	"iter"
	"os"
	"path/filepath"
	"strings"

	bolt "go.etcd.io/bbolt"
)

// rescue writes the whole log to a new book, because the file under the open
// one is no longer there, latches this one and says so.
func (b *Book) rescue(why error) error {
	e := &Error{Path: b.path, What: ErrGone, Cause: why}
	path, n, err := b.writeRescue()
	switch {
	case err != nil:
		e.Do = fmt.Sprintf("The events could not be written to a new file either (%v). Restore from the copy of the journal", err)
	case n < b.last.Seq:
		e.Do = fmt.Sprintf("Only %d of %d events could be written to the new book %s; look for the rest in the copy of the journal", n, b.last.Seq, path)
	default:
		e.Do = fmt.Sprintf("All %d events are in the new book %s. Go on in it", n, path)
	}
	if err == nil {
		b.note(func(s *Status) { s.Rescue = path })
	}
	return b.latch(e)
}

// writeRescue tries, in this order, the book's directory, the copy's and the
// one for temporary files.
func (b *Book) writeRescue() (path string, n uint64, err error) {
	ext := filepath.Ext(b.path)
	base := strings.TrimSuffix(b.base(), ext)
	for _, dir := range []string{filepath.Dir(b.path), b.opt.Copy, os.TempDir()} {
		if dir == "" {
			continue
		}
		if path, err = freePath(filepath.Join(dir, base+"-rescued-"), ext); err != nil {
			continue
		}
		if n, err = b.writeLog(path); err == nil {
			return path, n, nil
		}
	}
	return "", 0, err
}

// writeLog writes every event that can still be read to a new book at path:
// from the open file, which lives on without a name, or from the journal,
// whichever reaches further.
func (b *Book) writeLog(path string) (uint64, error) {
	fromBook, _ := lastOf(b.Records())
	fromJournal, _ := lastOf(b.fromJournal())
	from := b.Records()
	if fromJournal > fromBook {
		from = b.fromJournal()
	}
	return writeBook(path, b.id, from)
}

// fromJournal walks the journal through the file that is still open.
func (b *Book) fromJournal() iter.Seq2[Record, error] { return ReadJournal(b.journal.readAll()) }

// lastOf walks to the end and gives the last number, and why the walk ended.
func lastOf(records iter.Seq2[Record, error]) (uint64, error) {
	var last uint64
	for r, err := range records {
		if err != nil {
			return last, err
		}
		last = r.Seq
	}
	return last, nil
}

// writeBook makes a new book of identity id with the given events, up to the
// first fault, and its journal. It returns the number of the last event.
func writeBook(path string, id [32]byte, records iter.Seq2[Record, error]) (last uint64, err error) {
	if err := mayCreate(path); err != nil {
		return 0, err
	}
	begin := func(tx *bolt.Tx) error { return writeMeta(tx, id) }
	err = build(path, begin, func(db *bolt.DB) error {
		last, err = fillChain(db, id, records)
		return err
	})
	if err != nil {
		return 0, err
	}
	b, err := Open(path, Options{Reserve: -1}) // writes the journal
	if err != nil {
		return 0, err
	}
	return last, b.Close()
}

// fillBatch is how many events go into one transaction when a file is filled.
const fillBatch = 4096

// fillChain writes records behind each other into the chain id of db. A fault
// of the source ends it without an error: what stands before it is kept.
func fillChain(db *bolt.DB, id [32]byte, records iter.Seq2[Record, error]) (last uint64, err error) {
	next, stop := iter.Pull2(records)
	defer stop()
	s := &Source{id: id}
	for more := true; more && err == nil; {
		err = db.Update(func(tx *bolt.Tx) error {
			c, err := s.in(tx)
			if err != nil {
				return err
			}
			for range fillBatch {
				r, rerr, ok := next()
				if more = ok && rerr == nil; !more {
					return nil
				}
				if err := c.put(&r, encodeRecord(&r), nil); err != nil {
					return err
				}
				last = r.Seq
			}
			return nil
		})
	}
	return last, err
}

// Reopen is the way on after a failed write: it closes what can be closed,
// opens the book again (or the new book that the log was rescued to), verifies
// its head, and tells whether the event with identity id is the newest one in
// it: that is, whether the Append that failed did happen after all.
func (b *Book) Reopen(id [16]byte) (again *Book, booked bool, err error) {
	path, o := b.path, b.opt
	if err := b.Close(); err != nil && !errors.Is(err, ErrDead) {
		b.h.kill(err)
	}
	if s := b.Status(); s.Rescue != "" {
		path = s.Rescue
		if o.Copy != "" && filepath.Dir(path) == filepath.Clean(o.Copy) {
			o.Copy = ""
		}
	}
	o.noReserve = true
	again, err = Open(path, o)
	if err != nil {
		return nil, false, err
	}
	return again, again.last.Seq > 0 && again.last.ID == id, nil
}
