package repair

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"slices"

	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
)

// A salvage is the list of sound events found anywhere in a book file. It is
// made by reading the file from end to end for records that prove themselves
// by their hash; neither bbolt nor the file's own tree is needed.
type salvage struct {
	f     *os.File
	found []scrap // by number, the proven ones
}

// scrap says where a sound event lies.
type scrap struct {
	seq  uint64
	hash [32]byte
	at   int64
	size int
}

// scanBook finds every sound event in f.
func scanBook(f *os.File, size int64) (*salvage, error) {
	s := &salvage{f: f}
	const step = 4 << 20
	buf := make([]byte, step+journal.HeaderSize+journal.MaxBody+journal.HashSize)
	for from := int64(0); from < size; from += step {
		n, err := f.ReadAt(buf[:min(int64(len(buf)), size-from)], from)
		if err != nil && err != io.EOF {
			return nil, err
		}
		s.scan(buf[:n], from, step)
	}
	slices.SortStableFunc(s.found, func(a, b scrap) int {
		if a.seq < b.seq {
			return -1
		} else if a.seq > b.seq {
			return 1
		}
		return bytes.Compare(a.hash[:], b.hash[:])
	})
	s.found = slices.CompactFunc(s.found, func(a, b scrap) bool { return a.seq == b.seq && a.hash == b.hash })
	return s, nil
}

// scan finds the events that begin in the first limit bytes of b, which stands
// at offset from of the file.
func (s *salvage) scan(b []byte, from int64, limit int) {
	for i := 0; i < min(limit, len(b)); {
		k := bytes.Index(b[i:], []byte(journal.Magic))
		if k < 0 || i+k >= limit {
			return
		}
		i += k
		n, err := journal.Length(b[i:])
		if err == nil && i+n <= len(b) {
			if r, err := journal.Decode(b[i : i+n]); err == nil {
				s.found = append(s.found, scrap{r.Seq, r.Hash, from + int64(i), n})
				i += n
				continue
			}
		}
		i++
	}
}

// records walks the events that link up from event 1 on.
func (s *salvage) records() iter.Seq2[journal.Record, error] {
	return func(yield func(journal.Record, error) bool) {
		var last journal.Record
		for i := 0; ; {
			r, next, err := s.successor(i, &last)
			if err == io.EOF {
				return
			}
			if !yield(r, err) || err != nil {
				return
			}
			last, i = r, next
		}
	}
}

// successor finds, from index i on, the event that follows last.
func (s *salvage) successor(i int, last *journal.Record) (journal.Record, int, error) {
	for ; i < len(s.found) && s.found[i].seq <= last.Seq+1; i++ {
		if s.found[i].seq != last.Seq+1 {
			continue
		}
		b := make([]byte, s.found[i].size)
		if _, err := s.f.ReadAt(b, s.found[i].at); err != nil {
			return journal.Record{}, i, err
		}
		r, err := journal.Decode(b)
		if err != nil {
			return journal.Record{}, i, err
		}
		if last.Seq == 0 || r.Prev == last.Hash {
			return r, i + 1, nil
		}
	}
	if s.beyond(last.Seq) == 0 {
		return journal.Record{}, i, io.EOF
	}
	return journal.Record{}, i, &fault.Error{Path: s.f.Name(), What: fault.ErrChain, Detail: fmt.Sprintf("event %d", last.Seq+1), Cause: errors.New("it was not found whole")}
}

// beyond counts the sound events with a number above seq.
func (s *salvage) beyond(seq uint64) int {
	i, _ := slices.BinarySearchFunc(s.found, seq+1, func(e scrap, n uint64) int {
		if e.seq < n {
			return -1
		} else if e.seq > n {
			return 1
		}
		return 0
	})
	return len(s.found) - i
}
