package sheet

import (
	"fmt"

	"example.org/readback/booking/check"
	"example.org/readback/booking/check/culprit"
)

// suspectSection names the readings that explain a misfit, as far as it can be
// told; there is none where nothing stands out.
func (w *writer) suspectSection() []section {
	found := check.Culprits(w.setup)
	if len(found.Suspects) == 0 {
		return nil
	}
	sec := section{Title: "What does not fit", Whole: len(found.Suspects) < 6,
		Table: &table{Head: []string{"Round", "Face", "Sighted", "What is suspected"}, Words: true}}
	for _, s := range found.Suspects {
		name := visible(s.Target)
		if s.Closing {
			name += " (closing)"
		}
		sec.Table.Rows = append(sec.Table.Rows, row{Cells: cells(roundOf(s), string(s.Face), name, sentence(visible(s.Text)))})
	}
	if found.Remedy.Text != "" {
		sec.After = append(sec.After, "To settle it: "+sentence(visible(found.Remedy.Text)))
	}
	return []section{sec}
}

// roundOf writes the round of a suspect, a dash where it cannot be told.
func roundOf(s culprit.Suspect) string {
	if s.Round == 0 {
		return "–"
	}
	return fmt.Sprint(s.Round)
}
