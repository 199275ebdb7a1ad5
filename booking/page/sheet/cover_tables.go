package sheet

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/readback/booking/instrument"
	"example.org/readback/booking/page"
	"example.org/readback/reduce"
)

// stations lists the setups with verdict and time; one on HOLD is set strong.
func (c *coverPlan) stations() page.Table {
	right := func(head string, mm float64) page.Column { return page.Column{Head: head, MM: mm, Right: true} }
	t := page.Table{Caption: "Stations", Explain: "s₀, spread and closing in ″, in gon in mgon", Class: "stations", Columns: []page.Column{
		right("Setup", 11), {Head: "Station", MM: 29, Part: page.Name, Folds: true}, {Head: "RO", MM: 26, Folds: true}, right("Observed", 27), right("Rounds used", 15), right("s₀", 10), right("Spread, most", 14),
		right("RO closes, most", 16), right("Left out", 9), right("Struck", 10), {Head: "Verdict", Right: true, Part: page.Result}}}
	var g page.Group
	for _, w := range c.ws {
		role := page.Base
		if w.standing() != "LIFT" {
			role = page.Strong
		}
		row := page.Row{Stop: role == page.Strong}
		for _, s := range w.coverRow() {
			row.Cells = append(row.Cells, page.One(s, role))
		}
		g.Rows = append(g.Rows, row)
		if l := w.setup.Lift; l != nil && l.Despite != "" {
			t.Under = append(t.Under, page.Note{Text: fmt.Sprintf("Setup %d was lifted on HOLD, %s: “%s”.", w.setup.Number, w.said(l.At, l.By), l.Despite)})
		}
	}
	t.Groups = []page.Group{g}
	return t
}

func (w *writer) coverRow() []string {
	observed, spread, closing, s0 := "–", "–", "–", "–"
	if from, to, ok := w.setup.Observed(); ok {
		observed = from.In(w.zone).Format("2 Jan ") + w.minutes(from, to)
	}
	most, some := reduce.Angle(0), false
	for _, t := range w.red.Comparison.Targets {
		if len(t.Directions) > 1 {
			most, some = max(most, t.Spread), true
		}
	}
	if some {
		spread = w.unsigned(most, 1)
	}
	if m, ok := w.mostClosing(); ok {
		closing = w.signed(m, w.smallPlaces())
	}
	if w.red.Dof > 0 {
		s0 = w.seconds(w.red.S0, 1)
	}
	void, out, struck := 0, 0, 0
	for _, r := range w.setup.Rounds {
		switch {
		case r.Void != nil:
			void++
		case r.LeftOut != nil:
			out++
		}
	}
	for _, r := range w.setup.Readings {
		if r.LeftOut != nil {
			out++
		}
		if !r.Stands() {
			struck++
		}
	}
	return []string{fmt.Sprint(w.setup.Number), w.setup.Spec.Station, w.setup.Spec.RO, observed, fmt.Sprintf("%d of %d", len(w.red.Comparison.Rounds), len(w.setup.Rounds)-void),
		s0, spread, closing, fmt.Sprint(out), fmt.Sprint(struck), w.standing()}
}

// mostClosing is the largest misclosure of a half in the rounds that are used.
func (w *writer) mostClosing() (most reduce.Angle, ok bool) {
	for _, r := range w.red.Comparison.Rounds {
		for _, m := range []*reduce.Angle{r.ClosingFL, r.ClosingFR} {
			if m != nil && (!ok || m.Abs() > most.Abs()) {
				most, ok = *m, true
			}
		}
	}
	return most, ok
}

// crew lists who did what, and when.
func (c *coverPlan) crew() page.Table {
	type stint struct {
		who, did string
		from, to time.Time
	}
	var list []stint
	add := func(w *writer, who, did string) {
		if who == "" {
			return
		}
		from, to, ok := w.setup.Observed()
		i := slices.IndexFunc(list, func(s stint) bool { return s.who == who && s.did == did })
		if i < 0 {
			i, list = len(list), append(list, stint{who: who, did: did})
		}
		if ok && (list[i].from.IsZero() || from.Before(list[i].from)) {
			list[i].from = from
		}
		if ok && to.After(list[i].to) {
			list[i].to = to
		}
	}
	for _, w := range c.ws {
		add(w, w.setup.Spec.Observer, "observer")
		add(w, w.setup.Spec.Booker, "booker")
		if k := w.setup.Spec.KeyedAfterwards; k != nil {
			add(w, k.By, "keyed from paper")
		}
	}
	t := page.Table{Caption: "Crew", Class: "crew", Columns: []page.Column{{Head: "Who", MM: 60, Part: page.Name, Folds: true}, {Head: "Did", MM: 40}, {Head: "From", MM: 34, Right: true}, {Head: "To", MM: 34, Right: true}, {}}}
	var rows [][]string
	for _, s := range list {
		from, to := "–", "–"
		if !s.from.IsZero() && s.did != "keyed from paper" {
			from, to = s.from.In(c.binder.zone()).Format("2 Jan 15:04"), s.to.In(c.binder.zone()).Format("2 Jan 15:04")
		}
		rows = append(rows, []string{s.who, s.did, from, to})
	}
	t.Groups = page.Rows(rows...)
	return t
}

// instrumentTable is the state of an instrument at its last setup, and the one
// before.
func instrumentTable(i instrument.Instrument) page.Table {
	u, places := i.Unit, 1
	name := stated(i.Name)
	if i.Serial != "" {
		name += " no. " + i.Serial
	}
	unsigned := func(seconds float64, places int) string {
		return strings.TrimLeft(reduce.FormatBare(seconds, u, places), "+")
	}
	t := page.Table{Caption: "Instrument " + name, Explain: fmt.Sprintf("in %s; an adjustment is due at %s (%s)", reduce.SmallUnit(u), reduce.FormatDeviation(i.Due.Seconds(), u, 0), i.DueFrom),
		Class: "instruments", Columns: []page.Column{{MM: groupMM, Part: page.Sign}, {Head: "State", MM: 40, Part: page.Name}, {Head: "Last setup", MM: 20, Right: true}, {Head: "Value", MM: 20, Right: true, Part: page.Result}, {Head: "sd", MM: 16, Right: true}, {Head: "The one before", MM: 26, Right: true}, {Head: "Limit", MM: 20, Right: true}, {}}}
	var g page.Group
	for _, s := range i.Series {
		last := s.Last()
		before, sd := "–", "–"
		if n := len(s.Points); n > 1 {
			before = reduce.FormatBare(s.Points[n-2].Seconds, u, places)
		}
		if last.SD > 0 {
			sd = unsigned(last.SD, places)
		}
		row := page.Row{Cells: page.Cells("", s.Name, fmt.Sprint(last.Setup), reduce.FormatBare(last.Seconds, u, places), sd, before, unsigned(i.Due.Seconds(), 0))}
		if s.Due {
			row.Stop, row.Cells[0] = true, page.Cell{{Text: "✗", Words: "not met"}}
		}
		g.Rows = append(g.Rows, row)
	}
	if len(g.Rows) > 0 {
		t.Groups = []page.Group{g}
	}
	for _, s := range i.Sentences() {
		t.Under = append(t.Under, page.Note{Text: s})
	}
	return t
}
