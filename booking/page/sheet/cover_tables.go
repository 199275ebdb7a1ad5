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
	t := page.Table{Caption: "Stations", Explain: "s₀, spread and closing in ″, of decimal circles in mgon, ° or mil", Class: "stations", Columns: []page.Column{
		right("Setup", 10), {Head: "Station", MM: 25, Part: page.Name, Folds: true}, {Head: "RO", MM: 21, Folds: true}, right("Observed", 26), right("Rounds used", 16), right("s₀", 9), right("Spread, most", 17),
		right("RO closes, most", 20), right("Left out", 11), right("Struck", 10), {Head: "Verdict", Right: true, Part: page.Result}}}
	_, _, one := c.span()
	var g page.Group
	for _, w := range c.ws {
		role := page.Base
		if w.standing() != "LIFT" {
			role = page.Strong
		}
		row := page.Row{Stop: role == page.Strong}
		for _, s := range w.coverRow(one) {
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

func (w *writer) coverRow(oneDay bool) []string {
	observed, spread, closing, s0 := "–", "–", "–", "–"
	if from, to, ok := w.setup.Observed(); ok {
		if observed = w.minutes(from, to); !oneDay {
			observed = from.In(w.zone).Format("2 Jan ") + observed
		}
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
		for _, x := range r.Closings {
			if !ok || x.Misclosure.Abs() > most.Abs() {
				most, ok = x.Misclosure, true
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
			add(w, k.By, "keyed later")
		}
	}
	t := page.Table{Caption: "Crew", Class: "crew", Columns: []page.Column{{Head: "Who", Part: page.Name, Folds: true}, {Head: "Did", MM: 24}, {Head: "From", MM: 18, Right: true}, {Head: "To", MM: 18, Right: true}}}
	form := "2 Jan 15:04"
	if _, _, one := c.span(); one {
		form = "15:04"
	}
	var rows [][]string
	for _, s := range list {
		from, to := "–", "–"
		if !s.from.IsZero() && s.did != "keyed later" {
			from, to = s.from.In(c.binder.zone()).Format(form), s.to.In(c.binder.zone()).Format(form)
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
	t := page.Table{Caption: "Instrument " + name, Explain: "in " + reduce.SmallUnit(u), Class: "instruments",
		Columns: []page.Column{{Head: "State", Part: page.Name}, {Head: "Value", MM: 13, Right: true, Part: page.Result}, {Head: "sd", MM: 9, Right: true}, {Head: "Setup", MM: 11, Right: true}, {Head: "The one before", MM: 20, Right: true}, {Head: "Limit", MM: 10, Right: true}}}
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
		row := page.Row{Stop: s.Due, Cells: page.Cells(mark(!s.Due)+s.Name, reduce.FormatBare(last.Seconds, u, places), sd, fmt.Sprint(last.Setup), before, unsigned(i.Due.Seconds(), 0))}
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

// state sets the state of the instruments beside the crew, in as many lines as the
// book has instruments.
func (c *coverPlan) state(list []instrument.Instrument) {
	crew := []page.Table{c.crew()}
	for _, i := range list {
		left := instrumentTable(i)
		if len(left.Groups) == 0 {
			continue
		}
		p := plan{w: &writer{}, density: c.density}
		b, h := page.Beside{Left: []page.Block{left}}, p.besideMM(left)
		for _, t := range crew {
			b.Right, h = append(b.Right, t), max(h, p.besideMM(t))
		}
		if crew = nil; h < paperMM/2 {
			c.put(b, h)
			continue
		}
		for _, x := range append(b.Left, b.Right...) { // too long to stand side by side
			c.table(x.(page.Table))
		}
	}
	for _, t := range crew {
		c.table(t)
	}
}

// besideMM is the height of a table that has half the width of the paper.
func (p *plan) besideMM(t page.Table) float64 {
	h := p.table(t)
	for _, n := range t.Under {
		h += underMM * (lines(page.Width(n.Text), underLetters/2-8) - lines(page.Width(n.Text), underLetters))
	}
	return h
}

// files lists what is handed over with its hashes, set in groups of eight digits.
func (c *coverPlan) files() page.Table {
	t := page.Table{Caption: "Files handed over", Class: "files", Columns: []page.Column{{Head: "File", MM: 38, Part: page.Name, Folds: true}, {Head: "Holds", MM: 34, Folds: true}, {Head: "Bytes", MM: 18, Right: true}, {Head: "SHA-256", Part: page.Result, Folds: true}}}
	var rows [][]string
	for _, f := range c.binder.Cover.Files {
		var groups []string
		for h := range slices.Chunk([]byte(f.SHA256), 8) {
			groups = append(groups, string(h))
		}
		rows = append(rows, []string{page.Visible(f.Name), f.Holds, fmt.Sprint(f.Bytes), strings.Join(groups, " ")})
	}
	if len(rows) > 0 {
		t.Groups = page.Rows(rows...)
	}
	return t
}
