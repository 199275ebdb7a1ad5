package sheet

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
)

// The template puts words before every name in a string of the style sheet: the
// first thing in such a string is taken for the scheme of an address, and a name
// with a colon would be refused.
//
//go:embed sheet.html
var sheetHTML string

// drillMark stands on every page of a drill.
const drillMark = "DRILL – not an observation"

// HTML writes the binder as one HTML file that needs nothing else: no script, no
// font and no picture from elsewhere. Errors are those of w.
func (b Binder) HTML(w io.Writer) error {
	t, err := template.New("sheet").Parse(sheetHTML)
	if err != nil {
		return fmt.Errorf("sheet template: %w", err)
	}
	data := struct {
		Title, Mark string
		Pages       []page
	}{Title: visible(b.Title()), Mark: drillMark}
	for _, s := range b.Sheets {
		data.Pages = append(data.Pages, b.page(s))
	}
	if err := t.Execute(w, data); err != nil {
		return fmt.Errorf("cannot write the sheet: %w", err)
	}
	return nil
}
