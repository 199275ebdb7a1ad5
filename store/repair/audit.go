package repair

import (
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"path/filepath"
	"time"

	"example.org/readback/store/chain"
	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
	"example.org/readback/store/proof"
)

// A ChainReport tells what was found in one chain of events: in a book file,
// or in a journal.
type ChainReport struct {
	Path       string
	Name       string
	ID         [32]byte
	Events     uint64   // sound and linked, from event 1 on
	Hash       [32]byte // of the last of them
	Fault      error    // what is wrong with the event behind them; nil when nothing is
	Unseen     error    // why the file may not be read by this user: nothing is said against it
	Senseless  []error  // events whose hash and link are sound and which mean nothing, at most tellSenseless
	FaultEvent uint64   // and its number
	Torn       bool     // journals: the last line breaks off, which loses nothing that was acknowledged
	ClockBack  int      // how often the clock went back from one event to the next, by more than journal.ClockBack
	newest     time.Time
	Index      error // books: what is wrong with the derived index
}

// Checks say what an audit looks at besides the hashes and links.
type Checks struct {
	Copy string // directory of the second journal; empty: none
	// Each begins a check of a chain by who knows what its events mean, and
	// returns what is asked about every sound event in order; group reads the
	// events of a group. What it finds is a fault of that event. nil: none.
	Each  func(group func(n uint32) ([]journal.Record, error)) func(r *journal.Record) error
	Watch proof.Watch // nil: nobody
}

// A Report is the outcome of a full check of a book: every hash, every link,
// and the journals against the file, event by event.
type Report struct {
	Path    string
	Office  bool
	InUse   bool          // another window books in it: Chains is its journal as it stands, the book file was not looked at
	Unread  error         // why the book file could not be opened at all
	Remains *ChainReport  // then: the events that can still be found in it, up to the first that is missing
	Chains  []ChainReport // the book's own chain, or those gathered
	Journal *ChainReport  // nil when it was not looked at (office books)
	Copy    *ChainReport  // nil when no directory was named
	Differ  error         // the first event that the book and a journal hold differently, or one of them lacks
	Notes   []string

	oneHead     bool // one head of the file is unreadable: a journal that is ahead shows what went with it
	each        func(group func(n uint32) ([]journal.Record, error)) func(r *journal.Record) error
	watch       proof.Watch
	done, total uint64 // events read, for who watches
}

// Err sums the report up: nil when everything is sound.
func (r *Report) Err() error {
	list := []error{r.Unread}
	for i := range r.Chains {
		list = append(list, r.Chains[i].Fault, r.Chains[i].Index)
		list = append(list, r.Chains[i].Senseless...)
	}
	for _, j := range []*ChainReport{r.Journal, r.Copy} {
		if j != nil {
			list = append(list, j.Fault)
		}
	}
	return errors.Join(append(list, r.Differ)...)
}

// Unseen says which of the files could not be looked at; nil when all were.
func (r *Report) Unseen() (err error) {
	for _, j := range []*ChainReport{r.Journal, r.Copy} {
		if j != nil {
			err = errors.Join(err, j.Unseen)
		}
	}
	return err
}

// Verify checks the book at path and its journal in full. The time it takes
// grows with the number of events, the memory does not. Nothing is changed.
func Verify(path string) Report { return Audit(path, Checks{}) }

// Audit is Verify with more checks. A book that another window has open is
// audited as far as its journal goes.
func Audit(path string, k Checks) Report {
	path = disk.Real(path)
	r := Report{Path: path, each: k.Each, watch: k.Watch}
	h, m, err := chain.OpenToRead(path)
	if errors.Is(err, fault.ErrInUse) {
		r.auditInUse(err)
		return r
	}
	if err == nil {
		defer h.Close()
		r.Notes, r.oneHead = append(r.Notes, h.Notes...), h.OneHead
	}
	if err != nil {
		r.Unread = fault.AsDamage(path, err)
		r.lookForRemains()
	}
	r.Office = m.Office
	var list []*chain.Source
	if r.Unread == nil {
		if list, err = h.Sources(m, filepath.Base(path)); err != nil {
			r.Unread = fault.AsDamage(path, err)
		}
	}
	r.check(list, k.Copy)
	if r.Unread == nil && h.OneHead && !r.Office && (r.Journal.Fault != nil || r.Journal.Unseen != nil) || r.Unread == nil && r.Office && h.OneHead {
		r.Unread = &fault.Error{Path: path, What: fault.ErrDamaged, Detail: "one of its two heads is unreadable, and without a journal nothing shows whether the last events are missing", Do: fault.RestoreAdvice(path)}
	}
	return r
}

