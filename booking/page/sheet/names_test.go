package sheet

import (
	"bytes"
	"html"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// tags matches what a browser does not read out, tspan among it.
var tags = regexp.MustCompile(`<[^>]*>`)

// No name is cut on a sheet: neither in the foot nor beside a drawing, on paper nor in
// plain text; a label of several lines stays within its room.
func TestSheet_CutsNoName(t *testing.T) {
	const tail = " pillar north-east of the spillway"
	was := slices.Clone(corners)
	for i := range corners {
		corners[i].name += tail
	}
	b := covered(t)
	copy(corners, was)
	b.Name, b.Annex = "Brackenfold dam with its crest, its galleries and its abutments, east bank.book", true
	for i := range b.Sheets {
		b.Sheets[i].Name = b.Name
	}
	var doc, text bytes.Buffer
	if err := b.HTML(&doc); err != nil {
		t.Fatal(err)
	}
	if err := b.Text(&text, 80); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(doc.String()+text.String(), "…") {
		t.Error("the end of something is left out")
	}
	read := squeeze(html.UnescapeString(tags.ReplaceAllString(strings.ReplaceAll(doc.String(), "</text>", " | "), "")))
	for _, c := range was {
		for _, want := range []string{c.name + tail + " |", c.name + tail + " (RO) |", "setup 1 Weir" + tail} {
			if n := strings.Count(read, want); n == 0 && c.name == "Weir" || strings.HasSuffix(want, tail+" |") && n < 2 {
				t.Errorf("%d times %q beside a drawing or in the foot", n, want)
			}
		}
	}
	if said := squeeze(text.String()); !strings.Contains(said, b.Name+" · setup 1 Weir"+tail) {
		t.Errorf("the foot lacks the names: %s", said[max(len(said)-400, 0):])
	}
}

// A label has its lines within its room by the measure of its letters, and is set
// smaller only for a word that has none.
func TestLabel(t *testing.T) {
	for _, tt := range []struct {
		text  string
		room  float64
		lines int
		small bool
	}{
		{"Weir", 12, 1, false}, {"Brackenfold dam crest pillar north-east 166°", 20, 3, false}, {"Brackenfold dam crest", 12, 2, true}, {strings.Repeat("W", 200), 12, 16, true},
	} {
		var b strings.Builder
		label(&b, "te", 40, 20, tt.room, -1, tt.text)
		lines := max(strings.Count(b.String(), "<tspan"), 1)
		if lines != tt.lines || strings.Contains(b.String(), "font-size") != tt.small {
			t.Errorf("%q in %g mm: %d lines, want %d, smaller %v: %s", tt.text, tt.room, lines, tt.lines, tt.small, b.String())
		}
		if got := tags.ReplaceAllString(b.String(), ""); strings.ReplaceAll(got, " ", "") != strings.ReplaceAll(tt.text, " ", "") {
			t.Errorf("%q became %q", tt.text, got)
		}
	}
}
