package page

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"strings"
)

// Text writes the page as plain text. Paragraphs are broken at width cells, 0:
// not at all; a table keeps its columns, whatever their width, but those that
// fold. Errors are those of w.
func Text(w io.Writer, p Page, width int) error {
	return writeText(w, func(out *bufio.Writer) { writeLines(out, lay(p.Blocks, width)) })
}

// String is the page as plain text; see Text.
func (p Page) String(width int) string {
	var b strings.Builder
	out := bufio.NewWriter(&b)
	writeLines(out, lay(p.Blocks, width))
	out.Flush()
	return b.String()
}

// Text writes the document as plain text, a form feed between two leaves. Errors
// are those of w.
func (d Document) Text(w io.Writer, width int) error {
	return writeText(w, func(out *bufio.Writer) {
		for i, l := range d.Leaves {
			if i > 0 {
				out.WriteString("\f\n")
			}
			writeLines(out, l.lines(width))
		}
	})
}

func writeText(w io.Writer, write func(*bufio.Writer)) error {
	out := bufio.NewWriter(w)
	write(out)
	if err := out.Flush(); err != nil {
		return fmt.Errorf("cannot write the text: %w", err)
	}
	return nil
}

func writeLines(out *bufio.Writer, ls []Line) {
	var b []byte
	for _, l := range ls {
		b = b[:0]
		for _, r := range l {
			b = append(b, r.Text...)
		}
		out.Write(append(bytes.TrimRight(b, " "), '\n'))
	}
}

// lines sets a leaf: what stands in the margins of the paper stands above and
// below.
func (l Leaf) lines(width int) []Line {
	var out []Line
	if l.Mark != "" {
		out = append(out, Para{Text: "*** " + l.Mark + " ***", Role: Stop}.lines(width)...)
	}
	title := strings.TrimSpace(strings.Join([]string{l.Kicker, l.Title, l.Aside, l.Strong}, " "))
	if l.Word.Text != "" {
		title += ": " + l.Word.Text
	}
	out = append(out, Para{Text: title, Role: Title}.lines(width)...)
	out = append(out, Line{{Base, strings.Repeat("=", width)}})
	if l.Banner != "" {
		out = append(out, Para{Text: l.Banner, Role: Strong}.lines(width)...)
	}
	out = append(out, lay(l.Blocks, width)...)
	if l.Signed != nil {
		out = append(out, l.Signed.lines(width)...)
	}
	foot := Page{}
	foot.Add(Gap{})
	for _, s := range []string{l.NoSign, l.Foot.Left, l.Foot.Below, l.Foot.Right} {
		if s != "" {
			foot.Say("", s)
		}
	}
	return append(out, lay(foot.Blocks, width)...)
}

// lay sets blocks into lines.
func lay(bs []Block, width int) []Line {
	var out []Line
	for _, b := range bs {
		switch b := b.(type) {
		case Gap:
			out = append(out, nil)
		case Para:
			out = append(out, b.lines(width)...)
		case Table:
			out = append(out, b.lines(width)...)
		case Facts:
			out = append(out, b.lines(width)...)
		case Points:
			out = append(out, b.lines(width)...)
		case Beside:
			out = append(out, lay(b.Left, width)...)
			out = append(out, lay(b.Right, width)...)
		case Signatures:
			out = append(out, b.lines(width)...)
		case Plot: // its values stand in a table
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

func (fs Facts) lines(width int) []Line {
	label := 0
	for _, f := range fs {
		label = max(label, Width(f.Label)+between)
	}
	var out []Line
	for _, f := range fs {
		value := f.Value
		for i := range f.Figures {
			if i > 0 {
				value += ", "
			}
			value += f.Figures[i].runs().String()
		}
		if value != "" {
			out = append(out, Para{Lead: f.Label + fill(label-Width(f.Label)), Text: value}.lines(width)...)
		}
	}
	return out
}

func (p Points) lines(width int) []Line {
	out := []Line{nil, {{Strong, Visible(p.Word.Text)}}}
	for _, i := range p.Items {
		text := i.Text
		if i.Lead != "" {
			text = i.Lead + ": " + text
		}
		for k, l := range Wrap(Visible(text), width-4) {
			indent := "  "
			if k > 0 {
				indent = "    "
			}
			out = append(out, Line{{Base, indent + l}})
		}
	}
	return out
}

func (s Signatures) lines(width int) []Line {
	var out []Line
	for _, k := range s {
		out = append(out, nil, Line{{Strong, Visible(strings.TrimSpace(k.Who+" "+k.Name) + ", date")}}, Line{{Base, strings.Repeat("_", width/2)}})
	}
	return out
}
