package exchange

import (
	"encoding/csv"
	"io"
)

// A recent reader keeps the bytes of the row being read, so that a fault in its
// quotation marks can be traced to a cell.
type recent struct {
	r    io.Reader
	kept []byte
	base int64 // offset of kept in the file
}

// Read reads on and keeps what was read.
func (r *recent) Read(p []byte) (int, error) {
	n, err := r.r.Read(p)
	r.kept = append(r.kept, p[:n]...)
	return n, err
}

// forget drops what lies before the offset, from time to time.
func (r *recent) forget(offset int64) {
	if n := offset - r.base; n > 1<<16 && n <= int64(len(r.kept)) {
		r.kept = append(r.kept[:0], r.kept[n:]...)
		r.base = offset
	}
}

// cellOf returns the number of the cell, from 1, in which a parse error lies of
// the row that begins at the offset, or behind it after empty lines.
func (r *recent) cellOf(p *csv.ParseError, offset int64) int {
	text := r.kept[min(max(offset-r.base, 0), int64(len(r.kept))):]
	for len(text) > 0 && (text[0] == '\n' || text[0] == '\r') {
		text = text[1:]
	}
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