// auditInUse audits a book that is open elsewhere by its journal.
func (r *Report) auditInUse(why error) {
	b, err := proof.Open(r.Path)
	if err != nil || !b.InUse {
		r.Unread = why
		if err == nil {
			_ = b.Close()
		}
		return
	}
	defer b.Close()
	r.InUse, r.Notes = true, b.Notes
	for _, s := range b.Sources {
		c := ChainReport{Path: disk.JournalPath(r.Path), Name: s.Name(), ID: s.ID()}
		c.walk(s.Records(), s.Group, nil, r)
		r.Chains = append(r.Chains, c)
	}
}

// lookForRemains says which events are still whole in a damaged file.
func (r *Report) lookForRemains() {
	if !errors.Is(r.Unread, fault.ErrDamaged) && !errors.Is(r.Unread, fault.ErrTruncated) {
		return
	}
	src, err := openRemains(r.Path, unwatched)
	if err != nil {
		return
	}
	defer src.close()
	c := ChainReport{Path: r.Path}
	c.walk(src.records(), nil, nil, r)
	r.Remains = &c
}

// check walks all chains and journals. With an unread book only the journals are walked.
func (r *Report) check(list []*chain.Source, copyDir string) {
	var lines []*follower
	if !r.Office {
		r.Journal = &ChainReport{Path: disk.JournalPath(r.Path)}
		lines = append(lines, follow(r.Journal))
		if copyDir != "" {
			r.Copy = &ChainReport{Path: disk.CopyPath(copyDir, r.Path)}
			lines = append(lines, follow(r.Copy))
		}
	}
	for _, s := range list {
		n, _ := s.Sequence() // checkCounts says what is wrong with it
		r.total += n
	}
	for _, s := range list {
		c := ChainReport{Path: r.Path, Name: s.Name(), ID: s.ID()}
		c.walk(s.Records(), s.Group, lines, r)
		if c.Fault == nil {
			c.checkCounts(s)
		}
		r.Chains = append(r.Chains, c)
		if s := journal.ClockSentence(time.Now(), c.newest); s != "" {
			r.Notes = append(r.Notes, s)
		}
	}
	for _, f := range lines {
		f.finish(r)
	}
}

// tellSenseless is how many events that mean nothing are told of one chain.
const tellSenseless = 20

// walk proves a chain and lets the journals follow event by event.
func (c *ChainReport) walk(records iter.Seq2[journal.Record, error], group func(n uint32) ([]journal.Record, error), lines []*follower, r *Report) {
	c.Hash = c.ID
	means := func(*journal.Record) error { return nil }
	if r.each != nil && group != nil {
		means = r.each(group)
	}
	var at journal.Record
	var line []byte
	for rec, err := range records {
		if err != nil {
			c.Fault, c.FaultEvent = err, c.Events+1
			return
		}
		c.Events, c.Hash = rec.Seq, rec.Hash
		r.one()
		if at.Seq > 0 && at.At.Sub(rec.At) > journal.ClockBack {
			c.ClockBack++
		}
		at = rec
		if rec.At.After(c.newest) {
			c.newest = rec.At
		}
		if err := means(&rec); err != nil && len(c.Senseless) < tellSenseless {
			c.Senseless = append(c.Senseless, &fault.Error{Path: c.Path, What: fault.ErrSenseless, Detail: fmt.Sprintf("event %d", rec.Seq), Cause: err})
		}
		line = journal.AppendLine(line[:0], rec)
		for _, f := range lines {
			f.compare(&rec, line, r)
		}
	}
}

// one counts an event that was read, for who watches.
func (r *Report) one() {
	if r.watch != nil {
		r.done++
		r.watch(r.done, r.total)
	}
}

// checkCounts demands that the number kept beside the events agrees and that
// the index lists each event, and no other. An open book is booked in
// meanwhile, so there the numbers move and only a closed one is held to them.
func (c *ChainReport) checkCounts(s *chain.Source) {
	sequence, err := s.Sequence()
	if err == nil && sequence != c.Events {
		err = &fault.Error{Path: c.Path, What: fault.ErrDamaged, Detail: fmt.Sprintf("%d events were written, %d are found", sequence, c.Events), Do: fault.RestoreAdvice(c.Path)}
	}
	if err != nil {
		c.Fault, c.FaultEvent = err, c.Events+1
		return
	}
	if err := s.CheckIndex(c.Events); err != nil {
		c.Index = &fault.Error{Path: c.Path, What: fault.ErrDamaged, Detail: "the index by setup", Cause: err,
			Do: "No event is lost by that; the index is made anew when the book is opened, or with: " + fault.RestoreCommand(c.Path)}
	}
}

