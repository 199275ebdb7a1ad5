package sheet

import (
	"fmt"
	"math"

	"example.org/readback/booking/page"
	"example.org/readback/booking/reduction"
	"example.org/readback/reduce"
)

const (
	// roundsBeside is how many rounds stand beside their directions; more stand in
	// tables of their own, roundsAcross in each.
	roundsBeside, roundsAcross = 6, 12

	directionMM, sdMM, roundMM, spreadMM = 22.0, 9.5, 9.5, 11.0
)

// shownRounds are the rounds that are compared: all but the void ones.
func (w *writer) shownRounds() []reduction.RoundWork {
	var rs []reduction.RoundWork
	for _, r := range w.red.Rounds {
		if r.Void == nil {
			rs = append(rs, r)
		}
	}
	return rs
}

// directionTables are the directions with the rounds compared.
func (w *writer) directionTables(d page.Density) []page.Table {
	if len(w.red.Directions) == 0 {
		return nil
	}
	rounds := w.shownRounds()
	beside := rounds
	if len(rounds) > roundsBeside {
		beside = nil
	}
	explain := "each round less the direction; sd, rounds and spread in " + w.smallUnit()
	t := page.Table{Caption: "Directions from " + w.setup.Spec.RO, Explain: explain, Class: "directions", Notes: w.id(), Columns: []page.Column{
		{MM: groupMM, Part: page.Sign}, {Head: "Target", MM: w.nameWidth(), Part: page.Name, Folds: true},
		{Head: "Direction", MM: directionMM, Right: true, Part: page.Result}, {Head: "sd", MM: sdMM, Right: true}, {Head: "From the one before", MM: directionMM, Right: true}}}
	for _, r := range beside {
		t.Columns = append(t.Columns, w.roundColumn(r))
	}
	t.Columns = append(t.Columns, page.Column{Head: "Spread", MM: spreadMM, Right: true}, page.Column{Head: "Limit " + w.size(w.red.Comparison.Limit) + ", between the bars", Part: page.Drawn})
	room := 180.0
	for _, c := range t.Columns {
		room -= c.MM
	}
	var before reduce.Direction
	var g page.Group
	for _, x := range w.red.Directions {
		g.Rows = append(g.Rows, w.directionRow(x, before, beside, strip{mm: room - 4, row: d.Row()}))
		before = x.Direction
	}
	t.Groups = []page.Group{g}
	t.Under = w.precisionNote()
	tables := []page.Table{t}
	if beside == nil {
		for from := 0; from < len(rounds); from += roundsAcross {
			tables = append(tables, w.roundsTable(rounds[from:min(from+roundsAcross, len(rounds))]))
		}
	}
	return tables
}

// roundColumn is the column of a round; one that is left out stands in brackets.
func (w *writer) roundColumn(r reduction.RoundWork) page.Column {
	c := page.Column{Head: fmt.Sprint(r.Number), MM: roundMM, Right: true}
	if r.LeftOut != nil {
		c.Head = "(" + c.Head + ")"
	}
	return c
}

// roundsTable is the rounds of a setup that has many, less the directions.
func (w *writer) roundsTable(rounds []reduction.RoundWork) page.Table {
	t := page.Table{Caption: fmt.Sprintf("Rounds %d to %d less the direction", rounds[0].Number, rounds[len(rounds)-1].Number), Explain: "in " + w.smallUnit(),
		Class: "directions", Columns: []page.Column{{MM: groupMM}, {Head: "Target", MM: w.nameWidth(), Part: page.Name, Folds: true}}}
	for _, r := range rounds {
		t.Columns = append(t.Columns, w.roundColumn(r))
	}
	t.Columns = append(t.Columns, page.Column{})
	var g page.Group
	for _, d := range w.red.Directions {
		row := page.Row{Cells: []page.Cell{nil, {{Text: d.Target}}}}
		for _, r := range rounds {
			row.Cells = append(row.Cells, page.One(w.departure(r, d), page.Base))
		}
		g.Rows = append(g.Rows, row)
	}
	t.Groups = []page.Group{g}
	return t
}

func (w *writer) directionRow(d reduction.DirectionResult, before reduce.Direction, rounds []reduction.RoundWork, s strip) page.Row {
	odd := w.odd(d)
	row := page.Row{Stop: !d.Agrees, Cells: []page.Cell{nil, {{Text: d.Target}}, page.One(w.direction(d.Direction), page.Strong)}}
	if row.Stop {
		row.Cells[0] = page.Cell{{Text: "✗", Words: "not met"}}
		row.Cells[2][0].Role = page.Base
	}
	sd, spread := "–", "–"
	if w.red.Dof > 0 {
		sd = w.seconds(d.SD, 1)
	}
	if d.Compared > 1 {
		spread = w.unsigned(d.Spread, 1)
	}
	row.Cells = append(row.Cells, page.One(sd, page.Base), page.One(w.direction(reduce.DirectionAt(d.Direction.From(before))), page.Base))
	for _, r := range rounds {
		role := page.Base
		if row.Stop && r.Number == odd {
			role = page.Strong
		}
		row.Cells = append(row.Cells, page.One(w.departure(r, d), role))
	}
	plot := s.draw(w, d)
	return page.Row{Stop: row.Stop, Cells: append(row.Cells, page.One(spread, page.Base), page.Cell{{Plot: &plot}})}
}

// departure writes the direction of a round less the adjusted one.
func (w *writer) departure(r reduction.RoundWork, d reduction.DirectionResult) string {
	own, ok := r.Direction(d.Target)
	if !ok {
		return "–"
	}
	return w.signed(own.Sub(d.Direction), 1)
}

// odd is the used round whose direction lies farthest from the middle of the
// others.
func (w *writer) odd(d reduction.DirectionResult) int {
	best, round := -1.0, 0
	for _, r := range w.red.Comparison.Rounds {
		if own, ok := r.Direction(d.Target); ok {
			if off := math.Abs(own.Sub(d.Direction).Seconds()); off > best {
				best, round = off, r.Number
			}
		}
	}
	return round
}

// precisionNote says what s₀ and sd are of, and which targets have no direction.
func (w *writer) precisionNote() []page.Note {
	r, ro := w.red, w.setup.Spec.RO
	var ns []page.Note
	for _, t := range r.Untied {
		ns = append(ns, page.Note{Text: fmt.Sprintf("No round ties %s to %s: it has no direction.", t, ro)})
	}
	if r.Dof == 0 {
		return append(ns, page.Note{Text: "No degrees of freedom: no standard deviation can be given."})
	}
	text := fmt.Sprintf("s₀ %s with %s: one direction, both faces, one round. sd of the angle from %s", w.deviation(r.S0, 1), freedom(r.Dof), ro)
	if n := len(r.Comparison.Rounds); n > 0 && n == len(r.Comparison.Complete) {
		text += fmt.Sprintf(", s₀·√(2/%d)", n)
	}
	return append(ns, page.Note{Text: text + ". Dots: round 1 at the top."})
}

// freedom counts degrees of freedom.
func freedom(dof int) string {
	if dof == 1 {
		return "1 degree of freedom"
	}
	return fmt.Sprintf("%d degrees of freedom", dof)
}
