package instrument

import (
	"fmt"
	"strings"

	"example.org/readback/booking/page"
	"example.org/readback/reduce"
	"example.org/readback/reduce/fieldtest"
	"example.org/readback/reduce/precision"
)

// probability is that of the confidence interval and of the tests.
const probability = 0.95

// Page sets the report.
func (r FieldTest) Page() page.Page {
	name := r.Instrument.Name
	if r.Instrument.Serial != "" {
		name += " serial " + r.Instrument.Serial
	}
	var p page.Page
	p.Say("", "Field test after ISO 17123-3: "+name, "Setups: "+strings.Trim(fmt.Sprint(r.Setups), "[]"))
	for _, l := range r.Left {
		p.Say("", l.Sentence())
	}
	if h := r.Horizontal; h != nil {
		r.part(&p, "one direction observed once on both faces", *h)
	}
	if v := r.Vertical; v != nil {
		r.part(&p, "one altitude observed once on both faces", v.Test)
		p.Say("  ", fmt.Sprintf("Index error %s, standard deviation %.2f″: %s", reduce.FormatSigned(v.Index, reduce.DMS, 2), v.IndexSD, differs(v.IsZero, "zero")))
	}
	for _, m := range r.Missing {
		p.Add(page.Gap{})
		p.Say("", m)
	}
	p.Add(page.Gap{})
	p.Say("", "The standard asks for targets spread round the horizon, near it, 100 m to 250 m away. The weather belongs beside the result.")
	return p
}

// part sets one of the two tests.
func (r FieldTest) part(p *page.Page, of string, t fieldtest.Test) {
	form := "not a form of the standard"
	switch {
	case t.Full:
		form = "the full test"
	case t.AsStandard:
		form = "the short form"
	}
	p.Add(page.Gap{})
	p.Say("", "Standard deviation of "+of)
	p.Say("  ", "("+form+")")
	row := func(name string, s precision.Spread) []string {
		return []string{name, fmt.Sprintf("s %6.2f″", s.S), fmt.Sprintf("degrees of freedom %2d", s.Dof)}
	}
	var rows [][]string
	for i, s := range t.Series {
		rows = append(rows, row(fmt.Sprintf("series %d", i+1), s))
	}
	p.Add(series(rows...))
	setAgainst(p, t.Series)
	low, high := t.S.Confidence(probability)
	p.Add(series(append(row("all", t.S), fmt.Sprintf("95 %%: %.2f″ to %.2f″", low, high))))
	sigma := r.Instrument.Sigma.Seconds()
	test := t.S.AgainstStated(sigma, 1-probability)
	if !test.Possible {
		p.Say("  ", "The instrument's σ is not stated: there is nothing to hold this against.")
		return
	}
	limit := sigma * precision.StatedFactor(t.S.Dof, 1-probability)
	word := "is not larger than"
	if !test.Passed {
		word = "is larger than"
	}
	p.Say("  ", fmt.Sprintf("At 95 %% this %s the stated σ of %.2f″ (s up to %.2f″ passes).", word, sigma, limit))
}

// series sets rows of series: name, s, degrees of freedom, interval.
func series(rows ...[]string) page.Table {
	return page.Table{Indent: 2, Columns: []page.Column{{Cols: 8}, {}, {}, {}}, Groups: page.Rows(rows...)}
}

// setAgainst holds two series against each other, where there are two: F, both
// sides.
func setAgainst(p *page.Page, series []precision.Spread) {
	if len(series) != 2 {
		return
	}
	t := series[0].Against(series[1], 1-probability)
	if !t.Possible {
		p.Say("  ", "The two cannot be held against each other: one of them has no spread.")
		return
	}
	word := "do not differ"
	if !t.Passed {
		word = "differ"
	}
	p.Say("  ", fmt.Sprintf("At 95 %% the two series %s: s²/s² = %.2f, F from %.2f to %.2f.", word, t.Statistic, t.Low, t.High))
}

func differs(t precision.Test, from string) string {
	if t.Passed {
		return "at 95 % it does not differ from " + from + "."
	}
	return "at 95 % it differs from " + from + "."
}
