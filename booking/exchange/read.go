package exchange

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
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

// A walk goes through the rows of a file, or of a stretch of one. Rows without a
// quotation mark are taken apart here, three times as fast as encoding/csv does
// it; from the first that has one on encoding/csv reads the rest.
type walk struct {
	name   string
	src    *bounded
	lay    layout
	width  int   // cells of the header; 0 before it is read
	start  int64 // offset in the file at which the last row begins
	goesOn bool  // after a fault: the next row can be read

	room, rest []byte // the buffer, and what of it is not walked through
	at         int64  // offset in the file behind the last row
	line       int    // of the last row
	lines      int    // read so far
	row        []byte // the last row without its end, until the next is read; nil where csv read it
	keeps      bool   // cells are kept: they are cut from one text for all of the buffer, not from one for each row
	text       string // that text: it ends where rest ends
	textAt     int    // where the last row begins in it
	fields     int    // cells that a row must have; 0: as many as the next has
	cells      []string

	csv  *csv.Reader // nil before the first quotation mark
	base int64       // offset in the file at which it began
	over int         // lines before that
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

// newWalk begins a walk through the bytes of a file from one offset to another, with
// the buffer given.
func newWalk(src io.ReaderAt, from, to int64, name string, buffer []byte) *walk {
	b := &bounded{at: src, off: from, end: to, row: from, readsBehind: int64(len(buffer))}
	return &walk{name: name, src: b, at: from, room: buffer}
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
	if err := w.pass(); err != nil {
		return nil, err
	}
	return w.split(), nil
}

// pass goes on to the next row; split and cell tell what is in it. Errors are those
// of next.
func (w *walk) pass() error {
	w.start = w.end()
	if w.csv == nil {
		quoted, err := w.passPlain()
		if !quoted {
			return err
		}
		w.quoted()
	}
	w.src.row, w.row = w.start, nil
	var err error
	w.cells, err = w.csv.Read()
	switch {
	case errors.Is(err, io.EOF):
		return io.EOF
	case errors.Is(err, errLongRow) || w.end()-w.start > mostRowBytes:
		return w.tooLong()
	case err != nil:
		return w.notCSV(err, len(w.cells))
	}
	return nil
}

// passPlain passes a row that has no quotation mark; where it has one nothing is
// passed.
func (w *walk) passPlain() (quoted bool, err error) {
	lines := w.lines
	for at := w.at; ; {
		line, err := w.readLine()
		begun := len(w.text) - len(w.rest) - len(line)
		if bytes.IndexByte(line, '"') >= 0 {
			w.at, w.lines = at, lines
			return true, nil
		}
		w.at += int64(len(line))
		switch {
		case errors.Is(err, errLongRow) || w.at-at > mostRowBytes:
			return false, w.tooLong()
		case err != nil && !errors.Is(err, io.EOF):
			return false, fmt.Errorf("%s: %w", w.name, err)
		case len(line) == 0:
			return false, io.EOF
		}
		w.lines++
		line = bytes.TrimSuffix(bytes.TrimSuffix(line, []byte{'\n'}), []byte{'\r'})
		if len(line) == 0 {
			continue
		}
		w.row, w.line, w.textAt = line, w.lines, begun
		n := bytes.Count(line, []byte{','}) + 1
		if w.fields == 0 {
			w.fields = n
		}
		if n != w.fields {
			return false, w.notCSV(&csv.ParseError{StartLine: w.line, Line: w.line, Column: 1, Err: csv.ErrFieldCount}, n)
		}
		return false, nil
	}
}

// readLine takes the next line with its end off the buffer; the last may have none.
// With io.EOF all is read, with errLongRow the line is too long.
func (w *walk) readLine() ([]byte, error) {
	for from := 0; ; {
		if n := bytes.IndexByte(w.rest[from:], '\n'); n >= 0 {
			line := w.rest[:from+n+1]
			w.rest = w.rest[from+n+1:]
			return line, nil
		}
		from = len(w.rest)
		if from > mostRowBytes {
			return w.rest, errLongRow
		}
		if from == len(w.room) {
			w.room = make([]byte, 2*from)
		}
		copy(w.room, w.rest)
		w.src.row = w.at
		n, err := w.src.Read(w.room[from:])
		if w.rest = w.room[:from+n]; w.keeps {
			w.text = string(w.rest)
		}
		if n == 0 && err != nil {
			line := w.rest
			w.rest = nil
			return line, err
		}
	}
}

// quoted leaves the rest, from the row at w.at on, to encoding/csv.
func (w *walk) quoted() {
	w.base, w.over = w.at, w.lines
	w.src.off, w.src.row = w.at, w.at
	w.csv = csv.NewReader(bufio.NewReaderSize(w.src, len(w.room)))
	w.csv.ReuseRecord, w.csv.FieldsPerRecord = true, w.fields
}

// split returns the cells of the last row, until the next is read.
func (w *walk) split() []string {
	if w.row == nil {
		return w.cells
	}
	w.cells = w.cells[:0]
	rest := ""
	if w.keeps {
		rest = w.text[w.textAt : w.textAt+len(w.row)]
	} else {
		rest = string(w.row)
	}
	for {
		i := strings.IndexByte(rest, ',')
		if i < 0 {
			w.cells = append(w.cells, rest)
			return w.cells
		}
		w.cells, rest = append(w.cells, rest[:i]), rest[i+1:]
	}
}

// setup returns the number of the setup of the last row as it is mostly written; ok
// is false where a closer look at the cell has to tell what is wrong with it.
func (w *walk) setup() (n int, ok bool) {
	if w.row == nil {
		return setupNumber(clean(w.cells[w.lay[colSetup]]))
	}
	cell := w.row
	for range w.lay[colSetup] {
		cell = cell[bytes.IndexByte(cell, ',')+1:]
	}
	if i := bytes.IndexByte(cell, ','); i >= 0 {
		cell = cell[:i]
	}
	if n, ok := setupNumber(cell); ok {
		return n, ok
	}
	return setupNumber(clean(string(cell)))
}

// blank tells whether every cell of the last row is empty, as spreadsheets write
// below a table.
func (w *walk) blank() bool {
	if w.row != nil && w.row[0] > ' ' && w.row[0] < utf8.RuneSelf && w.row[0] != ',' {
		return false
	}
	return blankRow(w.split())
}

// end is the offset behind the last row.
func (w *walk) end() int64 {
	if w.csv != nil {
		return w.base + w.csv.InputOffset()
	}
	return w.at
}

// lineOf returns the line on which a cell of the last row begins, counted from
// where the walk began.
func (w *walk) lineOf(cell int) int {
	if w.row != nil {
		return w.line
	}
	line, _ := w.csv.FieldPos(cell)
	return w.over + line
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
func (w *walk) notCSV(err error, cells int) error {
	var p *csv.ParseError
	if !errors.As(err, &p) {
		return fmt.Errorf("%s: %w", w.name, err)
	}
	p.Line, p.StartLine = p.Line+w.over, p.StartLine+w.over
	f := &fault{File: w.name, Line: p.Line}
	w.goesOn = errors.Is(err, csv.ErrFieldCount)
	switch {
	case w.goesOn:
		f.Line, f.Column = p.StartLine, min(cells, w.width)+1
		f.What = fmt.Sprintf("the row has %d cells: expected %d, as many as the header", cells, w.width)
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