// A follower walks a journal beside the book.
type follower struct {
	c    *ChainReport
	f    *os.File
	j    *journal.Reader
	done bool
	met  bool   // it was compared with the book
	lag  uint64 // number of the first event that the book has and the journal lacks; 0: none
}

// follow opens the journal that c reports on.
func follow(c *ChainReport) *follower {
	f := &follower{c: c}
	err := disk.Regular(c.Path)
	if err == nil {
		f.f, err = os.Open(c.Path)
	}
	if disk.IsNotAllowed(err) {
		c.Unseen, f.done = fault.ReadError(c.Path, err), true
		return f
	}
	if err != nil {
		c.Fault, f.done = err, true
		return f
	}
	f.j = journal.NewReader(f.f)
	f.j.Strict = true
	return f
}

// step reads the next line; ok is false behind the last one.
func (f *follower) step(line []byte, proven *journal.Record) (rec journal.Record, ok bool) {
	if f.done {
		return rec, false
	}
	rec, err := f.j.NextProven(line, proven)
	switch {
	case err == nil:
		if f.c.Events == 0 {
			f.c.ID = rec.Prev
		}
		f.c.Events, f.c.Hash = rec.Seq, rec.Hash
		return rec, true
	case errors.Is(err, fault.ErrTorn):
		f.c.Torn = true
	case err != io.EOF:
		f.c.Fault, f.c.FaultEvent = fmt.Errorf("%s: %w", f.c.Path, err), f.c.Events+1
	}
	f.done = true
	_ = f.f.Close()
	return rec, false
}

// compare reads the line of event rec and holds it against the book's.
func (f *follower) compare(rec *journal.Record, line []byte, r *Report) {
	f.met = true
	was := f.done
	got, ok := f.step(line, rec)
	switch {
	case r.Differ != nil || was:
	case !ok && f.c.Fault == nil:
		f.lag = rec.Seq
	case ok && got.Hash != rec.Hash:
		r.Differ = &fault.Error{Path: f.c.Path, What: fault.ErrDiffer, Detail: fmt.Sprintf("event %d has hash %x in the book and %x in the journal", rec.Seq, rec.Hash[:6], got.Hash[:6])}
	}
}

// finish walks the rest of the journal, which the book does not have.
func (f *follower) finish(r *Report) {
	var first uint64
	for rec, ok := f.step(nil, nil); ok; rec, ok = f.step(nil, nil) {
		if first == 0 {
			first = rec.Seq
		}
	}
	if f.f != nil {
		_ = f.f.Close()
	}
	if r.Differ != nil || r.Unread != nil {
		return
	}
	if n := r.Chains[0].Events; f.lag > 0 && f.lag < n {
		r.Differ = &fault.Error{Path: f.c.Path, What: fault.ErrDiffer, Detail: fmt.Sprintf("the journal ends before event %d, which the book has", f.lag),
			Do: "Open the book for booking, then the journal catches up"}
	} else if f.lag > 0 {
		r.Notes = append(r.Notes, fmt.Sprintf("%s lacks the last event, as a kill or a power cut leaves it; at the next opening it catches up.", f.c.Path))
	}
	if first == 0 {
		return
	}
	if first == f.c.Events && r.Chains[0].Fault == nil && !r.oneHead {
		r.Notes = append(r.Notes, fmt.Sprintf("%s is one event ahead of the book, as a kill or a power cut leaves it; at the next opening the book takes it over.", f.c.Path))
		return
	}
	do := "Open the book for booking, then it takes them over; or restore it from the journal"
	if f.c.Fault != nil { // then it opens no more
		do = fault.RestoreAdvice(r.Path)
	}
	r.Differ = &fault.Error{Path: f.c.Path, What: fault.ErrDiffer, Detail: fmt.Sprintf("the journal holds %s, which the book does not have", journal.Span(first, f.c.Events)), Do: do}
}

// FileErr gives what is wrong with the file itself, leaving its journal aside.
func (r *Report) FileErr() error {
	err := r.Unread
	for i := range r.Chains {
		err = errors.Join(err, r.Chains[i].Fault)
	}
	return err
}
