package page

import (
	"bytes"
	"fmt"
	"io"
)

// A galley is lines being set, from top to bottom. Their runs stand in one room behind
// each other: a file of readings has a page for each setup, and room of its own for
// every line of it was a tenth of all that reducing one costs.
type galley struct {
	lines []Line
	room  Line // the runs of the lines; those from begun on are of the one being set
	begun int
	bytes []byte
	cols  []measured // of the table being set
}

// clear takes all lines off, and what they say with them.
func (s *galley) clear() {
	clear(s.lines)
	clear(s.room)
	s.lines, s.room, s.begun = s.lines[:0], s.room[:0], 0
}

// run sets a run behind the others of its line.
func (s *galley) run(r Run) { s.room = append(s.room, r) }

// blanks sets so many of them.
func (s *galley) blanks(n int) {
	if n > 0 {
		s.run(Run{Text: fill(n)})
	}
}

// end ends the line, an empty one where nothing was set.
func (s *galley) end() {
	n := len(s.room)
	s.lines, s.begun = append(s.lines, s.room[s.begun:n:n]), n
}

// add adds lines that are set.
func (s *galley) add(ls ...Line) { s.lines = append(s.lines, ls...) }

// text is the lines as plain text, without blanks at their ends.
func (s *galley) text() []byte {
	b := s.bytes[:0]
	for _, l := range s.lines {
		from := len(b)
		for _, r := range l {
			b = append(b, r.Text...)
		}
		b = append(b[:from+len(bytes.TrimRight(b[from:], " "))], '\n')
	}
	s.bytes = b
	return b
}

// write writes the lines as plain text and takes them off.
func (s *galley) write(w io.Writer) error {
	_, err := w.Write(s.text())
	if s.clear(); err != nil {
		return fmt.Errorf("cannot write the text: %w", err)
	}
	return nil
}
