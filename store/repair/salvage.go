package repair

import (
	"bufio"
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"slices"

	"example.org/readback/store/chain"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
	"example.org/readback/store/pages"
)

// A salvage is the list of sound events found anywhere in some files, books and
// journals of one chain. It is made by reading them from end to end for records
// and lines that prove themselves by their hash; neither bbolt nor a file's own
// order is needed.
type salvage struct {
	files []*os.File
	sizes []int64
	lines []bool // the file is a journal
	stage Stage
	found []scrap // by number, then by file; the proven ones of the first file's chain
}

// scrap says where a sound event lies.
type scrap struct {
	seq  uint64
	hash [32]byte
	file int
	at   int64
	size int
}

// scan finds every sound event in the files. A file that has nothing in common
// with the first one is passed over: it is of another book.
func scan(files []*os.File, sizes []int64, stage Stage) (*salvage, error) {
	s := &salvage{files: files, sizes: sizes, stage: stage}
	for i, f := range files {
		from := len(s.found)
		var first [1]byte
		n, _ := f.ReadAt(first[:], 0)
		s.lines = append(s.lines, n == 1 && first[0] == '{')
		look := s.scanBook
		if s.lines[i] {
			look = s.scanJournal
		}
		if err := look(i, sizes[i]); err != nil {
			return nil, err
		}
		if i > 0 && !related(s.found[:from], s.found[from:]) {
			s.found = s.found[:from]
		}
	}
	slices.SortStableFunc(s.found, func(a, b scrap) int { return cmp.Or(cmp.Compare(a.seq, b.seq), cmp.Compare(a.file, b.file)) })
	s.found = slices.CompactFunc(s.found, func(a, b scrap) bool { return a.seq == b.seq && a.hash == b.hash })
	return s, nil
}

// related says whether two lists have an event in common.
func related(a, b []scrap) bool {
	have := make(map[[32]byte]bool, len(a))
	for i := range a {
		have[a[i].hash] = true
	}
	return slices.ContainsFunc(b, func(e scrap) bool { return have[e.hash] })
}

// scanBook finds the events in a book file.
func (s *salvage) scanBook(file int, size int64) error {
	const step = 4 << 20
	buf := make([]byte, step+journal.HeaderSize+journal.MaxBody+journal.HashSize)
	for from := int64(0); from < size; from += step {
		n, err := s.files[file].ReadAt(buf[:min(int64(len(buf)), size-from)], from)
		if err != nil && err != io.EOF {
			return err
		}
		s.scanBytes(file, buf[:n], from, step)
		s.stage("MB looked through", uint64(from>>20), uint64(size>>20))
	}
	return nil
}

// scanJournal finds the events in a journal, whatever stands between them.
func (s *salvage) scanJournal(file int, size int64) error {
	r := bufio.NewReaderSize(&metered{io.NewSectionReader(s.files[file], 0, size), "MB looked through", 0, size, s.stage}, 64<<10)
	var at int64
	for {
		line, err := r.ReadBytes('\n')
		if len(line) <= journal.MaxLine {
			if rec, perr := journal.ParseLine(bytes.Trim(line, "\x00\r\n")); perr == nil {
				s.found = append(s.found, scrap{rec.Seq, rec.Hash, file, at, len(line)})
			}
		}
		at += int64(len(line))
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
	}
}

// read reads the event that e names and proves it once more.
func (s *salvage) read(e scrap) (journal.Record, error) {
	b := make([]byte, e.size)
	if _, err := s.files[e.file].ReadAt(b, e.at); err != nil && err != io.EOF {
		return journal.Record{}, err
	}
	if s.lines[e.file] {
		return journal.ParseLine(bytes.Trim(b, "\x00\r\n"))
	}
	return journal.Decode(b)
}

// written is how many events of chain id were written, as far as the files show:
// the number of the last one found, or what a book file counted beside them.
func (s *salvage) written(id [32]byte) (n uint64) {
	if len(s.found) > 0 {
		n = s.found[len(s.found)-1].seq
	}
	for i, f := range s.files {
		if !s.lines[i] {
			n = max(n, counted(f, s.sizes[i], chain.BucketOf("records", id)))
		}
	}
	return n
}

// counted finds the greatest count that stands in a book file behind the name of
// a bucket: its root page, 8 bytes, and its sequence, 8 bytes. Older pages of the
// file hold smaller ones.
func counted(f *os.File, size int64, name []byte) (n uint64) {
	const step = 4 << 20
	buf := make([]byte, step+len(name)+16)
	for from := int64(0); from < size; from += step {
		k, err := f.ReadAt(buf[:min(int64(len(buf)), size-from)], from)
		if err != nil && err != io.EOF {
			return n
		}
		for b := buf[:k]; ; {
			i := bytes.Index(b, name)
			if i < 0 || i+len(name)+16 > len(b) {
				break
			}
			b = b[i+len(name):]
			root, sequence := pages.Order.Uint64(b), pages.Order.Uint64(b[8:])
			if root <= uint64(size)/1024 && sequence < 1<<40 {
				n = max(n, sequence)
			}
		}
	}
	return n
}

// scanBytes finds the events that begin in the first limit bytes of b, which stands
// at offset from of the file.
func (s *salvage) scanBytes(file int, b []byte, from int64, limit int) {
	for i := 0; i < min(limit, len(b)); {
		k := bytes.Index(b[i:], []byte(journal.Magic))
		if k < 0 || i+k >= limit {
			return
		}
		i += k
		n, err := journal.Length(b[i:])
		if err == nil && i+n <= len(b) {
			if r, err := journal.Decode(b[i : i+n]); err == nil {
				s.found = append(s.found, scrap{r.Seq, r.Hash, file, from + int64(i), n})
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
		r, err := s.read(s.found[i])
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
	return journal.Record{}, i, &fault.Error{Path: s.files[0].Name(), What: fault.ErrChain, Detail: fmt.Sprintf("event %d", last.Seq+1), Cause: errors.New("it was not found whole")}
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
