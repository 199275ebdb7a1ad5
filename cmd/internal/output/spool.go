package output

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
)

// inMemory is how much a spool keeps before it takes a file.
const inMemory = 8 << 20

// A Spool keeps what is written to it until all of it is there: in memory while
// it is short, else in a file without a name in the system's place for them. It
// can then be read from any offset, from several goroutines at once.
type Spool struct {
	memory bytes.Buffer
	file   *os.File
	size   int64
}

// Write keeps more.
func (s *Spool) Write(p []byte) (int, error) {
	if s.file == nil && s.memory.Len()+len(p) <= inMemory {
		s.size += int64(len(p))
		return s.memory.Write(p)
	}
	if s.file == nil {
		f, err := os.CreateTemp("", "readback-spool-")
		if err != nil {
			return 0, fmt.Errorf("no place to keep what is read or printed: %w", err)
		}
		os.Remove(f.Name()) // where the system allows it; else Close does
		s.file = f
		if _, err := f.Write(s.memory.Bytes()); err != nil {
			return 0, err
		}
		s.memory = bytes.Buffer{}
	}
	n, err := s.file.Write(p)
	s.size += int64(n)
	return n, err
}

// ReadAt reads what was written, from an offset.
func (s *Spool) ReadAt(p []byte, off int64) (int, error) {
	if s.file != nil {
		return s.file.ReadAt(p, off)
	}
	if off >= s.size {
		return 0, io.EOF
	}
	n := copy(p, s.memory.Bytes()[off:])
	if n < len(p) {
		return n, io.EOF
	}
	return n, nil
}

// Size is how much was written.
func (s *Spool) Size() int64 { return s.size }

// WriteTo hands all of it on.
func (s *Spool) WriteTo(w io.Writer) (int64, error) {
	return io.Copy(w, io.NewSectionReader(s, 0, s.size))
}

// Close throws it away.
func (s *Spool) Close() error {
	if s.file == nil {
		return nil
	}
	err := s.file.Close()
	if e := os.Remove(s.file.Name()); e != nil && !errors.Is(e, os.ErrNotExist) {
		err = errors.Join(err, e)
	}
	return err
}
