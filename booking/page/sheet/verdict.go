package sheet

import (
	"fmt"
	"strings"

	"example.org/readback/booking/check"
	"example.org/readback/booking/instrument"
)

// verdictSection is the verdict with every check, figure and limit.
func (w *writer) verdictSection() section {
	v := check.JudgeReduction(w.setup, w.red)
	sec := section{Title: "Verdict: " + verdictWord(v)}
	sec.Table = &table{Head: []string{"Met", "Check", "Limit from"}, Words: true, Sources: true}
	for _, c := range v.Checks {
		met := "yes"
		text := visible(c.Text)
		if !c.Met {
			met = "NO"
			if c.Again != "" {
				text += " To mend it: " + sentence(visible(c.Again))
			}
		}
		sec.Table.Rows = append(sec.Table.Rows, row{Cells: cells(met, text, visible(c.From))})
	}
	sec.After = append(w.liftWords(), w.overrideWords()...)
	return sec
}

func verdictWord(v check.Verdict) string {
	if v.Lift {
		return "Lift"
	}
	return "Hold"
}

// liftWords say how the setup ended, with the verdict as it was said then.
func (w *writer) liftWords() []string {
	l := w.setup.Lift
	if l == nil {
		return []string{"The tripod has not been lifted: this sheet shows the setup as it stood after its last event."}
	}
	how := "The tripod was lifted"
	if w.setup.Spec.KeyedAfterwards != nil {
		how = "The setup was closed on keying it in"
	}
	ss := []string{fmt.Sprintf("%s, %s, by %s on the verdict %s.", how, w.date(l.At), visible(l.By), strings.ToUpper(visible(l.Verdict)))}
	for _, r := range l.Reasons {
		ss = append(ss, "Reason said then: "+sentence(visible(r)))
	}
	if l.Despite != "" {
		ss = append(ss, "Lifted all the same because: "+sentence(visible(l.Despite)))
	}
	return ss
}

// overrideWords gather what the crew decided against or beyond the plan.
func (w *writer) overrideWords() []string {
	var ss []string
	confirmed := 0
	for _, r := range w.setup.Readings {
		if r.Confirmed {
			confirmed++
		}
	}
	if confirmed > 0 {
		ss = append(ss, fmt.Sprintf("Readings booked although marked, each read again: %d. See the notes under the rounds.", confirmed))
	}
	for _, r := range w.setup.Rounds {
		if r.LeftOut != nil {
			ss = append(ss, sentence(fmt.Sprintf("Round %d is left out of the means by %s: %s", r.Number, visible(r.LeftOut.By), visible(r.LeftOut.Reason))))
		}
	}
	for _, a := range w.setup.Added {
		ss = append(ss, sentence(strings.TrimSuffix(fmt.Sprintf("One round more than planned, asked for by %s: %s", visible(a.By), visible(a.Reason)), ": ")))
	}
	return ss
}

// statedWords say how sure s₀ is, how it fits the stated σ, what slip the
// rounds would reveal, and the errors of the axes.
func (w *writer) statedWords() []string {
	return append(check.PrecisionOf(w.setup, w.red).Sentences(), instrument.SampleOf(w.setup).Sentences()...)
}

// remarkSection is the remarks on the setup.
func (w *writer) remarkSection() []section {
	var ss []string
	for _, m := range w.setup.Remarks {
		if m.On == 0 {
			ss = append(ss, sentence(fmt.Sprintf("%s, %s: %s", w.clock(m.At), visible(m.By), visible(m.Text))))
		}
	}
	if len(ss) == 0 {
		return nil
	}
	return []section{{Title: "Remarks", Lead: ss}}
}

// closingSections are what is signed and what is to be minded.
func (w *writer) closingSections() []section {
	return []section{
		{Title: "Signed", Whole: true, Lines: []string{"Observer", "Booker", "Checked"}},
		{Title: "Care", Whole: true, Lead: cautions[:]},
	}
}

// cautions stand on every setup's pages.
var cautions = [...]string{
	"Never sight the Sun, and let nobody look along a telescope near it, without a proper solar filter.",
	"Rods and poles near overhead lines kill. Traffic, railways, edges and water: the rules of the site come first.",
	"Keep one hand on the instrument until the fixing screw is home.",
	"This sheet records observations. Boundary, legal and safety-critical results belong to licensed practice and to the local code.",
}
