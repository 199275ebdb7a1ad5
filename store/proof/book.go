package proof

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"example.org/readback/store/chain"
	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
)

// A Book is a book that was read to its end and proven.
type Book struct {
	Path    string
	Office  bool
	InUse   bool      // another window books in it: it is read as it stood
	Sources []*Source // one in a field book, one for each gathered book in an office book
	Notes   []string  // what was found on opening, whole sentences for whoever reads

	close   []func() error
	watcher *watcher
}

// A Watch is told how many events of how many were read; total 0: not known.
type Watch func(done, total uint64)

// A watcher counts the events that are read, for who watches.
type watcher struct {
	watch       Watch
	done, total uint64
}

func (w *watcher) one() {
	if w.watch != nil {
		w.done++
		w.watch(w.done, w.total)
	}
}

// Open is OpenWatched without anybody who watches.
func Open(path string) (*Book, error) { return OpenWatched(path, nil) }

// OpenWatched reads the book at path to its end and proves it: every hash and link,
// the number of events kept beside them, and the newest event against the
// journal. Events that only the journal has are read from there. A book in which
// another window books is read from its journal, up to the last whole line.
// Nothing on the disk is changed. Errors: those of opening a book, and
// ErrDiffer.
func OpenWatched(path string, watch Watch) (*Book, error) {
	path = disk.Real(path)
	b := &Book{Path: path, watcher: &watcher{watch: watch}}
	h, m, err := chain.OpenToRead(path)
	if errors.Is(err, fault.ErrInUse) {
		if err := b.readInUse(err); err != nil {
			_ = b.Close()
			return nil, err
		}
		return b, nil
	}
	if err != nil {
		return nil, fault.AsDamage(path, err)
	}
	b.close = append(b.close, h.Close)
	b.Notes = append(b.Notes, h.Notes...)
	b.Office = m.Office
	list, err := h.Sources(m, filepath.Base(path))
	for i := 0; i < len(list) && err == nil; i++ {
		n, _ := list[i].Sequence() // walking says what is wrong with it
		b.watcher.total += n
	}
	for i := 0; i < len(list) && err == nil; i++ {
		var s *Source
		if s, err = walkFile(list[i], b.watcher); err == nil {
			b.Sources = append(b.Sources, s)
		}
	}
	compared := false
	if err == nil && !b.Office {
		compared, err = b.joinJournal()
	}
	if err == nil && h.OneHead && !compared {
		err = &fault.Error{Path: path, What: fault.ErrDamaged, Detail: "one of its two heads is unreadable, and without a journal nothing shows whether the last events are missing", Do: fault.RestoreAdvice(path)}
	}
	if err != nil {
		_ = b.Close()
		return nil, fault.AsDamage(path, err)
	}
	b.tellClock()
	b.tellRescue()
	return b, nil
}

// Span words a length of time for a sentence.
func Span(d time.Duration) string {
	if d >= 48*time.Hour {
		return fmt.Sprintf("%d days", d/(24*time.Hour))
	}
	return fmt.Sprintf("%d h %02d min", d/time.Hour, d%time.Hour/time.Minute)
}

// tellRescue names what was rescued of a field book after it had vanished, where
// that holds more.
func (b *Book) tellRescue() {
	if b.Office || len(b.Sources) != 1 {
		return
	}
	s := b.Sources[0]
	if path, n := Rescued(b.Path, s.id, s.last.Seq, filepath.Dir(b.Path), os.TempDir()); path != "" {
		b.note("%s holds %d events of this book, %d more than this file: it was rescued when the file vanished under the open book. Read that one.", path, n, n-s.last.Seq)
	}
}

// tellClock says of each chain how often and how far the clock went back, and of
// the newest event that this machine's clock stands before it.
func (b *Book) tellClock() {
	var newest time.Time
	defer func() {
		if s := journal.ClockSentence(time.Now(), newest); s != "" {
			b.note("%s", s)
		}
	}()
	for _, s := range b.Sources {
		if s.newest.After(newest) {
			newest = s.newest
		}
		if s.back > 0 {
			times := "once"
			if s.back > 1 {
				times = fmt.Sprintf("%d times", s.back)
			}
			b.note("In %s the clock went back %s, by up to %s; the events keep their order.", s.name, times, Span(s.farBack))
		}
	}
}

// Close gives the files back. It may be called again.
func (b *Book) Close() error {
	var err error
	for _, f := range b.close {
		err = errors.Join(err, f())
	}
	b.close = nil
	return err
}

// Events is how many events all chains have.
func (b *Book) Events() (n uint64) {
	for _, s := range b.Sources {
		n += s.last.Seq
	}
	return n
}

// note adds a sentence.
func (b *Book) note(format string, args ...any) {
	b.Notes = append(b.Notes, fault.Printable(fmt.Sprintf(format, args...)))
}

