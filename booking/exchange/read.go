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

// The bounds of a file. They are far above what is observed; beyond them a file
// is refused where it passes them, before it is worked on.
const (
	mostRowBytes   = 1 << 20 // of one row
	mostSetupBytes = 16 << 20
	mostSetupRows  = 20_000
	mostRuns       = 1 << 20 // stretches of rows of one setup without another's between them
)

var errLongRow = errors.New("a row is too long")

// A walk goes through the rows of a file, or of a stretch of one.
type walk struct {
	name   string
	src    *bounded
	csv    *csv.Reader
	lay    layout
	width  int   // cells of the header; 0 before it is read
	start  int64 // offset in the file at which the last row begins
	base   int64 // offset in the file at which the walk began
	goesOn bool  // after a fault: the next row can be read
}

// A bounded reader stops where a row is too long.
type bounded struct {
	at          io.ReaderAt
	off, end    int64
	row         int64 // where the row begins
	readsBehind int64 // how far the buffer may have read ahead
}

// Read reads on from the offset.
func (b *bounded) Read(p []byte) (int, error) {
	if b.off >= b.end {
		return 0, io.EOF
	}
	if b.off-b.row > mostRowBytes+b.readsBehind {
		return 0, errLongRow
	}
	n, err := b.at.ReadAt(p[:min(int64(len(p)), b.end-b.off)], b.off)
	b.off += int64(n)
	if n > 0 && errors.Is(err, io.EOF) {
		err = nil
	}
	return n, err
}

// newWalk begins a walk through the bytes of a file from one offset to another.
func newWalk(src io.ReaderAt, from, to int64, name string, buffer int) *walk {
	b := &bounded{at: src, off: from, end: to, row: from, readsBehind: int64(buffer)}
	w := &walk{name: name, src: b, csv: csv.NewReader(bufio.NewReaderSize(b, buffer)), base: from}
	w.csv.ReuseRecord = true
	return w
}

// afterMark returns the offset behind a byte order mark; another mark than that
// of UTF-8 is refused.
func afterMark(src io.ReaderAt, name string) (int64, error) {
	var head [3]byte
	n, err := src.ReadAt(head[:], 0)
	if err != nil && !errors.Is(err, io.EOF) {
		return 0, fmt.Errorf("%s: %w", name, err)
	}
	switch {
	case bytes.HasPrefix(head[:n], []byte("\xef\xbb\xbf")):
		return 3, nil
	case bytes.HasPrefix(head[:n], []byte("\xff\xfe")), bytes.HasPrefix(head[:n], []byte("\xfe\xff")):
		return 0, faults{{File: name, Line: 1, Column: 1, What: "the file is in UTF-16: expected CSV in UTF-8"}}
	}
	return 0, nil
}

// next returns the cells of the next row, a *Fault where it is no CSV, or io.EOF.
func (w *walk) next() ([]string, error) {
	w.start = w.base + w.csv.InputOffset()
	w.src.row = w.start
	cells, err := w.csv.Read()
	switch {
	case errors.Is(err, io.EOF):
		return nil, io.EOF
	case errors.Is(err, errLongRow) || w.end()-w.start > mostRowBytes:
		return nil, w.tooLong()
	case err != nil:
		return nil, w.notCSV(err, cells)
	}
	return cells, nil
}

// end is the offset behind the last row.
func (w *walk) end() int64 { return w.base + w.csv.InputOffset() }

// lineOf returns the line on which a cell of the last row begins, counted from
// where the walk began.
func (w *walk) lineOf(cell int) int {
	line, _ := w.csv.FieldPos(cell)
	return line
}

// tooLong is the fault of a row beyond the bound.
func (w *walk) tooLong() error {
	w.goesOn = false
	return &fault{File: w.name, Line: lineAt(w.src.at, w.start), Column: 1, Name: w.lay.nameOf(1),
		What: "the row that begins here is longer than 1 MiB: expected one reading a row; look for a quotation mark that is not closed"}
}

// lineAt counts the lines of a file up to an offset.
func lineAt(src io.ReaderAt, offset int64) int {
	line, buf := 1, make([]byte, 1<<16)
	for off := int64(0); off < offset; {
		n, err := src.ReadAt(buf[:min(int64(len(buf)), offset-off)], off)
		line += bytes.Count(buf[:n], []byte{'\n'})
		off += int64(n)
		if err != nil && n == 0 {
			break
		}
	}
	return line
}

// notCSV says where the file breaks the rules of CSV. After a wrong number of
// cells the next row can be read; after a stray quotation mark it cannot.
func (w *walk) notCSV(err error, cells []string) error {
	var p *csv.ParseError
	if !errors.As(err, &p) {
		return fmt.Errorf("%s: %w", w.name, err)
	}
	f := &fault{File: w.name, Line: p.Line}
	w.goesOn = errors.Is(err, csv.ErrFieldCount)
	switch {
	case w.goesOn:
		f.Line, f.Column = p.StartLine, min(len(cells), w.width)+1
		f.What = fmt.Sprintf("the row has %d cells: expected %d, as many as the header", len(cells), w.width)
	case errors.Is(err, csv.ErrBareQuote):
		f.Column = w.cellOf(p)
		f.What = fmt.Sprintf("a quotation mark (character %d of the line) stands in a cell that is not quoted: expected the cell in quotation marks and the mark doubled", p.Column)
	default:
		f.Column = w.cellOf(p)
		f.What = fmt.Sprintf("the quoted cell of the row that begins on line %d is not closed as it should be (character %d of the line): expected a quotation mark, then a comma or the end of the line", p.StartLine, p.Column)
	}
	f.Name = w.lay.nameOf(f.Column)
	return f
}

// cellOf returns the number of the cell, from 1, in which a parse error lies of
// the row that was read last, or behind it after empty lines.
func (w *walk) cellOf(p *csv.ParseError) int {
	text := make([]byte, min(mostRowBytes, w.src.end-w.start))
	n, _ := w.src.at.ReadAt(text, w.start) // it was read a moment ago
	text = bytes.TrimLeft(text[:n], "\r\n")
	line, column, cell, quoted := p.StartLine, 1, 1, false
	for _, c := range text {
		if line == p.Line && column >= p.Column {
			break
		}
		switch {
		case c == '"':
			quoted = !quoted
		case c == ',' && !quoted:
			cell++
		}
		column++
		if c == '\n' {
			line, column = line+1, 1
		}
	}
	return cell
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
