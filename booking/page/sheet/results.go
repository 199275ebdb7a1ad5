package sheet

import (
	"fmt"
	"math"

	"example.org/readback/booking"
	"example.org/readback/reduce"
)

// roundsAcross is how many rounds stand side by side in one table.
const roundsAcross = 6

// directionSections are the comparison of the rounds and the final directions.
func (w *writer) directionSections() []section {
	var shown []booking.RoundWork
	for _, r := range w.red.Rounds {
		if r.Void == nil {
			shown = append(shown, r)
		}
	}
	if len(shown) == 0 {
		return nil
	}
	var secs []section
	for from := 0; from < len(shown); from += roundsAcross {
		secs = append(secs, w.comparison(shown[from:min(from+roundsAcross, len(shown))]))
	}
	last := &secs[len(secs)-1]
	last.After = append(last.After, w.deviationWords()...)
	return secs
}

// comparison sets the rounds side by side: each as its departure from the
// adjusted direction.
func (w *writer) comparison(rounds []booking.RoundWork) section {
	sec := section{Title: "Directions, and the rounds compared", Whole: len(w.red.Directions) < 14}
	sec.Lead = []string{"A round's column is its direction less the adjusted one. A round in brackets is left out."}
	head := []string{"Target", "Adjusted direction"}
	for _, r := range rounds {
		head = append(head, fmt.Sprintf("Round %d", r.Number))
	}
	sec.Table = &table{Head: append(head, "Spread", "Within limit", "sd")}
	for _, d := range w.red.Directions {
		cs := cells(visible(d.Target), w.direction(d.Direction))
		for _, r := range rounds {
			cs = append(cs, plain(w.departure(r, d)))
		}
		spread, within, sd := "–", "–", "–"
		if d.Compared > 1 {
			spread = w.size(d.Spread)
			within = map[bool]string{true: "yes", false: "no"}[d.Agrees]
		}
		if w.red.Dof > 0 {
			sd = w.deviation(d.SD, 1)
		}
		sec.Table.Rows = append(sec.Table.Rows, row{Cells: append(cs, cells(spread, within, sd)...)})
	}
	return sec
}

// departure writes the direction of a round less the adjusted one.
func (w *writer) departure(r booking.RoundWork, d booking.DirectionResult) string {
	own, ok := r.Direction(d.Target)
	if !ok {
		return "–"
	}
	s := w.departed(own.Sub(d.Direction))
	if r.LeftOut != nil {
		return "(" + s + ")"
	}
	return s
}

// departed writes a departure to a tenth of a second, or of a milligon.
func (w *writer) departed(a reduce.Angle) string {
	if w.gon() {
		return w.small(a)
	}
	return a.FormatSeconds(1)
}

// freedom counts degrees of freedom.
func freedom(dof int) string {
	if dof == 1 {
		return "1 degree of freedom"
	}
	return fmt.Sprintf("%d degrees of freedom", dof)
}

// deviationWords say which standard deviations are printed.
func (w *writer) deviationWords() []string {
	r, spec := w.red, w.setup.Spec
	var ss []string
	for _, t := range r.Untied {
		ss = append(ss, fmt.Sprintf("No round ties %s to %s: it has no direction.", visible(t), visible(spec.RO)))
	}
	if r.Dof == 0 {
		return append(ss, "There are no degrees of freedom: no standard deviation can be given.")
	}
	ss = append(ss, fmt.Sprintf("s₀ = %s with %s: the standard deviation of one direction observed on both faces in one round.", w.deviation(r.S0, 2), freedom(r.Dof)))
	text := "The column sd is that of the angle from the RO to the target, from the station adjustment"
	if n := len(r.Comparison.Rounds); n > 0 && n == len(r.Comparison.Complete) {
		text += fmt.Sprintf(": s₀·√(2/%d) with %d complete rounds. One mean direction has s₀/√%d = %s", n, n, n, w.deviation(r.S0/math.Sqrt(float64(n)), 2))
	}
	ss = append(ss, text+".")
	return append(ss, w.statedWords()...)
}
