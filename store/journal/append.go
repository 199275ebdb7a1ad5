package journal

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"

	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
)

// A File is the file of event lines beside a book, open for appending. Its
// last whole line is the head of the book outside the book.
type File struct {
	Path string
	F    Raw
	info os.FileInfo // as it was opened
	end  int64       // where the next line goes
	Head lineHead    // of the last whole line
	Torn []byte      // what stood behind it and was no line
	bare bool        // the last line lacks its line feed
}

// lineHead is the number and the hash of a line; number 0 for none.
type lineHead struct {
	Seq  uint64
	Hash [32]byte
}

// Open opens the journal at path and reads its end.
func Open(open Opener, path string, flag int) (*File, error) {
	if err := disk.Regular(path); err != nil && !errors.Is(err, os.ErrNotExist) {
		return nil, err
	}
	f, err := open(path, flag, 0o600)
	if err != nil {
		return nil, err
	}
	j := &File{Path: path, F: f}
	if j.info, err = f.Stat(); err == nil {
		err = j.readTail(j.info.Size())
	}
	if err != nil {
		_ = f.Close()
		return nil, err
	}
	return j, nil
}

// readTail finds the last whole line. What stands behind it, and one line that
// cannot be read, is torn; a second unreadable line is damage.
func (j *File) readTail(size int64) error {
	for window := int64(8 << 10); ; window *= 8 {
		from := max(0, size-window)
		b := make([]byte, size-from)
		if _, err := j.F.ReadAt(b, from); err != nil && err != io.EOF {
			return fmt.Errorf("read the end of the journal: %w", err)
		}
		rec, start, end, err := lastLine(b, from == 0)
		if errors.Is(err, errMore) && from > 0 && window < 2*MaxLine {
			continue
		}
		if err != nil {
			return &fault.Error{Path: j.Path, What: fault.ErrBadLine, Cause: err}
		}
		j.end, j.Torn = from+int64(end), bytes.Clone(b[end:])
		if r, err := ParseLine(j.Torn); err == nil {
			rec, j.end, j.Torn, j.bare = r, size, nil, true
		} else if len(j.Torn) > 0 && !lawfullyTorn(j.Torn, rec.Seq+1, end-start) {
			return &fault.Error{Path: j.Path, What: fault.ErrBadLine, Detail: fmt.Sprintf("the %d bytes behind event %d are more than a line that breaks off", len(j.Torn), rec.Seq)}
		}
		j.Head = lineHead{rec.Seq, rec.Hash}
		return nil
	}
}

// errMore asks for more of the file.
var errMore = errors.New("no line end near the end of the journal")

// lastLine finds the last readable line in b where it begins and ends; whole says
// that b begins where the file does. At most one line may be unreadable, and
// not one that is whole and was changed.
func lastLine(b []byte, whole bool) (rec Record, start, end int, err error) {
	end = bytes.LastIndexByte(b, '\n') + 1
	var first error
	for tries := 0; tries < 2; tries++ {
		if end == 0 {
			if !whole {
				return Record{}, 0, 0, errMore
			}
			return Record{}, 0, 0, nil // nothing whole: an empty journal with a torn first line
		}
		start = bytes.LastIndexByte(b[:end-1], '\n') + 1
		if start == 0 && !whole {
			return Record{}, 0, 0, errMore
		}
		rec, err := ParseLine(b[start:end])
		if err == nil {
			return rec, start, end, nil
		}
		if errors.Is(err, errHash) {
			return Record{}, 0, 0, err
		}
		if first == nil {
			first = err
		}
		end = start
	}
	return Record{}, 0, 0, first
}

// lawfullyTorn says whether rest can be what a kill or a power cut left of the
// line of event next: it begins like that line, where its bytes reached the
// disk at all, and is no longer than a line can be; longest is the length of
// the longest one seen. Anything else was destroyed after it had been written.
func lawfullyTorn(rest []byte, next uint64, longest int) bool {
	rest = bytes.TrimRight(rest, "\r\n")
	if len(rest) > max(4096, 2*longest) || bytes.IndexByte(rest, '\n') >= 0 && len(bytes.Trim(rest[bytes.IndexByte(rest, '\n'):], "\x00\r\n")) > 0 {
		return false
	}
	for i, c := range fmt.Appendf(nil, `{"seq":%d,"id":"`, next) {
		if i < len(rest) && rest[i] != c && rest[i] != 0 {
			return false
		}
	}
	return true
}

// Mend takes away what is torn and ends the last line.
func (j *File) Mend() error {
	if j.bare {
		if _, err := j.F.WriteAt([]byte{'\n'}, j.end); err != nil {
			return err
		}
		j.end, j.bare = j.end+1, false
		return j.F.Sync()
	}
	if len(j.Torn) == 0 {
		return nil
	}
	if err := j.F.Truncate(j.end); err != nil {
		return err
	}
	j.Torn = nil
	return j.F.Sync()
}

// Write appends whole lines, the last of which is r, and makes them durable.
func (j *File) Write(lines []byte, r *Record) error {
	if _, err := j.F.WriteAt(lines, j.end); err != nil {
		return err
	}
	if err := j.F.Sync(); err != nil {
		return err
	}
	j.end += int64(len(lines))
	j.Head = lineHead{r.Seq, r.Hash}
	return nil
}

// Undo takes back the last n bytes written, a line that was not acknowledged.
// When it fails the line stays, and the book takes the event over.
func (j *File) Undo(n int) {
	if j.F.Truncate(j.end-int64(n)) == nil {
		_ = j.F.Sync()
	}
}

// Replaced says how the file at the path differs from the one that is open;
// nil when it is the same and holds all lines.
func (j *File) Replaced() error {
	info, err := os.Stat(j.Path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return fmt.Errorf("the journal %s was deleted or renamed", j.Path)
	case err != nil:
		return fmt.Errorf("the journal %s cannot be reached: %w", j.Path, err)
	case !os.SameFile(info, j.info):
		return fmt.Errorf("the journal %s was replaced by another", j.Path)
	case info.Size() != j.end:
		return fmt.Errorf("the journal %s has %d bytes, %d were written", j.Path, info.Size(), j.end)
	}
	return nil
}

// Since reads the lines after event seq, oldest first, and the hash that the
// journal has for event seq itself (known is false when it does not reach back
// so far: then the list begins with the first line).
func (j *File) Since(seq uint64) (list []Record, at [32]byte, known bool, err error) {
	for window := int64(64 << 10); ; window *= 8 {
		from := max(0, j.end-window)
		r := NewReader(io.NewSectionReader(j.F, from, j.end-from))
		if from > 0 {
			if err := r.skipPartial(); err != nil {
				continue // one line longer than the window
			}
		}
		list, at, known = list[:0], [32]byte{}, false
		first := uint64(0)
		for {
			rec, err := r.Next()
			if err == io.EOF {
				break
			}
			if err != nil {
				return nil, at, false, err
			}
			if first == 0 {
				first = rec.Seq
			}
			switch {
			case rec.Seq == seq:
				at, known = rec.Hash, true
			case rec.Seq > seq:
				list = append(list, rec)
			}
		}
		if known || from == 0 {
			return list, at, known, nil
		}
	}
}

// Close closes the file; a nil journal has none.
func (j *File) Close() error {
	if j == nil || j.F == nil {
		return nil
	}
	f := j.F
	j.F = nil
	return f.Close()
}

// ReadAll reads the whole journal through the open file, even if its name is gone.
func (j *File) ReadAll() *io.SectionReader { return io.NewSectionReader(j.F, 0, j.end) }
