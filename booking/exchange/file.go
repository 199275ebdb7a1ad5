package exchange

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"example.org/readback/booking/event"
)

// A File is a readings file whose setups are found. They are read from it one at
// a time, so that a file may be as long as it likes; several goroutines may read, each
// with a Reader of its own.
type File struct {
	Name   string // what it is called in messages
	src    io.ReaderAt
	from   int64 // behind the header
	size   int64
	lay    layout
	width  int
	setups []stretches
}

// Stretches are where the rows of one setup stand: one where they stand
// together, more where setups are interleaved.
type stretches struct {
	number, rows int
	bytes        int64
	runs         []run
}

// A run is a stretch of rows of one setup.
type run struct {
	from, to int64
	line     int // of its first row
}

// Open walks through a readings file of so many bytes and finds its setups; name
// is what it is called in messages. A file that is no CSV, or whose rows are not
// numbered by setup, is refused with Faults, the first of them in the order of
// the file. What else is wrong with a row is told by Paper. Any other error is
// one of reading src.
func Open(src io.ReaderAt, size int64, name string) (*File, error) {
	f := &File{Name: name, src: src, size: size}
	at, err := afterMark(src, name)
	if err != nil {
		return nil, err
	}
	w := newWalk(src, at, size, name, make([]byte, 1<<16))
	if err := f.readHeader(w); err != nil {
		return nil, err
	}
	index := map[int]int{} // in f.setups, by number
	last, runs := -1, 0
	for {
		err := w.pass()
		var fault *fault
		switch {
		case errors.Is(err, io.EOF):
			return f.found()
		case errors.As(err, &fault):
			return nil, f.faults()
		case err != nil:
			return nil, err
		case w.blank():
			continue
		}
		number, ok := w.setup()
		if !ok {
			return nil, f.faults()
		}
		if last < 0 || f.setups[last].number != number {
			known := false
			if last, known = index[number]; !known {
				last = len(f.setups)
				index[number] = last
				f.setups = append(f.setups, stretches{number: number})
			}
			if runs++; runs > mostRuns {
				return nil, f.refuse(w, colSetup, "the rows of the setups are mixed and change more than %d times: expected the rows of a setup together", mostRuns)
			}
			f.setups[last].runs = append(f.setups[last].runs, run{from: w.start, line: w.lineOf(0)})
		}
		s := &f.setups[last]
		s.runs[len(s.runs)-1].to = w.end()
		s.bytes += w.end() - w.start
		if s.rows++; s.rows > mostSetupRows || s.bytes > mostSetupBytes {
			return nil, f.refuse(w, colSetup, "setup %d has more than %d rows, or more than %d MiB of them: expected the readings of one station", number, mostSetupRows, mostSetupBytes>>20)
		}
	}
}

func (f *File) readHeader(w *walk) error {
	header, err := w.next()
	if errors.Is(err, io.EOF) {
		return faults{{File: f.Name, Line: 1, Column: 1, What: "the file is empty: expected a header with " + strings.Join(columns[:needed], ", ")}}
	}
	var fault *fault
	if errors.As(err, &fault) {
		return faults{fault}
	}
	if err != nil {
		return err
	}
	lay, faults := readHeader(f.Name, header)
	if len(faults) > 0 {
		return faults
	}
	f.lay, f.width, f.from = lay, len(header), w.end()
	w.lay, w.width = f.lay, f.width
	return nil
}

// found ends Open: the setups are put in the order of their numbers.
func (f *File) found() (*File, error) {
	if len(f.setups) == 0 {
		return nil, faults{{File: f.Name, Line: 1, Column: 1, Name: f.lay.nameOf(1), What: "there is no row below the header: expected readings"}}
	}
	slices.SortFunc(f.setups, func(a, b stretches) int { return cmp.Compare(a.number, b.number) })
	return f, nil
}

// refuse is the fault of the row read last.
func (f *File) refuse(w *walk, col int, format string, args ...any) error {
	return faults{{File: f.Name, Line: w.lineOf(0), Column: f.lay[col] + 1, Name: columns[col], What: fmt.Sprintf(format, args...)}}
}

// setupNumber reads the number of a setup where nothing but its digits is written.
func setupNumber[T string | []byte](cell T) (n int, ok bool) {
	if len(cell) == 0 || len(cell) > 7 {
		return 0, false
	}
	for i := range len(cell) {
		if cell[i] < '0' || cell[i] > '9' {
			return 0, false
		}
		n = n*10 + int(cell[i]-'0')
	}
	return n, n >= 1 && n <= mostSetups
}

// each goes through all rows of the file, whole or not, and hands them on with
// what is wrong with them. It ends with what the CSV breaks.
func (f *File) each(use func(row, faults) (goOn bool)) error {
	at, err := afterMark(f.src, f.Name)
	if err != nil {
		return err
	}
	w := newWalk(f.src, at, f.size, f.Name, make([]byte, 1<<16))
	if err := f.readHeader(w); err != nil {
		return err
	}
	for {
		cells, err := w.next()
		var fault *fault
		switch {
		case errors.Is(err, io.EOF):
			return nil
		case errors.As(err, &fault):
			if !use(row{}, faults{fault}) || !w.goesOn {
				return nil
			}
		case err != nil:
			return err
		case !w.blank():
			rr := rowReader{file: f.Name, lay: f.lay, cells: cells, lines: w.lineOf}
			row := rr.row()
			if !use(row, rr.faults) {
				return nil
			}
		}
	}
}

// faults returns the first things that are wrong with the rows, in the order of
// the file, or nil.
func (f *File) faults() error {
	var all faults
	err := f.each(func(_ row, faults faults) bool {
		all = append(all, faults...)
		return len(all) < mostFaults
	})
	if err == nil && len(all) > 0 {
		err = all
	}
	return err
}

// Len returns how many setups the file has.
func (f *File) Len() int { return len(f.setups) }

// A Reader reads the setups of a file one after the other, in room that it takes
// again: a Paper of it holds until the next is read.
type Reader struct {
	*File
	buffer []byte
	rows   []row
	at     []*row
	events []event.Entry
}

// Reader returns a reader of the file; each goroutine has its own.
func (f *File) Reader() *Reader { return &Reader{File: f} }

// rowsOf reads the rows of the i-th setup.
func (f *Reader) rowsOf(i int) ([]row, error) {
	s := f.setups[i]
	rows := slices.Grow(f.rows[:0], s.rows)
	defer func() { f.rows = rows }()
	for _, x := range s.runs {
		w := newWalk(f.src, x.from, x.to, f.Name, f.bufferFor(x))
		w.lay, w.width, w.keeps = f.lay, f.width, true
		shift, first := 0, true
		rr := rowReader{file: f.Name, lay: f.lay, lines: func(cell int) int { return w.lineOf(cell) + shift }}
		for {
			cells, err := w.next()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil || len(cells) != f.width {
				return nil, fmt.Errorf("%s: line %d: the file was changed while it was read: read it again", f.Name, x.line)
			}
			if w.blank() {
				continue
			}
			if first {
				shift, first = x.line-w.lineOf(0), false
			}
			rr.cells = cells
			rows = append(rows, rr.row())
			if len(rr.faults) > 0 {
				if err := f.faults(); err != nil {
					return nil, err
				}
				return nil, rr.faults
			}
		}
	}
	return rows, nil
}

// bufferFor returns a buffer for a walk through a stretch of rows.
func (f *Reader) bufferFor(x run) []byte {
	if n := min(max(x.to-x.from+1, 4096), 1<<16); int64(len(f.buffer)) < n {
		f.buffer = make([]byte, n)
	}
	return f.buffer
}
