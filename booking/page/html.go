package page

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"iter"
	"strings"
	"unicode"
)

//go:embed page.html
var pageHTML string

//go:embed page.css
var pageCSS string

// HTML writes the document as one HTML file that needs nothing else: no script,
// no font and no picture from elsewhere. It prints on A4 and Letter, a leaf on
// each sheet of paper. Errors are those of w.
func (d Document) HTML(w io.Writer) error {
	t, err := template.New("page").Funcs(template.FuncMap{
		"see": Visible, "style": rowStyle, "kind": kind, "svg": svgOpen, "quote": quote, "last": func(i int, fs []Figure) bool { return i == len(fs)-1 },
		"inc": func(i int) int { return i + 1 }, "id": func(prefix, kind string, mark int) string { return fmt.Sprintf("%s%s%d", prefix, kind, mark) },
	}).Parse(pageHTML)
	if err != nil {
		return fmt.Errorf("page template: %w", err)
	}
	var bad error
	data := struct {
		Title  string
		Leaves iter.Seq2[int, Leaf]
		CSS    template.CSS
	}{d.Title, d.numbered(&bad), template.CSS(pageCSS)}
	err = t.Execute(w, data)
	if bad != nil {
		return bad
	}
	if err != nil {
		return fmt.Errorf("cannot write the page: %w", err)
	}
	return nil
}

// numbered walks the leaves with their numbers from 0, up to one that cannot be made: why
// is left in bad.
func (d Document) numbered(bad *error) iter.Seq2[int, Leaf] {
	return func(yield func(int, Leaf) bool) {
		i := 0
		for l, err := range d.Leaves {
			if err != nil {
				*bad = err
				return
			}
			if *bad != nil || !yield(i, l) {
				return
			}
			i++
		}
	}
}

// kind names a block for the template.
func kind(b Block) string { return strings.ToLower(strings.TrimPrefix(fmt.Sprintf("%T", b), "page.")) }

// quote writes lines as a string of the style sheet, every sign but plain letters,
// digits and blanks by its number: the template's own way takes what stands before
// a colon for an address and refuses it.
func quote(lines ...string) template.CSS {
	var b strings.Builder
	b.WriteByte('"')
	for i, l := range lines {
		if i > 0 {
			b.WriteString(`\a `)
		}
		for _, r := range Visible(l) {
			if r == ' ' || r < 0x80 && (unicode.IsLetter(r) || unicode.IsDigit(r)) {
				b.WriteRune(r)
			} else {
				fmt.Fprintf(&b, `\%x `, r)
			}
		}
	}
	b.WriteByte('"')
	return template.CSS(b.String())
}

// rowStyle tells the small screen's grid which row of its group a row is.
func rowStyle(i int) template.CSS { return template.CSS(fmt.Sprintf("--i:%d", i+1)) }

// svgOpen is the opening of a drawing with its size on paper.
func svgOpen(p Plot, class string) template.HTML {
	return template.HTML(fmt.Sprintf(`<svg class="%s" role="img" viewBox="0 0 %g %g" style="width:%gmm;height:%gmm" aria-label="%s">`,
		class, p.Width, p.Height, p.Width, p.Height, template.HTMLEscapeString(Visible(p.Alt))))
}

// Style is the width of a column as the template writes it.
func (c Column) Style() template.CSS {
	if c.MM == 0 {
		return ""
	}
	return template.CSS(fmt.Sprintf("width:%gmm", c.MM))
}

// Look names the class of the cells of a column.
func (c Column) Look() string {
	s := [...]string{"made", "name", "result", "sign", "drawn"}[c.Part]
	if c.Right {
		s += " n"
	}
	return s
}

// headed tells whether the rows of the table stand in groups with heads.
func (t Table) headed() bool {
	for _, g := range t.Groups {
		if g.Head != nil {
			return true
		}
	}
	return false
}

// NotesHead is the head of the column that holds the notes beside groups.
func (t Table) NotesHead() string { return "Notes and remarks" }

// A tableCell is a cell with the table it stands in, for the template.
type tableCell struct {
	Table Table
	Cell  Cell
}

// Of returns a cell with its table.
func (t Table) Of(c Cell) tableCell { return tableCell{t, c} }

// A tableNote is a note with what begins its name, for the template.
type tableNote struct {
	Notes string
	Note  Note
}

// With returns a note with what begins its name.
func (t Table) With(n Note) tableNote { return tableNote{t.Notes, n} }
