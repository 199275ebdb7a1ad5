package sheet

import (
	"fmt"
	"strings"

	"example.org/readback/booking/page"
	"example.org/readback/booking/spec"
)

// leaves are the planned leaves of the setup.
func (w *writer) leaves() []page.Leaf {
	var said []page.Note // notes on the instrument height, which stands in the facts
	facts := w.facts(&said)
	rounds := w.roundTable()
	heights, _ := w.heightTable()
	points := w.points()
	points.Items = append(points.Items, notePoints(said)...)
	for _, d := range []page.Density{page.Roomy, page.Mid, page.Dense} {
		p := plan{w: w, density: d}
		p.one(facts, rounds, w.directionTables(d), heights, points)
		if len(p.leaves) == 1 {
			return w.number(p.leaves)
		}
	}
	p := plan{w: w, density: page.Dense}
	p.many(facts, rounds, w.directionTables(page.Dense), heights, points)
	return w.number(p.leaves)
}

func notePoints(ns []page.Note) []page.Point {
	var ps []page.Point
	for _, n := range ns {
		ps = append(ps, page.Point{Lead: fmt.Sprintf("Note %d", n.Mark), Text: n.Text})
	}
	return ps
}

// number writes into every leaf which of how many it is.
func (w *writer) number(ls []page.Leaf) []page.Leaf {
	for i := range ls {
		l := &ls[i]
		l.ID = w.id()
		if i > 0 {
			l.ID = fmt.Sprintf("%s-%d", w.id(), i+1)
			l.Aside, l.Strong = "continued", ""
		}
		l.Name = fmt.Sprintf("Setup %d, %s, page %d of %d", w.setup.Number, w.setup.Spec.Station, i+1, len(ls))
		l.Foot.Right = fmt.Sprintf("page %d of %d of this setup", i+1, len(ls))
	}
	return ls
}

// leaf is an empty leaf of the setup.
func (w *writer) leaf() page.Leaf {
	l := page.Leaf{Kicker: fmt.Sprintf("Setup %d", w.setup.Number), Title: w.setup.Spec.Station, Aside: "reference object", Strong: w.setup.Spec.RO, Word: w.word(), Foot: w.foot()}
	switch {
	case w.sheet.Book.Drill:
		l.Mark = drillMark
		l.Banner = "A simulated observer called these readings. Not a record of any observation."
	case w.later():
		l.Mark, l.Banner = "KEYED LATER FROM PAPER", w.keyed()
	}
	if w.sheet.Book.Drill && w.later() {
		l.Banner += " " + w.keyed()
	}
	if v := w.setup.Void; v != nil {
		l.Word = page.Word{Text: "STRUCK", Framed: true}
		l.Banner = strings.TrimSpace("Struck whole, " + sentence(w.said(v.At, v.By)+": "+v.Reason) + " " + l.Banner)
	}
	return l
}

// drillMark stands on every leaf of a drill.
const drillMark = "DRILL – not an observation"

// foot names book, setup and last event, by whose hash the leaf is matched to its
// book.
func (w *writer) foot() page.Foot {
	parts := []string{page.Visible(w.sheet.Name), page.Visible(fmt.Sprintf("setup %d %s", w.setup.Number, w.setup.Spec.Station)), fmt.Sprintf("last event %d", w.setup.LastSeq)}
	if n := len(w.sheet.Hash); n >= 8 {
		parts = append(parts, "hash "+w.sheet.Hash[:8])
	}
	f := page.Foot{Left: strings.Join(parts, " · "), Below: w.sheet.Hash}
	made := "made " + w.binder.Printed.In(w.zone).Format("2006-01-02 15:04") + " by readback " + w.binder.Program
	f.Below = strings.TrimSpace(f.Below + " · " + made)
	return f
}

// facts are who, where, when and with what.
func (w *writer) facts(notes *[]page.Note) page.Facts {
	s := w.setup.Spec
	job := w.sheet.Book.Job
	if job == "" {
		job = w.sheet.Name
	}
	crew := stated(s.Observer)
	if s.Booker != "" || !w.later() {
		crew += ", " + stated(s.Booker)
	}
	fs := page.Facts{{Label: "Job", Value: job}, {Label: "Client", Value: w.sheet.Book.Client}, {Label: "Place", Value: w.sheet.Book.Place}, {Label: "Observed", Value: w.observed()},
		{Label: "Instrument", Value: w.instrument()}, {Label: "Observer, booker", Value: crew}}
	if s.Distances || w.has(spec.InstrumentHeight) {
		fs = append(fs, page.Fact{Label: "Instrument height", Figures: w.heights(notes)})
	}
	return append(fs, page.Fact{Label: "Weather", Value: s.Weather})
}

// instrument names the instrument and what its crew states of it.
func (w *writer) instrument() string {
	i := w.setup.Spec.Instrument
	t := stated(i.Name)
	if i.Serial != "" {
		t += " no. " + i.Serial
	}
	t += ", least count " + leastCount(i)
	if i.Sigma > 0 {
		t += ", stated σ " + w.size(i.Sigma)
	}
	return t
}

// leastCount writes the least count in the unit of the circle.
func leastCount(i spec.Instrument) string {
	if i.Unit.Decimal() {
		return i.LeastCount.Format(i.Unit, i.Places()) + i.Unit.Mark()
	}
	return strings.TrimPrefix(i.LeastCount.FormatSeconds(i.Places()), "+")
}
