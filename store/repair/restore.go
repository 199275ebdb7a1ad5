package repair

import (
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"

	"example.org/readback/store/chain"
	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
)

// A RestoreReport tells what Restore did.
type RestoreReport struct {
	From     string
	Book     string
	Events   uint64   // events in the new book
	Torn     error    // ErrTorn: the last line broke off and was dropped
	Fault    error    // the first event that is damaged or does not follow; everything before it is in the new book
	Beyond   int      // sound events behind the fault, which could not be linked (only known for a damaged book)
	SetAside []string // files that stood in the way, kept under these names
}

// Restore builds the book bookPath from a journal, or from what is left of a
// damaged book file. Nothing is written over: a damaged book of that name is
// kept under another one, a sound one that holds as much is ErrSound, a
// different one ErrExists. A journal that breaks off or has a broken chain
// gives a book up to there, and the report says where; the error is nil then.
func Restore(from, bookPath string) (RestoreReport, error) {
	rep := RestoreReport{From: from, Book: bookPath}
	src, err := openRemains(from)
	if err != nil {
		return rep, err
	}
	defer src.close()
	last, id, err := rep.survey(src)
	if err != nil {
		return rep, err
	}
	if err := mayReplace(bookPath, id, last); err != nil {
		return rep, err
	}
	disk.Sweep(bookPath)
	tmp, err := disk.FreePath(bookPath+".restoring-", "")
	if err != nil {
		return rep, err
	}
	begin := func(tx *bolt.Tx) error { return chain.WriteMeta(tx, id) }
	err = chain.Build(tmp, begin, func(db *bolt.DB) error {
		n, err := chain.FillChain(db, id, src.records())
		rep.Events = n
		return err
	})
	if err != nil {
		return rep, err
	}
	src.close()
	if err := rep.install(tmp); err != nil {
		return rep, err
	}
	return rep, writeJournal(bookPath)
}

// survey walks the source once to learn how far it reaches.
func (rep *RestoreReport) survey(src *remains) (last uint64, id [32]byte, err error) {
	for r, err := range src.records() {
		if errors.Is(err, fault.ErrTorn) {
			rep.Torn = err
		} else if err != nil {
			rep.Fault = err
		} else {
			if r.Seq == 1 {
				id = r.Prev
			}
			last = r.Seq
		}
	}
	rep.Beyond = src.beyond(last)
	if last == 0 {
		return 0, id, &fault.Error{Path: rep.From, What: fault.ErrNothing, Cause: errors.Join(rep.Fault, rep.Torn), Do: "Try the copy of the journal, or a dated copy of the book"}
	}
	return last, id, nil
}

// mayReplace says why the file at path must stay where it is, if so.
func mayReplace(path string, id [32]byte, last uint64) error {
	info, err := os.Lstat(path)
	if errors.Is(err, os.ErrNotExist) {
		if _, err := os.Stat(filepath.Dir(path)); err != nil {
			return &fault.Error{Path: path, What: fault.ErrNoDirectory, Detail: filepath.Dir(path), Do: "Make it first"}
		}
		return nil
	}
	if err != nil {
		return fault.OpenError(path, err)
	}
	if !info.Mode().IsRegular() {
		return &fault.Error{Path: path, What: fault.ErrExists, Detail: "it is no regular file", Do: "Choose another name for the book"}
	}
	if err := chain.BusyHere(path, false); err != nil {
		return err
	}
	r := Verify(path)
	switch {
	case errors.Is(r.Unread, fault.ErrInUse), errors.Is(r.Unread, fault.ErrNewer):
		return r.Unread
	case r.Unread != nil:
		return nil
	case r.Office || r.Chains[0].ID != id:
		return &fault.Error{Path: path, What: fault.ErrExists, Detail: "it is another book than the one to be restored", Do: "Choose another name"}
	case r.Chains[0].Fault == nil && r.Chains[0].Events >= last:
		return &fault.Error{Path: path, What: fault.ErrSound, Detail: fmt.Sprintf("%d events, %d could be restored", r.Chains[0].Events, last), Do: "Choose another name to build a second book"}
	}
	return nil
}

// install puts the restored file tmp in its place, and what stands there aside.
// A sound journal of that place stays: it is the one restored from.
func (rep *RestoreReport) install(tmp string) error {
	aside := []string{rep.Book}
	whole := rep.Fault == nil && rep.Torn == nil
	if !whole || !SameFile(rep.From, disk.JournalPath(rep.Book)) {
		aside = append(aside, disk.JournalPath(rep.Book))
	}
	for _, path := range aside {
		if _, err := os.Lstat(path); errors.Is(err, os.ErrNotExist) {
			continue
		}
		kept, err := disk.SetAside(path)
		if err != nil {
			return fault.OpenError(path, err)
		}
		rep.SetAside = append(rep.SetAside, kept)
	}
	if err := chain.GiveName(tmp, rep.Book); err != nil {
		return err
	}
	return disk.SyncDir(filepath.Dir(rep.Book))
}

// SameFile says whether two names lead to one file.
func SameFile(a, b string) bool {
	ai, aerr := os.Stat(a)
	bi, berr := os.Stat(b)
	return aerr == nil && berr == nil && os.SameFile(ai, bi)
}

// remains is what a book can be restored from: a journal or a damaged book.
type remains struct {
	path string
	f    *os.File
	size int64
	book *salvage // nil for a journal
}

// openRemains opens a journal or a book file to restore from.
func openRemains(path string) (*remains, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, &fault.Error{Path: path, What: fault.ErrNothing, Cause: err, Do: "Name the journal of the book, its copy, or the damaged book itself"}
	}
	if !info.Mode().IsRegular() {
		return nil, &fault.Error{Path: path, What: fault.ErrNothing, Detail: "it is no regular file", Do: "Name the journal of the book"}
	}
	if err := chain.BusyHere(path, true); err != nil {
		return nil, err
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fault.OpenError(path, err)
	}
	s := &remains{path: path, f: f, size: info.Size()}
	var first [1]byte
	if n, _ := f.ReadAt(first[:], 0); n == 1 && first[0] != '{' {
		if s.book, err = scanBook(f, info.Size()); err != nil {
			_ = f.Close()
			return nil, fault.OpenError(path, err)
		}
	}
	return s, nil
}

// records walks what is left, from event 1 to the first fault.
func (s *remains) records() iter.Seq2[journal.Record, error] {
	if s.book != nil {
		return s.book.records()
	}
	return journal.Read(io.NewSectionReader(s.f, 0, s.size))
}

// beyond counts the sound events behind number last.
func (s *remains) beyond(last uint64) int {
	if s.book == nil {
		return 0
	}
	return s.book.beyond(last)
}

func (s *remains) close() { _ = s.f.Close() }
