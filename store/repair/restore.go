package repair

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"path/filepath"
	"strings"

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
	Written  uint64   // events that were once written, as far as any of the files shows; more than Events when some are missing
	Torn     error    // ErrTorn: the last line broke off and was dropped
	Fault    error    // the first event that is damaged or does not follow; everything before it is in the new book
	Mended   error    // what was wrong with the file that was named, and could be made good from what it holds behind or from the files beside
	Beyond   int      // sound events behind the fault, which could not be linked
	Also     []string // files beside that were read as well
	SetAside []string // files that stood in the way, kept under these names
}

// Missing says which events were written once and are not in the new book; both
// numbers are 0 when none is known to be missing.
func (rep *RestoreReport) Missing() (first, last uint64) {
	if rep.Written <= rep.Events {
		return 0, 0
	}
	return rep.Events + 1, rep.Written
}

// Restore builds the book bookPath from a journal, or from what is left of a
// damaged book file. Where that is short or damaged, the events that it lacks are
// taken from the files that belong to it: the book beside a journal, the journal
// beside a book, and what stands at bookPath. Nothing is written over: a damaged
// book of that name is kept under another one, a sound one that holds as much is
// ErrSound, a different one ErrExists. What breaks off or has a broken chain
// gives a book up to there, and the report says where and what is missing; the
// error is nil then. stage, which may be nil, is told how far each part of it is.
func Restore(from, bookPath string, stage Stage) (RestoreReport, error) {
	if stage == nil {
		stage = unwatched
	}
	rep := RestoreReport{From: from, Book: bookPath}
	if err := fault.Nameable(bookPath); err != nil {
		return rep, err
	}
	src, err := openRemains(from, stage)
	if err != nil {
		return rep, err
	}
	defer src.close()
	if src.journal || !isJournal(bookPath) {
		err = rep.survey(src)
	} else {
		err = &fault.Error{Path: bookPath, What: fault.ErrExists, Detail: "it is a journal", Do: "The journal comes first, then the book to build: readback restore " + fault.Quoted(bookPath) + " " + fault.Quoted(from)}
	}
	if err != nil {
		return rep, err
	}
	if err := mayReplace(bookPath, src.id, src.last); err != nil {
		return rep, err
	}
	disk.Sweep(bookPath)
	tmp, err := disk.FreePath(bookPath+".restoring-", "")
	if err != nil {
		return rep, err
	}
	begin := func(tx *bolt.Tx) error { return chain.WriteMeta(tx, src.id) }
	err = chain.Build(tmp, begin, func(db *bolt.DB) error {
		n, err := chain.FillChain(db, src.id, stage.told(src.records(), src.last))
		rep.Events = n
		if err == nil && n != src.last {
			err = fmt.Errorf("%d of %d events could be read the second time", n, src.last)
		}
		return err
	})
	if err != nil {
		_ = os.Remove(tmp)
		return rep, err
	}
	src.close()
	if err := rep.install(tmp, src.alone()); err != nil {
		return rep, err
	}
	return rep, writeJournal(bookPath, stage)
}

// survey walks the source once to learn how far it reaches, and brings in the
// files beside it where it does not hold all that was written.
func (rep *RestoreReport) survey(src *remains) error {
	if err := rep.walk(src); err != nil {
		return err
	}
	for _, path := range rep.beside() {
		if err := src.add(path); err == nil {
			rep.Also = append(rep.Also, path)
		}
	}
	if err := src.scan(); err != nil {
		return rep.unread(err)
	}
	rep.Written = max(src.last, src.scraps.written(src.id))
	if rep.Fault != nil || rep.Torn != nil || rep.Written > src.last || !src.journal {
		last, why, torn := src.last, rep.Fault, rep.Torn
		src.merged = true
		if err := rep.walk(src); err != nil {
			return err
		}
		if src.last == last { // nothing was won: the first answer says more
			rep.Fault, rep.Torn = why, torn
		} else {
			rep.Mended = errors.Join(why, torn)
		}
		rep.Written = max(src.last, src.scraps.written(src.id))
	}
	rep.Beyond = src.scraps.beyond(src.last)
	if src.last == 0 {
		return &fault.Error{Path: rep.From, What: fault.ErrNothing, Cause: errors.Join(rep.Fault, rep.Torn), Do: "Try the second journal, or a dated copy of the book"}
	}
	return nil
}

// walk goes through the events once and notes how far they reach and why they end.
// An error of the disk is no damage of what stands on it.
func (rep *RestoreReport) walk(src *remains) error {
	rep.Fault, rep.Torn, src.last = nil, nil, 0
	for r, err := range src.records() {
		switch {
		case errors.Is(err, fault.ErrTorn):
			rep.Torn = err
		case err != nil && !errors.As(err, new(*fault.Error)):
			return rep.unread(err)
		case err != nil:
			rep.Fault = err
		default:
			if r.Seq == 1 {
				src.id = r.Prev
			}
			src.last = r.Seq
		}
	}
	return nil
}

// unread words that the disk could not be read.
func (rep *RestoreReport) unread(err error) error {
	return &fault.Error{Path: rep.From, What: fault.ErrRead, Cause: err, Do: "Nothing was changed. Try once more; then copy the files to another disk and restore from there"}
}

// beside lists the files that belong to what is restored.
func (rep *RestoreReport) beside() (list []string) {
	for _, p := range []string{strings.TrimSuffix(rep.From, ".jsonl"), disk.JournalPath(rep.From), rep.Book, disk.JournalPath(rep.Book)} {
		known := SameFile(p, rep.From)
		for _, q := range list {
			known = known || SameFile(p, q)
		}
		if !known && disk.Regular(p) == nil && chain.BusyHere(p, true) == nil {
			list = append(list, p)
		}
	}
	return list
}

