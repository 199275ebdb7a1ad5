package journal

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"iter"

	"example.org/readback/store/fault"
)

// A Reader reads the lines of a journal in order and proves the chain.
type Reader struct {
	r       *bufio.Reader
	buf     []byte
	line    int   // number of the line last read
	from    int64 // where it begins
	longest int   // bytes of the longest sound line
	last    Record
	begun   bool
	Strict  bool // the first line must be event 1
}

// NewReader reads lines from r. The first line may be any event; see
// Read for whole journals.
func NewReader(r io.Reader) *Reader {
	return &Reader{r: bufio.NewReaderSize(r, 64<<10)}
}

// Next reads one line. It returns io.EOF behind the last one. A last line that
// breaks off is ErrTorn: everything before it stands. A line that cannot be
// read is ErrBadLine, one that does not follow from the line before ErrChain;
// both say which event is meant.
func (j *Reader) Next() (Record, error) { return j.NextProven(nil, nil) }

// NextProven reads one line as Next does. A line equal to want, the line of the
// proven record of that number, needs no proof of its own.
func (j *Reader) NextProven(want []byte, proven *Record) (Record, error) {
	text, err := j.readLine()
	if err == io.EOF && len(text) == 0 {
		return Record{}, io.EOF
	}
	if err != nil && err != io.EOF {
		return Record{}, err
	}
	j.line++
	if proven != nil && bytes.Equal(text, want) {
		j.last, j.begun, j.longest = *proven, true, max(j.longest, len(text))
		return *proven, nil
	}
	rec, perr := ParseLine(bytes.TrimRight(text, "\r\n"))
	if perr != nil {
		if !errors.Is(perr, errHash) && lawfullyTorn(text, j.last.Seq+1, j.longest) && (err == io.EOF || j.atEnd()) {
			return Record{}, &fault.Error{What: fault.ErrTorn, Detail: fmt.Sprintf("line %d, %d bytes behind event %d", j.line, len(text), j.last.Seq)}
		}
		return Record{}, &fault.Error{What: fault.ErrBadLine, Detail: fmt.Sprintf("line %d, where event %d belongs", j.line, j.last.Seq+1), Cause: perr}
	}
	if err := j.link(&rec); err != nil {
		return Record{}, &fault.Error{What: fault.ErrChain, Detail: fmt.Sprintf("line %d", j.line), Cause: err}
	}
	j.last, j.begun, j.longest = rec, true, max(j.longest, len(text))
	return rec, nil
}

// Line says where in the journal the line last read begins and how long it is.
func (j *Reader) Line() (from int64, size int) { return j.from, len(j.buf) }

// link demands that rec follows from the line before.
func (j *Reader) link(rec *Record) error {
	if j.begun {
		return rec.Follows(j.last.Seq, j.last.Hash)
	}
	if j.Strict && rec.Seq != 1 {
		return fmt.Errorf("it begins with event %d, the events before are missing", rec.Seq)
	}
	return nil
}

// atEnd says whether nothing but line ends and zero bytes follows: then an
// unreadable line was the last one, torn by a power cut.
func (j *Reader) atEnd() bool {
	for {
		c, err := j.r.ReadByte()
		if err != nil {
			return err == io.EOF
		}
		if c != 0 && c != '\n' && c != '\r' {
			_ = j.r.UnreadByte()
			return false
		}
	}
}

// readLine reads up to and with the next line feed, at most maxLine bytes. The
// slice is good until the next call.
func (j *Reader) readLine() ([]byte, error) {
	j.from += int64(len(j.buf))
	j.buf = j.buf[:0]
	for {
		part, err := j.r.ReadSlice('\n')
		j.buf = append(j.buf, part...)
		if len(j.buf) > MaxLine {
			if _, derr := io.Copy(io.Discard, j.r); derr != nil {
				return nil, derr
			}
			return nil, &fault.Error{What: fault.ErrBadLine, Detail: fmt.Sprintf("line %d is longer than any event", j.line+1)}
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return j.buf, err
		}
	}
}

// skipPartial passes over the rest of a line whose beginning is not here.
func (j *Reader) skipPartial() error {
	_, err := j.readLine()
	return err
}

// Read walks a whole journal from event 1 on and proves it. The walk
// ends with the first error; ErrTorn means that only the last line is lost.
func Read(r io.Reader) iter.Seq2[Record, error] {
	return func(yield func(Record, error) bool) {
		j := NewReader(r)
		j.Strict = true
		for {
			rec, err := j.Next()
			if err == io.EOF {
				return
			}
			if !yield(rec, err) || err != nil {
				return
			}
		}
	}
}
