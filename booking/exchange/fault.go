package exchange

import (
	"errors"
	"fmt"
	"strings"
)

// ErrFile is wrapped by every error about the contents of a readings file.
var ErrFile = errors.New("the readings file cannot be read")

// A fault is one thing that is wrong in a readings file, and where.
type fault struct {
	File   string
	Line   int    // as an editor counts: the header is line 1
	Column int    // of the cell in its row, from 1; 0 when it is no single cell
	Name   string // of the column
	What   string // what is wrong and what was expected
}

// Error says file, line, column and what was expected.
func (f *fault) Error() string {
	at := fmt.Sprintf("%s: line %d", f.File, f.Line)
	switch {
	case f.Column > 0 && f.Name != "":
		at += fmt.Sprintf(", column %d (%s)", f.Column, f.Name)
	case f.Column > 0:
		at += fmt.Sprintf(", column %d", f.Column)
	}
	return at + ": " + f.What
}

// Unwrap returns ErrFile.
func (f *fault) Unwrap() error { return ErrFile }

// faults are the first faults of a file, in its order.
type faults []*fault

// mostFaults is how many faults are gathered before reading stops.
const mostFaults = 20

// Error lists one fault a line.
func (fs faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap returns ErrFile.
func (fs faults) Unwrap() error { return ErrFile }

// quoted shows the text of a cell in a message, not more than a line of it.
func quoted(cell string) string {
	r := []rune(cell)
	if len(r) > 40 {
		return fmt.Sprintf("%q", string(r[:40])+"…")
	}
	return fmt.Sprintf("%q", cell)
}
