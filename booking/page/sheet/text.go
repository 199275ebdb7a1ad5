package sheet

import (
	"bufio"
	"fmt"
	"io"
	"strings"
)

// LeastWidth is the narrowest text sheet, in columns.
const LeastWidth = 60

// Text writes the binder as plain text of the given width for a terminal or a
// mail. Names too long for their column are broken over lines; figures never
// are, so a table with many rounds may be wider. Errors are those of w.
func (b Binder) Text(w io.Writer, width int) error {
	out := bufio.NewWriter(w)
	t := textWriter{out: out, width: max(width, LeastWidth)}
	for i, s := range b.Sheets {
		if i > 0 {
			fmt.Fprint(out, "\f\n")
		}
		t.page(b.page(s))
	}
	if err := out.Flush(); err != nil {
		return fmt.Errorf("cannot write the sheet: %w", err)
	}
	return nil
}

type textWriter struct {
	out   *bufio.Writer
	width int
}

func (t textWriter) page(p page) {
	if p.Drill {
		t.para("", "*** "+drillMark+" ***")
	}
	t.para("", fmt.Sprintf("SETUP %d: %s. %s.", p.Number, p.Station, p.State))
	t.rule("=")
	t.para("", "Readings between ~ signs are struck through; a number in brackets leads to the note below.")
	for _, s := range p.Sections {
		t.section(s)
	}
}

// labelWidth is the width of the labels of the head.
const labelWidth = 25

func (t textWriter) section(s section) {
	if s.Figure != "" {
		return
	}
	fmt.Fprintf(t.out, "\n%s\n", strings.ToUpper(s.Title))
	for _, f := range s.Fields {
		t.para(pad(f.Label, labelWidth, false), f.Value)
	}
	for _, l := range s.Lead {
		t.para("", l)
	}
	if s.Table != nil {
		t.table(*s.Table)
	}
	for _, n := range s.Notes {
		t.para(pad(fmt.Sprintf("[%d]", n.Mark), 5, false), n.Text)
	}
	for _, l := range s.Lines {
		fmt.Fprintf(t.out, "\n%s, date\n%s\n", l, strings.Repeat("_", t.width/2))
	}
	for _, l := range s.After {
		t.para("", l)
	}
}

func (t textWriter) rule(sign string) {
	fmt.Fprintln(t.out, strings.Repeat(sign, t.width))
}

// para writes text broken into lines, the first after lead, the others under it.
func (t textWriter) para(lead, text string) {
	indent := columns(lead)
	for i, l := range wrap(text, t.width-indent) {
		if i > 0 {
			lead = strings.Repeat(" ", indent)
		}
		fmt.Fprintln(t.out, strings.TrimRight(lead+l, " "))
	}
}

// table writes a table. The widest column of words gives way when it is too wide.
func (t textWriter) table(tb table) {
	widths := t.widths(tb)
	t.row(widths, cells(tb.Head...), tb.Words)
	t.rule("-")
	for i, r := range tb.Rows {
		if r.Foot && (i == 0 || !tb.Rows[i-1].Foot) {
			t.rule("-")
		}
		t.row(widths, r.Cells, tb.Words)
	}
}

// gutter is the room between two columns.
const gutter = 2

// widths are the columns' widths. Where the table does not fit, its head is
// broken at blanks, then the first column of figures, or the widest of words,
// narrowed.
func (t textWriter) widths(tb table) []int {
	widths, total := natural(tb, func(head string) []string { return []string{head} })
	if total > t.width {
		widths, total = natural(tb, strings.Fields)
	}
	for total > t.width {
		give := 0
		if tb.Words {
			for i := range widths {
				if widths[i] > widths[give] {
					give = i
				}
			}
		}
		if widths[give] <= 8 {
			break
		}
		widths[give]--
		total--
	}
	return widths
}

// natural is the widths that figures and the parts of the head need, and their
// sum with the gutters.
func natural(tb table, parts func(head string) []string) (widths []int, total int) {
	widths = make([]int, len(tb.Head))
	total = -gutter
	for i, h := range tb.Head {
		for _, part := range parts(h) {
			widths[i] = max(widths[i], columns(part))
		}
		for _, r := range tb.Rows {
			for _, l := range r.Cells[i] {
				widths[i] = max(widths[i], columns(textOf(l)))
			}
		}
		total += widths[i] + gutter
	}
	return widths, total
}

// row writes the cells of one row side by side, on as many lines as the tallest
// needs.
func (t textWriter) row(widths []int, cs []cell, words bool) {
	height := 1
	lines := make([][]string, len(cs))
	for i, c := range cs {
		for _, l := range c {
			lines[i] = append(lines[i], wrap(textOf(l), widths[i])...)
		}
		height = max(height, len(lines[i]))
	}
	for y := range height {
		var b strings.Builder
		for i := range cs {
			s := ""
			if y < len(lines[i]) {
				s = lines[i][y]
			}
			if i > 0 {
				b.WriteString(strings.Repeat(" ", gutter))
			}
			b.WriteString(pad(s, widths[i], i > 0 && !words))
		}
		fmt.Fprintln(t.out, strings.TrimRight(b.String(), " "))
	}
}

// textOf writes a figure: struck ones between signs that strike them out.
func textOf(l line) string {
	s := l.Text
	if l.Struck {
		s = "~" + s + "~"
	}
	if l.Mark > 0 {
		s += fmt.Sprintf("[%d]", l.Mark)
	}
	return s
}

// pad fills s with blanks to width columns.
func pad(s string, width int, right bool) string {
	fill := strings.Repeat(" ", max(width-columns(s), 0))
	if right {
		return fill + s
	}
	return s + fill
}

// wrap breaks s into lines of at most width columns, at blanks where there are
// any.
func wrap(s string, width int) []string {
	var lines []string
	cur := ""
	for _, word := range strings.Fields(s) {
		if cur != "" && columns(cur)+1+columns(word) <= width {
			cur += " " + word
			continue
		}
		if cur != "" {
			lines = append(lines, cur)
		}
		for columns(word) > width {
			head := cut(word, width)
			lines = append(lines, head)
			word = word[len(head):]
		}
		cur = word
	}
	return append(lines, cur)
}

// cut returns the longest start of s that is at most width columns, one
// character at least.
func cut(s string, width int) string {
	for i, r := range s {
		if i > 0 && columns(s[:i])+columns(string(r)) > width {
			return s[:i]
		}
	}
	return s
}
