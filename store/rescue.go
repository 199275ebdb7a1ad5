package store

import (
	"errors"
	"fmt"
	"iter"
	"os"
	"path/filepath"

	"example.org/readback/store/chain"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
	"example.org/readback/store/proof"
	"example.org/readback/store/repair"
)

// rescue writes the whole log to a new book, because the file under the open
// one is no longer there, latches this one and says so.
func (b *Book) rescue(why error) error {
	e := &fault.Error{Path: b.path, What: fault.ErrGone, Cause: why}
	path, n, err := b.writeRescue()
	switch {
	case err != nil:
		e.Do = fmt.Sprintf("The events could not be written to a new file either (%v). Restore from the second journal", err)
	case n < b.last.Seq:
		e.Do = fmt.Sprintf("Only %d of %d events could be written to the new book %s; look for the rest in the second journal", n, b.last.Seq, path)
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
	for _, dir := range b.rescueDirs() {
		if dir == "" {
			continue
		}
		if path, err = proof.RescuePath(dir, b.path); err != nil {
			continue
		}
		if n, err = b.writeLog(path); err == nil {
			return path, n, nil
		}
	}
	return "", 0, err
}

// rescueDirs are the directories where a rescue may stand.
func (b *Book) rescueDirs() []string { return []string{filepath.Dir(b.path), b.opt.Copy, os.TempDir()} }

// checkStale refuses to book on in a file that was put back after its events had
// been rescued into another one, which holds more. Options.Stale is the
// confirmation that it is meant.
func (b *Book) checkStale() error {
	path, n := proof.Rescued(b.path, b.ID(), b.last.Seq, b.rescueDirs()...)
	if path == "" {
		return nil
	}
	what := fmt.Sprintf("%s holds %d events of this book, %d more than this file: they were rescued when the file vanished under the open book", path, n, n-b.last.Seq)
	if b.opt.Stale {
		b.remark("%s.", what)
		return nil
	}
	return &fault.Error{Path: b.path, What: fault.ErrStale, Detail: what,
		Do: "Go on in that one: readback book " + fault.Quoted(path) + ". To book in this file all the same: readback book " + fault.Quoted(b.path) + " --stale"}
}

// writeLog writes every event that can still be read to a new book at path:
// from the open file, which lives on without a name, or from the journal,
// whichever reaches further.
func (b *Book) writeLog(path string) (uint64, error) {
	fromBook, _ := chain.LastOf(b.Records())
	fromJournal, _ := chain.LastOf(b.fromJournal())
	from := b.Records()
	if fromJournal > fromBook {
		from = b.fromJournal()
	}
	return repair.WriteBook(path, b.ID(), from)
}

// fromJournal walks the journal through the file that is still open.
func (b *Book) fromJournal() iter.Seq2[journal.Record, error] {
	return journal.Read(b.journal.ReadAll())
}

// Reopen is the way on after a failed write: it closes what can be closed,
// opens the book again (or the new book that the log was rescued to), verifies
// its head, and tells whether the event with identity id is the newest one in
// it: that is, whether the Append that failed did happen after all.
func (b *Book) Reopen(id [16]byte) (again *Book, booked bool, err error) {
	path, o := b.path, b.opt
	if err := b.Close(); err != nil && !errors.Is(err, fault.ErrDead) {
		b.h.Kill(err)
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
