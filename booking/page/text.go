package page

import (
	"io"
	"strings"
)

// A Press writes one page after the other, in room that it takes again. The zero value
// is ready.
type Press struct{ galley }

// Text writes the page as plain text. Paragraphs are broken at width cells, 0:
// not at all; a table keeps its columns, whatever their width, but those that
// fold. Errors are those of w.
func (s *Press) Text(w io.Writer, p Page, width int) error {
	s.lay(p.Blocks, width)
	return s.write(w)
}

// String is the page as plain text; see Press.
func (p Page) String(width int) string {
	var s galley
	s.lay(p.Blocks, width)
	return string(s.text())
}

// Text writes the document as plain text, a form feed between two leaves. Errors
// are those of w.
func (d Document) Text(w io.Writer, width int) error {
	var s galley
	var bad error
	for i, l := range d.numbered(&bad) {
		if i > 0 {
			s.add(Line{{Base, "\f"}})
		}
		s.leaf(l, width)
		if err := s.write(w); err != nil {
			return err
		}
	}
	return bad
}

// leaf sets a leaf: what stands in the margins of the paper stands above and below.
func (s *galley) leaf(l Leaf, width int) {
	if l.Mark != "" {
		s.para(Para{Text: "*** " + l.Mark + " ***", Role: Stop}, width)
	}
	title := strings.TrimSpace(strings.Join([]string{l.Kicker, l.Title, l.Aside, l.Strong}, " "))
	if l.Word.Text != "" {
		title += ": " + l.Word.Text
	}
	s.para(Para{Text: title, Role: Title}, width)
	s.add(Line{{Base, strings.Repeat("=", width)}})
	if l.Banner != "" {
		s.para(Para{Text: l.Banner, Role: Strong}, width)
	}
	s.lay(l.Blocks, width)
	s.add(l.Signed.lines(width)...)
	foot := Page{}
	foot.Add(Gap{})
	for _, t := range []string{l.NoSign, l.Foot.Left, l.Foot.Below, l.Foot.Right} {
		if t != "" {
			foot.Say("", t)
		}
	}
	s.lay(foot.Blocks, width)
}

// lay sets blocks into lines.
func (s *galley) lay(bs []Block, width int) {
	for _, b := range bs {
		switch b := b.(type) {
		case Gap:
			s.end()
		case Para:
			s.para(b, width)
		case Table:
			s.table(b, width)
		case Facts:
			s.facts(b, width)
		case Points:
			s.add(b.lines(width)...)
		case Beside:
			s.lay(b.Left, width)
			s.lay(b.Right, width)
		case Signatures:
			s.add(b.lines(width)...)
		case Plot: // its values stand in a table
		}
	}
}

// para breaks a paragraph; the first line stands behind the lead, the others under
// it.
func (s *galley) para(p Para, width int) {
	if p.Whole || width <= 0 {
		s.behind(p, p.Lead, spaced(Visible(p.Text)))
		return
	}
	indent := Width(p.Lead)
	lead := p.Lead
	for _, text := range Wrap(Visible(p.Text), max(width-indent, 8)) {
		s.behind(p, lead, text)
		lead = fill(indent)
	}
}

// behind sets one line of a paragraph behind its lead.
func (s *galley) behind(p Para, lead, text string) {
	if lead != "" {
		s.run(Run{p.Role, lead})
	}
	s.run(Run{p.Role, text})
	s.end()
}

func (s *galley) facts(fs Facts, width int) {
	label := 0
	for _, f := range fs {
		label = max(label, Width(f.Label)+between)
	}
	for _, f := range fs {
		value := f.Value
		for i := range f.Figures {
			if i > 0 {
				value += ", "
			}
			value += f.Figures[i].runs().String()
		}
		if value != "" {
			s.para(Para{Lead: f.Label + fill(label-Width(f.Label)), Text: value}, width)
		}
	}
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
