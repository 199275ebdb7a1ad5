package sheet

import (
	"fmt"
	"strings"

	"example.org/readback/booking/check"
	"example.org/readback/booking/instrument"
	"example.org/readback/booking/page"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// annex is what the judgement of the setup rests on: limits and where they come
// from, precision, drawings. Nobody signs it.
func (w *writer) annex() page.Leaf {
	l := w.leaf()
	l.ID = w.id() + "-annex"
	l.Name = fmt.Sprintf("Setup %d, %s, annex", w.setup.Number, w.setup.Spec.Station)
	l.Aside, l.Strong, l.Word = "annex to the sheet", "", page.Word{}
	l.Foot.Right = "annex of this setup, not signed"
	l.Density = page.Mid
	left, right := w.precision()
	l.Blocks = []page.Block{w.limitTable(), page.Beside{Left: paras(left), Right: paras(right)}}
	if t, ok := w.distanceDeviations(); ok {
		l.Blocks = append(l.Blocks, t)
	}
	if t, ok := w.distancesMade(); ok {
		l.Blocks = append(l.Blocks, t, page.Para{Text: strings.Join(w.red.MadeSentences(w.setup.Spec.Making, w.timeOfDay), " ")})
	}
	if p, ok := w.twoCPlot(); ok {
		l.Blocks = append(l.Blocks, p)
	}
	if len(w.red.Directions) > 0 {
		b := page.Beside{Left: []page.Block{w.horizon()}}
		if p, ok := w.residuals(); ok {
			b.Right = []page.Block{p}
		}
		l.Blocks = append(l.Blocks, b)
	}
	return l
}

func paras(ss []string) []page.Block {
	var bs []page.Block
	for _, s := range ss {
		bs = append(bs, page.Para{Text: s})
	}
	return bs
}

// limitTable lists what was held against the readings, what was found, and where
// the limit came from.
func (w *writer) limitTable() page.Table {
	l := w.red.Comparison.Limits
	t := page.Table{Caption: "Limits and where they come from", Class: "limits", Columns: []page.Column{
		{Head: "Check", MM: 74, Part: page.Name, Folds: true}, {Head: "Limit", MM: 24, Right: true}, {Head: "Found", MM: 24, Right: true}, {Head: "From", Folds: true}}}
	var spread, closing *reduction.Span
	for _, x := range w.red.Comparison.Targets {
		if len(x.Directions) > 1 {
			spread = spread.With(x.Spread)
		}
	}
	for _, r := range w.red.Comparison.Rounds {
		for _, x := range r.Closings {
			closing = closing.With(x.Misclosure.Abs())
		}
	}
	_, twoC := check.TwoC(w.setup, w.red)
	t.Groups = page.Rows(
		[]string{"Rounds agree: spread of a direction", w.size(l.Rounds.Value), w.most(spread), l.Rounds.From},
		[]string{"RO misclosure within a " + w.setup.Spec.Order.Stretch(), w.size(l.ROMisclosure.Value), w.most(closing), l.ROMisclosure.From},
		[]string{"Spread of 2c over the setup", w.size(l.TwoC.Value), w.width(twoC), l.TwoC.From},
		[]string{"Spread of the index error over the setup", w.size(l.Index.Value), w.width(w.red.Index), l.Index.From},
		[]string{"Figure of n angles", w.size(l.Figure.Value) + " × √n", "–", l.Figure.From})
	return t
}

// most writes the largest of a span, width its width; a dash where there is none.
func (w *writer) most(s *reduction.Span) string {
	if s == nil {
		return "–"
	}
	return w.size(s.Max)
}

func (w *writer) width(s *reduction.Span) string {
	if s == nil {
		return "–"
	}
	return w.size(s.Width())
}

// precision says, in two columns, how sure the spread is and what the instrument
// shows of itself; how the setup was worked; and the usual care.
func (w *writer) precision() (left, right []string) {
	s := w.setup.Spec
	left = append(left, check.PrecisionOf(w.setup, w.red).Sentences()...)
	if n := len(w.red.Comparison.Rounds); w.red.Dof > 0 && n > 0 && n == len(w.red.Comparison.Complete) {
		left = append(left, fmt.Sprintf("One mean direction of %d rounds has a standard deviation of %s.", n, w.deviation(rootShare(w.red.S0, n), 2)))
	}
	if s.CloseHalves {
		rule := "the mean of its opening and closing sights counts as one pointing"
		if s.ClosingRule == faces.ClosingSpread {
			rule = "the closing error is spread evenly over the round"
		}
		what := "Each half is closed on"
		if s.Order == spec.ByTarget {
			what = "Each round is closed on both faces on"
		}
		left = append(left, fmt.Sprintf("%s %s: %s.", what, s.RO, rule))
		if len(s.MoreROs) > 0 {
			left = append(left, fmt.Sprintf("Further reference objects, sighted again at the end as a check that goes into no mean: %s.", strings.Join(s.MoreROs, ", ")))
		}
	}
	if s.Order == spec.ByTarget {
		left = append(left, "Rounds observed target by target: face left, and at once face right.")
	}
	if s.Order == spec.ByRepetition {
		left = append(left, fmt.Sprintf("One angle by repetition, %d times on each face: its mean is (final − initial + whole circles) / %d, and 2c is that of the single sights.", s.Repetitions, s.Repetitions))
	}
	right = append(right, instrument.SampleOf(w.setup).Sentences()...)
	if w.has(spec.Vertical) {
		right = append(right, fmt.Sprintf("Vertical circle graduated from the %s. The altitude is the mean of both faces; the index error e is taken off every reading.", s.Instrument.Circle))
	}
	if s.Distances {
		right = append(right, fmt.Sprintf("Rises from mark to mark, with curvature and refraction, k = %g.", s.Refraction))
		if i := s.Instrument; i.DistanceSD > 0 {
			right = append(right, fmt.Sprintf("Stated σ of a distance: %g mm + %g mm per km.", float64(i.DistanceSD)/float64(lengths.Millimetre), i.DistancePPM))
		}
	}
	right = append(right, w.counts())
	return left, append(right, cautions)
}

// counts says how much the setup holds, and in which events of the book.
func (w *writer) counts() string {
	struck, confirmed := 0, 0
	for _, r := range w.setup.Readings {
		if !r.Stands() {
			struck++
		}
		if r.Confirmed {
			confirmed++
		}
	}
	text := fmt.Sprintf("%d readings booked, %d of them struck, %d booked although marked.", len(w.setup.Readings), struck, confirmed)
	if p := w.sheet.Book.Program; p != "" {
		text += " Book begun with readback " + p + "."
	}
	return text
}

// cautions stand on what the office keeps; the station page is a record only.
const cautions = "This sheet records observations. Boundary, legal and safety-critical results belong to licensed practice and to the local code."

// distanceDeviations is what the instrument's stated deviations make of horizontal
// distances and rises; ok is false where none is stated.
func (w *writer) distanceDeviations() (t page.Table, ok bool) {
	t = page.Table{Caption: "Standard deviations of distances and rises", Explain: "from the stated σ, in mm", Class: "limits", Columns: []page.Column{
		{Head: "Target", MM: 50, Part: page.Name, Folds: true}, {Head: "Horizontal", MM: 24, Right: true}, {Head: "Rise", MM: 24, Right: true}, {}}}
	var rows [][]string
	for _, v := range w.red.Verticals {
		if v.HorizontalSD > 0 || v.RiseSD > 0 {
			rows = append(rows, []string{v.Target, millimetres(v.HorizontalSD), millimetres(v.RiseSD)})
		}
	}
	t.Groups = page.Rows(rows...)
	return t, len(rows) > 0
}

// distancesMade is every distance made right, a row a line and a column a correction; ok
// is false where nothing is agreed.
func (w *writer) distancesMade() (t page.Table, ok bool) {
	t = page.Table{Caption: "Distances corrected", Explain: "in m, each correction as it is added", Class: "limits", Columns: []page.Column{
		{Head: "Target", MM: 40, Part: page.Name, Folds: true}, {Head: "Displayed", MM: 20, Right: true}, {Head: "Air", MM: 16, Right: true}, {Head: "Prism", MM: 16, Right: true},
		{Head: "To level", MM: 18, Right: true}, {Head: "Sea level", MM: 18, Right: true}, {Head: "Scale", MM: 16, Right: true}, {Head: "Horizontal", MM: 20, Right: true}, {}}}
	var rows [][]string
	for _, v := range w.red.Verticals {
		if d := v.Work; d != nil {
			rows = append(rows, append(append([]string{v.Target}, d.Lines()...), ""))
		}
	}
	t.Groups = page.Rows(rows...)
	return t, len(rows) > 0
}

// millimetres writes a standard deviation in metres; a dash where it is not known.
func millimetres(sd float64) string {
	if sd <= 0 {
		return "–"
	}
	return strings.TrimSpace(fmt.Sprintf("%.1f", 1000*sd))
}
