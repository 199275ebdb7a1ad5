package readings

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
	c, err := newReader(r)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	header, err := c.Read()
	if errors.Is(err, io.EOF) {
		return nil, Faults{{File: name, Line: 1, What: "the file is empty: expected a header with " + strings.Join(columns[:needed], ", ")}}
	}
	if err != nil {
		return nil, notCSV(err, name, nil, 0)
	}
	width := len(header)
	lay, faults := readHeader(name, header)
	if len(faults) > 0 {
		return nil, faults
	}
	f := &File{Name: name, lay: lay}
	for len(faults) < mostFaults {
		cells, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			var fault *Fault
			if err := notCSV(err, name, cells, width); !errors.As(err, &fault) {
				return nil, err
			}
			faults = append(faults, fault)
			if !errors.Is(err, csv.ErrFieldCount) {
				break
			}
			continue
		}
		if blankRow(cells) {
			continue
		}
		rr := rowReader{file: name, lay: lay, cells: cells, lines: func(cell int) int { line, _ := c.FieldPos(cell); return line }}
		row := rr.row()
		faults = append(faults, rr.faults...)
		f.Rows = append(f.Rows, row)
	}
	switch {
	case len(faults) > 0:
		return nil, faults
	case len(f.Rows) == 0:
		return nil, Faults{{File: name, Line: 1, What: "there is no row below the header: expected readings"}}
	}
	return f, nil
}

// newReader passes over a byte order mark; another mark than UTF-8's is refused.
func newReader(r io.Reader) (*csv.Reader, error) {
	b := bufio.NewReaderSize(r, 1<<16)
	head, err := b.Peek(3)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	switch {
	case bytes.HasPrefix(head, []byte("\xef\xbb\xbf")):
		if _, err := b.Discard(3); err != nil {
			return nil, err
		}
	case bytes.HasPrefix(head, []byte("\xff\xfe")), bytes.HasPrefix(head, []byte("\xfe\xff")):
		return nil, fmt.Errorf("line 1: %w: it is UTF-16: save it as CSV in UTF-8", ErrFile)
	}
	c := csv.NewReader(b)
	c.ReuseRecord = true
	return c, nil
}

// notCSV says where the file breaks the rules of CSV.
func notCSV(err error, name string, cells []string, width int) error {
	var p *csv.ParseError
	if !errors.As(err, &p) {
		return fmt.Errorf("%s: %w", name, err)
	}
	f := &Fault{File: name, Line: p.Line}
	switch {
	case errors.Is(err, csv.ErrFieldCount):
		f.Line = p.StartLine
		f.What = fmt.Sprintf("the row has %d cells: expected %d, as many as the header", len(cells), width)
		if len(cells) > width {
			f.Column = width + 1
		} else {
			f.Column = len(cells)
		}
	case errors.Is(err, csv.ErrBareQuote):
		f.What = fmt.Sprintf("a quotation mark at character %d stands in a cell that is not quoted: expected the cell in quotation marks and the mark doubled", p.Column)
	default:
		f.What = fmt.Sprintf("the quoted cell of the row that begins on line %d is not closed as it should be (character %d): expected a quotation mark, then a comma or the end of the line", p.StartLine, p.Column)
	}
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