// readInUse reads the journal of a field book that is open elsewhere.
func (b *Book) readInUse(why error) error {
	s, err := b.walkJournal(true)
	if errors.Is(err, os.ErrNotExist) {
		return why
	}
	if err != nil {
		return fmt.Errorf("%w; and its journal cannot be read as it stands: %w", why, err)
	}
	b.InUse, b.Sources = true, []*Source{s}
	b.tellClock()
	b.note("The book is open in another window. It is read as it stands, up to %s.", s.upTo())
	return nil
}

// upTo names the newest event.
func (s *Source) upTo() string {
	if s.last.Seq == 0 {
		return "its beginning: there is no event yet"
	}
	return fmt.Sprintf("event %d of %s", s.last.Seq, s.last.At.UTC().Format(time.DateTime+" UTC"))
}

// joinJournal holds the book against its journal, and takes the journal in its
// place where that reaches further. It says whether there was one to compare.
func (b *Book) joinJournal() (compared bool, err error) {
	s := b.Sources[0]
	path := disk.JournalPath(b.Path)
	j, err := journal.Open(journal.OpenOS, path, os.O_RDONLY)
	if err != nil {
		b.note("The journal was not compared: %v.", err)
		return false, nil
	}
	head := j.Head
	_ = j.Close()
	if len(j.Torn) > 0 {
		b.note("The last line of %s breaks off (%d bytes behind event %d); it was never shown as saved.", filepath.Base(path), len(j.Torn), head.Seq)
	}
	if head.Seq <= s.last.Seq {
		return true, b.compare(s, head.Seq, head.Hash)
	}
	whole, err := b.walkJournal(false)
	if err != nil {
		return false, &fault.Error{Path: b.Path, What: fault.ErrDiffer, Cause: err, Do: fault.RestoreAdvice(b.Path),
			Detail: fmt.Sprintf("the journal is ahead (event %d, the book ends at %d), and it cannot be read whole", head.Seq, s.last.Seq)}
	}
	at := whole.id
	if s.last.Seq > 0 {
		r, err := whole.Record(s.last.Seq)
		if err != nil {
			return false, err
		}
		at = r.Hash
	}
	if whole.id != s.id || s.last.Seq > 0 && at != s.last.Hash {
		return false, differ(b.Path, s.last.Seq, s.last.Hash, at)
	}
	b.note("%s holds %s, which the book file does not have: read in from it. Open the book for booking, then it takes them over.",
		filepath.Base(path), journal.Span(s.last.Seq+1, whole.last.Seq))
	whole.name = s.name
	b.Sources[0] = whole
	return true, nil
}

// compare holds event seq of the book against the hash that the journal has.
func (b *Book) compare(s *Source, seq uint64, hash [32]byte) error {
	if seq == 0 {
		return nil
	}
	r, err := s.Record(seq)
	if err != nil {
		return err
	}
	if r.Hash != hash {
		return differ(b.Path, seq, r.Hash, hash)
	}
	return nil
}

func differ(path string, seq uint64, book, lines [32]byte) error {
	return &fault.Error{Path: path, What: fault.ErrDiffer, Detail: fmt.Sprintf("event %d has hash %x in the book and %x in its journal", seq, book[:6], lines[:6]),
		Do: "Look at both with: readback audit " + fault.Quoted(path)}
}

// walkFile proves a chain in a book file.
func walkFile(src *chain.Source, w *watcher) (*Source, error) {
	s := newSource(src.ID(), src.Name(), src.Record)
	s.kept = src
	for r, err := range src.Records() {
		if err != nil {
			return nil, err
		}
		s.add(&r)
		w.one()
	}
	n, err := src.Sequence()
	if err == nil && n != s.last.Seq {
		err = &fault.Error{Path: src.Path(), What: fault.ErrDamaged, Detail: fmt.Sprintf("%d events were written, %d are found", n, s.last.Seq), Do: fault.RestoreAdvice(src.Path())}
	}
	return s, err
}

// walkJournal proves the journal of the book from event 1 on. A torn last line is
// passed over; with growing set, whatever stands behind the last whole line is.
func (b *Book) walkJournal(growing bool) (*Source, error) {
	path := disk.JournalPath(b.Path)
	if err := disk.Regular(path); err != nil {
		return nil, err
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	b.close = append(b.close, f.Close)
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	l := &lines{path: path, f: f}
	s := newSource([32]byte{}, filepath.Base(b.Path), l.record)
	r := journal.NewReader(io.NewSectionReader(f, 0, info.Size()))
	r.Strict = true
	for {
		rec, err := r.Next()
		switch {
		case err == io.EOF, errors.Is(err, fault.ErrTorn):
			return s, nil
		case err != nil && growing && l.last(r, info.Size()):
			return s, nil
		case err != nil:
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		if rec.Seq == 1 {
			s.id = rec.Prev
		}
		l.add(r)
		s.add(&rec)
		b.watcher.one()
	}
}
