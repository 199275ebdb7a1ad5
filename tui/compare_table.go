package tui

import (
	"example.org/readback/booking/page"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/tui/look"
)

// comparison sets targets down and rounds across, the chosen one marked: directions where there is room for
// all of them, else the first and what the others differ from it. It is a table of
// the page model.
func (l *leaf) comparison(of *work, chosen int) {
	const spread = 9
	spec, rounds, w := of.setup.Spec, of.red.Rounds, l.room()
	name, full := 7, look.Width(fine(spec, widest()))+1
	for _, t := range spec.Targets {
		name = max(name, min(look.Width(t), w/5))
	}
	each, word := full, 8
	if across(comparisonColumns(name, full, each, len(rounds), spread, word)) > w {
		each = 9
	}
	fit := len(rounds)
	for fit > 1 && across(comparisonColumns(name, full, each, fit, spread, word)) > w {
		fit--
	}
	from := len(rounds) - fit
	if chosen > 0 {
		from = min(from, max(chosen-fit, 0))
	}
	rounds = rounds[from : from+fit]
	cols := comparisonColumns(name, full, each, fit, spread, word)
	if across(cols) > w { // the mark alone
		cols = comparisonColumns(name, full, each, fit, spread, 1)
	}
	head := make([]page.Cell, 1, len(cols))
	for _, r := range rounds {
		if r.Number == chosen {
			head = append(head, page.One("› round "+itoa(r.Number)+" ", page.Current))
			continue
		}
		head = append(head, page.One("round "+itoa(r.Number)+" ", page.Title))
	}
	rows := []page.Row{{Cells: append(head, page.One("spread", page.Title))}}
	for _, t := range of.red.Comparison.Targets {
		rows = append(rows, targetRow(spec, t, rounds, each < full, cols[len(cols)-1].Cols))
	}
	l.table(cols, rows...)
	if c := of.red.Comparison; len(c.Complete) > 2 {
		l.wrapped(look.Strong, 0, agreeing(c))
	}
	l.blank()
}

// comparisonColumns are the columns of the comparison: the name, the first round,
// the others, the spread, the word.
func comparisonColumns(name, first, each, n, spread, word int) []page.Column {
	cols := []page.Column{{Cols: name, Part: page.Name, Folds: true}, {Cols: first, Gap: 1, Right: true}}
	for range n - 1 {
		cols = append(cols, page.Column{Cols: each, Gap: 1, Right: true})
	}
	return append(cols, page.Column{Cols: spread, Gap: 1, Right: true}, page.Column{Cols: word, Gap: 1})
}

// targetRow is one target's directions, their spread, and whether they agree in a
// word of so many cells. Those behind the first say what they differ from it where
// they are brief.
func targetRow(spec spec.Spec, t reduction.TargetSpread, rounds []reduction.RoundWork, brief bool, word int) page.Row {
	row := page.Row{Cells: []page.Cell{page.One(t.Target, page.Base)}}
	var first *reduce.Direction
	for i, r := range rounds {
		d, ok := r.Direction(t.Target)
		text := ""
		switch {
		case !ok:
		case first != nil && brief:
			text = signed(spec, d.Sub(*first))
		case i > 0 && brief:
			text = "seen"
		default:
			text = fine(spec, d)
		}
		if ok && first == nil {
			first = &d
		}
		switch {
		case r.LeftOut != nil && ok:
			row.Cells = append(row.Cells, page.Cell{{Text: text, Struck: true}})
		case ok:
			row.Cells = append(row.Cells, page.One(text+" ", page.Base))
		default:
			row.Cells = append(row.Cells, nil)
		}
	}
	if len(t.Directions) > 1 {
		role, says := page.Base, "✓ agrees"
		if !t.Agrees {
			role, says = page.Stop, "✗ apart"
		}
		if word == 1 {
			says = string([]rune(says)[:1])
		}
		row.Cells = append(row.Cells, page.One(size(spec, t.Spread), page.Base), page.One(says, role))
	}
	return row
}