// isJournal says whether the file at path begins like a journal.
func isJournal(path string) bool {
	if disk.Regular(path) != nil {
		return false
	}
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	var first [1]byte
	n, _ := f.ReadAt(first[:], 0)
	return n == 1 && first[0] == '{'
}

// beginsAsJournal tells whether a file begins as a line of a journal does.
func beginsAsJournal(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	const line = `{"seq":`
	begin := make([]byte, len(line))
	_, err = io.ReadFull(f, begin)
	return err == nil && string(begin) == line
}

// lostItsName tells whether the book at path is the one of identity id whose own
// record of it is damaged: nothing in it belongs to the identity that it says, and
// the journal beside it begins with id.
func lostItsName(path string, said *ChainReport, id [32]byte) bool {
	if said.Events > 0 || said.Fault == nil && said.Index == nil {
		return false
	}
	f, err := os.Open(disk.JournalPath(path))
	if err != nil {
		return false
	}
	defer f.Close()
	for r, err := range journal.Read(f) {
		return err == nil && r.Prev == id
	}
	return false
}

// wasBook tells whether a file that cannot be read as a book is what is left of one:
// its journal stands beside it, or a head or an event stands where a book begins.
func wasBook(path string) bool {
	if isJournal(disk.JournalPath(path)) && !beginsAsJournal(path) {
		return true
	}
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	const begins = 1 << 18
	head, err := io.ReadAll(io.LimitReader(f, begins))
	if err != nil {
		return false
	}
	for _, sign := range []string{"\xed\x0c\xda\xed", "\xed\xda\x0c\xed", journal.Magic} {
		if bytes.Contains(head, []byte(sign)) {
			return true
		}
	}
	return false
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
	case r.InUse:
		return &fault.Error{Path: path, What: fault.ErrInUse, Do: "Close it there first"}
	case errors.Is(r.Unread, fault.ErrInUse), errors.Is(r.Unread, fault.ErrNewer):
		return r.Unread
	case r.Unread != nil && !wasBook(path):
		return &fault.Error{Path: path, What: fault.ErrExists, Detail: "it is no book", Do: "Choose another name for the book, or move the file away"}
	case r.Unread != nil:
		return nil
	case !r.Office && r.Chains[0].ID != id && lostItsName(path, &r.Chains[0], id):
		return nil
	case r.Office || r.Chains[0].ID != id:
		return &fault.Error{Path: path, What: fault.ErrExists, Detail: "it is another book than the one to be restored", Do: "Choose another name"}
	case r.Chains[0].Fault == nil && r.Chains[0].Events >= last:
		return &fault.Error{Path: path, What: fault.ErrSound, Detail: fmt.Sprintf("%d events, %d could be restored", r.Chains[0].Events, last), Do: "Choose another name to build a second book"}
	}
	return nil
}

// install puts the restored file tmp in its place, and what stands there aside.
// The journal of that place stays when it alone is what was restored from.
func (rep *RestoreReport) install(tmp string, alone bool) error {
	aside := []string{rep.Book}
	if !alone || rep.Fault != nil || rep.Torn != nil || !SameFile(rep.From, disk.JournalPath(rep.Book)) {
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

// remains is what a book can be restored from: a journal or a damaged book, and
// the files beside it.
type remains struct {
	files   []*os.File // the first is the one that was named
	sizes   []int64
	journal bool     // the first is one
	merged  bool     // all files are read, not the first alone
	scraps  *salvage // made by scan
	id      [32]byte
	last    uint64
	stage   Stage
}

// openRemains opens a journal or a book file to restore from.
func openRemains(path string, stage Stage) (*remains, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, &fault.Error{Path: path, What: fault.ErrNothing, Cause: err, Do: "Name the journal of the book, its second journal, or the damaged book itself"}
	}
	if !info.Mode().IsRegular() {
		return nil, &fault.Error{Path: path, What: fault.ErrNothing, Detail: "it is no regular file", Do: "Name the journal of the book"}
	}
	if err := chain.BusyHere(path, true); err != nil {
		return nil, err
	}
	s := &remains{journal: isJournal(path), stage: stage}
	if err := s.add(path); err != nil {
		return nil, fault.OpenError(path, err)
	}
	if !s.journal {
		s.merged = true
		if err := s.scan(); err != nil {
			s.close()
			return nil, fault.OpenError(path, err)
		}
	}
	return s, nil
}

// add opens one more file.
func (s *remains) add(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	info, err := f.Stat()
	if err != nil {
		_ = f.Close()
		return err
	}
	s.files, s.sizes = append(s.files, f), append(s.sizes, info.Size())
	return nil
}

// scan finds every sound event in all the files.
func (s *remains) scan() (err error) {
	s.scraps, err = scan(s.files, s.sizes, s.stage)
	return err
}

// records walks what is left, from event 1 to the first fault.
func (s *remains) records() iter.Seq2[journal.Record, error] {
	if s.merged {
		return s.scraps.records()
	}
	return journal.Read(&metered{io.NewSectionReader(s.files[0], 0, s.sizes[0]), "MB read", 0, s.sizes[0], s.stage})
}

// alone says whether the file that was named was enough.
func (s *remains) alone() bool { return !s.merged }

// close closes the files; it may be called again.
func (s *remains) close() {
	for _, f := range s.files {
		_ = f.Close()
	}
}
