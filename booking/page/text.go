package page

import (
	"bufio"
	"fmt"
	"io"
	"strings"
)

// Text writes the page as plain text. Paragraphs are broken at width cells, 0:
// not at all; a table keeps its columns, whatever their width. Errors are those
// of w.
func Text(w io.Writer, p Page, width int) error {
	out := bufio.NewWriter(w)
	for _, l := range lay(p, width) {
		out.WriteString(l.String())
		out.WriteByte('\n')
	}
	if err := out.Flush(); err != nil {
		return fmt.Errorf("cannot write the text: %w", err)
	}
	return nil
}

// String is the page as plain text; see Text.
func (p Page) String(width int) string {
	var b strings.Builder
	for _, l := range lay(p, width) {
		b.WriteString(l.String() + "\n")
	}
	return b.String()
}

// lay sets the blocks of a page into lines.
func lay(p Page, width int) []Line {
	var out []Line
	for _, b := range p.Blocks {
		switch b := b.(type) {
		case Gap:
			out = append(out, nil)
		case Para:
			out = append(out, b.lines(width)...)
		case Table:
			out = append(out, b.lines()...)
		}
	}
	return out
}

// lines breaks the paragraph; the first line stands behind the lead, the others
// under it.
func (p Para) lines(width int) []Line {
	indent := Width(p.Lead)
	switch {
	case p.Whole:
		width = 0
	case width > 0:
		width = max(width-indent, 8)
	}
	var out []Line
	for i, s := range Wrap(Visible(p.Text), width) {
		lead := p.Lead
		if i > 0 {
			lead = fill(indent)
		}
		l := Line{{p.Role, s}}
		if lead != "" {
			l = Line{{p.Role, lead}, {p.Role, s}}
		}
		out = append(out, l)
	}
	return out
}
