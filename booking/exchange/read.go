package exchange

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
)

// A File is a readings file as read: its rows in their order.
type File struct {
	Name string // what it is called in messages
	Rows []Row
	lay  layout
}

// Read reads a readings file; name is what it is called in messages. What is
// wrong with its rows is returned as Faults, the first of them in the order of
// the file, and then there is no File; any other error is one of reading r.
func Read(r io.Reader, name string) (*File, error) {
	w, err := newWalk(r, name)
	if err != nil {
		return nil, err
	}
	header, err := w.next()
	if errors.Is(err, io.EOF) {
		return nil, Faults{{File: name, Line: 1, What: "the file is empty: expected a header with " + strings.Join(columns[:needed], ", ")}}
	}
	if err != nil {
		return nil, err
	}
	var faults Faults
	if w.file.lay, faults = readHeader(name, header); len(faults) > 0 {
		return nil, faults
	}
	w.width = len(header)
	for len(faults) < mostFaults {
		cells, err := w.next()
		var fault *Fault
		switch {
		case errors.Is(err, io.EOF):
			return w.done(faults)
		case errors.As(err, &fault):
			faults = append(faults, fault)
			if !w.goesOn {
				return nil, faults
			}
		case err != nil:
			return nil, err
		case !blankRow(cells):
			rr := rowReader{file: name, lay: w.file.lay, cells: cells, lines: w.lineOf}
			w.file.Rows = append(w.file.Rows, rr.row())
			faults = append(faults, rr.faults...)
		}
	}
	return nil, faults
}

// A walk goes through the rows of a file.
type walk struct {
	file   *File
	csv    *csv.Reader
	raw    *recent
	width  int   // cells of the header
	start  int64 // offset at which the last row begins
	goesOn bool  // after a fault: the next row can be read
}

// next returns the cells of the next row, a *Fault where it is no CSV, or io.EOF.
func (w *walk) next() ([]string, error) {
	w.start = w.csv.InputOffset()
	w.raw.forget(w.start)
	cells, err := w.csv.Read()
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, w.notCSV(err, cells)
	}
	return cells, err
}

// lineOf returns the line on which a cell of the last row begins.
func (w *walk) lineOf(cell int) int {
	line, _ := w.csv.FieldPos(cell)
	return line
}

func (w *walk) done(faults Faults) (*File, error) {
	switch {
	case len(faults) > 0:
		return nil, faults
	case len(w.file.Rows) == 0:
		return nil, Faults{{File: w.file.Name, Line: 1, What: "there is no row below the header: expected readings"}}
	}
	return w.file, nil
}

// newWalk passes over a byte order mark; another mark than UTF-8's is refused.
func newWalk(r io.Reader, name string) (*walk, error) {
	b := bufio.NewReaderSize(r, 1<<16)
	head, err := b.Peek(3)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	switch {
	case bytes.HasPrefix(head, []byte("\xef\xbb\xbf")):
		if _, err := b.Discard(3); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	case bytes.HasPrefix(head, []byte("\xff\xfe")), bytes.HasPrefix(head, []byte("\xfe\xff")):
		return nil, Faults{{File: name, Line: 1, What: "the file is in UTF-16: expected CSV in UTF-8"}}
	}
	raw := &recent{r: b}
	w := &walk{file: &File{Name: name}, csv: csv.NewReader(raw), raw: raw}
	w.csv.ReuseRecord = true
	return w, nil
}

// notCSV says where the file breaks the rules of CSV. After a wrong number of
// cells the next row can be read; after a stray quotation mark it cannot.
func (w *walk) notCSV(err error, cells []string) error {
	var p *csv.ParseError
	if !errors.As(err, &p) {
		return fmt.Errorf("%s: %w", w.file.Name, err)
	}
	f := &Fault{File: w.file.Name, Line: p.Line}
	w.goesOn = errors.Is(err, csv.ErrFieldCount)
	switch {
	case w.goesOn:
		f.Line, f.Column = p.StartLine, min(len(cells), w.width)+1
		f.What = fmt.Sprintf("the row has %d cells: expected %d, as many as the header", len(cells), w.width)
	case errors.Is(err, csv.ErrBareQuote):
		f.Column = w.raw.cellOf(p, w.start)
		f.What = fmt.Sprintf("a quotation mark (character %d of the line) stands in a cell that is not quoted: expected the cell in quotation marks and the mark doubled", p.Column)
	default:
		f.Column = w.raw.cellOf(p, w.start)
		f.What = fmt.Sprintf("the quoted cell of the row that begins on line %d is not closed as it should be (character %d of the line): expected a quotation mark, then a comma or the end of the line", p.StartLine, p.Column)
	}
	f.Name = w.file.lay.nameOf(f.Column)
	return f
}

// blankRow tells whether every cell is empty, as spreadsheets write below a table.
func blankRow(cells []string) bool {
	for _, c := range cells {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}
