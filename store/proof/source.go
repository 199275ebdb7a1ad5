package proof

import (
	"fmt"
	"iter"
	"maps"
	"os"
	"slices"
	"time"

	"example.org/readback/store/chain"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
)

// A Source is one proven chain of events.
type Source struct {
	id      [32]byte
	name    string
	read    func(seq uint64) (journal.Record, error) // proves what it reads
	kept    *chain.Source                            // where summaries are kept; nil for a journal
	last    journal.Record
	groups  map[uint32][]run // the events of each group
	back    int              // how often the clock went back by more than journal.ClockBack
	farBack time.Duration    // and by how much at most
	newest  time.Time        // the latest time of an event
}

// A run is events of one group that follow each other: a setup is booked from its first
// to its last but for few, and the numbers of a million events are not kept one by one.
type run struct {
	first uint64
	n     uint32
}

func newSource(id [32]byte, name string, read func(uint64) (journal.Record, error)) *Source {
	return &Source{id: id, name: name, read: read, groups: map[uint32][]run{}}
}

// add takes the next proven event.
func (s *Source) add(r *journal.Record) {
	if back := s.last.At.Sub(r.At); s.last.Seq > 0 && back > journal.ClockBack {
		s.back++
		s.farBack = max(s.farBack, back)
	}
	if r.At.After(s.newest) {
		s.newest = r.At
	}
	if runs := s.groups[r.Group]; s.last.Seq > 0 && s.last.Group == r.Group && len(runs) > 0 && r.Seq == s.last.Seq+1 {
		runs[len(runs)-1].n++
	} else {
		s.groups[r.Group] = append(runs, run{r.Seq, 1})
	}
	s.last = *r
}

// ID is the identity of the chain.
func (s *Source) ID() [32]byte { return s.id }

// Name is the file name of the book that the chain came from.
func (s *Source) Name() string { return s.name }

// Last is the newest event; ok is false when there is none.
func (s *Source) Last() (r journal.Record, ok bool, err error) { return s.last, s.last.Seq > 0, nil }

// Record reads event seq.
func (s *Source) Record(seq uint64) (journal.Record, error) {
	r, err := s.read(seq)
	if err == nil && seq == s.last.Seq && r.Hash != s.last.Hash {
		err = s.changed(seq)
	}
	return r, err
}

// Records walks all events in order, each linked to the one before, up to the
// one that was the newest when the book was opened. A walk that does not reach
// it ends with an error.
func (s *Source) Records() iter.Seq2[journal.Record, error] {
	return func(yield func(journal.Record, error) bool) {
		at := journal.Record{Hash: s.id}
		for r, err := range s.walk() {
			if err == nil && r.Seq <= s.last.Seq {
				err = r.Follows(at.Seq, at.Hash)
			}
			if err == nil && r.Seq == s.last.Seq && r.Hash != s.last.Hash {
				err = s.changed(r.Seq)
			}
			if r.Seq > s.last.Seq && err == nil || !yield(r, err) || err != nil {
				return
			}
			at = r
		}
		if at.Seq != s.last.Seq {
			yield(journal.Record{}, s.changed(at.Seq+1))
		}
	}
}

// walk reads all events in order.
func (s *Source) walk() iter.Seq2[journal.Record, error] {
	if s.kept != nil {
		return s.kept.Records()
	}
	return func(yield func(journal.Record, error) bool) {
		for seq := uint64(1); seq <= s.last.Seq; seq++ {
			if r, err := s.read(seq); !yield(r, err) || err != nil {
				return
			}
		}
	}
}

// changed says that an event is not the one that was proven on opening.
func (s *Source) changed(seq uint64) error {
	return &fault.Error{Path: s.name, What: fault.ErrGone, Detail: fmt.Sprintf("event %d is not what it was when the book was opened", seq), Do: "Run the command again"}
}

// Group reads the events of group n in order.
func (s *Source) Group(n uint32) ([]journal.Record, error) {
	count, _ := s.extent(n)
	list := make([]journal.Record, 0, count)
	for seq := range s.numbers(n) {
		r, err := s.Record(seq)
		if err == nil && r.Group != n {
			err = s.changed(seq)
		}
		if err != nil {
			return nil, err
		}
		list = append(list, r)
	}
	return list, nil
}

// numbers walks the numbers of the events of group n in order.
func (s *Source) numbers(n uint32) iter.Seq[uint64] {
	return func(yield func(uint64) bool) {
		for _, r := range s.groups[n] {
			for seq := r.first; seq < r.first+uint64(r.n); seq++ {
				if !yield(seq) {
					return
				}
			}
		}
	}
}

// extent is how many events group n has, and the number of the last.
func (s *Source) extent(n uint32) (count int, last uint64) {
	for _, r := range s.groups[n] {
		count += int(r.n)
		last = r.first + uint64(r.n) - 1
	}
	return count, last
}

// Groups lists the numbers of all groups that have events, in order.
func (s *Source) Groups() ([]uint32, error) { return slices.Sorted(maps.Keys(s.groups)), nil }

// LastGroup is the greatest group number that has events; 0 when there is none.
func (s *Source) LastGroup() (n uint32, err error) {
	for g := range s.groups {
		n = max(n, g)
	}
	return n, nil
}

// Digest gives the summary of group n, where one is kept that was made of exactly
// the events proven here; nil otherwise.
func (s *Source) Digest(n uint32) ([]byte, error) {
	proven, newest := s.extent(n)
	if s.kept == nil || proven == 0 {
		return nil, nil
	}
	count, last, digest, err := s.kept.Kept(n)
	if err != nil || count != proven || last != newest {
		return nil, err
	}
	return digest, nil
}

// Digests gives up to count summaries of groups from number from on, in order.
func (s *Source) Digests(from uint32, count int) ([]chain.Digest, error) {
	var list []chain.Digest
	groups, _ := s.Groups()
	for _, g := range groups {
		if g < from || len(list) >= count {
			continue
		}
		d, err := s.Digest(g)
		if err != nil {
			return nil, err
		}
		if d != nil {
			list = append(list, chain.Digest{Group: g, Digest: d})
		}
	}
	return list, nil
}

// lines reads events out of a journal by number.
type lines struct {
	path string
	f    *os.File
	at   []int64 // where the line of event n+1 begins
	end  int64
}

// add notes where the line last read lies.
func (l *lines) add(r *journal.Reader) {
	from, size := r.Line()
	l.at, l.end = append(l.at, from), from+int64(size)
}

// last says whether the line that could not be read is the last one.
func (l *lines) last(r *journal.Reader, size int64) bool {
	from, n := r.Line()
	return from+int64(n) >= size
}

// record reads the line of event seq and proves it.
func (l *lines) record(seq uint64) (journal.Record, error) {
	if seq < 1 || seq > uint64(len(l.at)) {
		return journal.Record{}, &fault.Error{Path: l.path, What: fault.ErrDamaged, Detail: fmt.Sprintf("event %d is missing", seq)}
	}
	end := l.end
	if seq < uint64(len(l.at)) {
		end = l.at[seq]
	}
	b := make([]byte, end-l.at[seq-1])
	if _, err := l.f.ReadAt(b, l.at[seq-1]); err != nil {
		return journal.Record{}, fmt.Errorf("read event %d of %s: %w", seq, l.path, err)
	}
	r, err := journal.ParseLine(b)
	if err == nil && r.Seq != seq {
		err = fmt.Errorf("event %d stands in its place", r.Seq)
	}
	if err != nil {
		err = &fault.Error{Path: l.path, What: fault.ErrBadLine, Detail: fmt.Sprintf("event %d", seq), Cause: err}
	}
	return r, err
}
