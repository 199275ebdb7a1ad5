package sheet

import (
	"fmt"
	"slices"
	"strings"

	"example.org/readback/booking/check"
	"example.org/readback/booking/network"
	"example.org/readback/booking/page"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

// word is how the setup stands: as it was said when the tripod was lifted, else as
// it is now.
func (w *writer) word() page.Word {
	word := w.verdict.Word()
	if l := w.setup.Lift; l != nil && l.Verdict != "" {
		word = l.Verdict
	}
	word = strings.ToUpper(word)
	return page.Word{Text: word, Framed: word != "LIFT"}
}

// points are the verdict: every check not met with what explains and what settles
// it, then those that are met, then how the setup ended.
func (w *writer) points() page.Points {
	p := page.Points{Word: w.word()}
	add := func(lead, text string) {
		if text != "" {
			p.Items = append(p.Items, page.Point{Lead: lead, Text: sentence(text)})
		}
	}
	if w.setup.Void != nil { // nothing is judged, and nothing was read
		p.Word = page.Word{Text: "STRUCK", Framed: true}
		w.addEnd(add)
		return p
	}
	from := w.commonSource()
	var met []string
	said := map[string]int{}
	for _, c := range w.verdict.Checks {
		text := sentence(c.Text)
		if c.From != "" && c.From != from {
			text = strings.TrimSuffix(text, ".") + " (" + c.From + ")."
		}
		if c.Met {
			if c.Name == "rounds" { // where the least comes from belongs to those who have fewer
				text = sentence(c.Text)
			}
			if c.Name != "agreement" && c.Name != "misclosure" && c.Name != "repetition" {
				met = append(met, text)
			} else if said[c.Name] = said[c.Name] + 1; said[c.Name] == 1 {
				met = append(met, w.worst(c.Name, text))
			}
			continue
		}
		if said["not "+c.Name]++; c.Name == "agreement" && said["not "+c.Name] > 1 {
			continue
		}
		if c.Name == "agreement" && w.apart() > 1 {
			text = check.Apart(w.setup.Spec, w.red.Comparison)
		}
		if c.Again != "" && !w.later() {
			text += " To settle it: " + c.Again
		}
		add("Not met", text)
	}
	w.addSuspects(add)
	if from != "" {
		met = append(met, "Limits: "+from+".")
	}
	lead := "Met"
	if w.verdict.Lift {
		lead = "Every check is met"
	}
	add(lead, strings.Join(met, " "))
	w.addCentres(add)
	w.addEnd(add)
	return p
}

// addCentres says what stood beside its mark, and by how much its sights are turned and
// lengthened to the marks in figures.
func (w *writer) addCentres(add func(lead, text string)) {
	for _, c := range w.sheet.Book.Centres {
		if c.Setup != w.setup.Number {
			continue
		}
		text := c.Words(w.setup.Spec.Instrument.Unit) + "."
		for _, s := range network.CentredSights(w.sheet.Book.Known, c, check.Summarize(w.setup)) {
			text += " " + s
		}
		add("Beside its mark", text)
	}
}

// addSuspects names the readings that explain a misfit, and what settles it where
// the tripod could still have been kept. Where the rule holds on a suspect each is
// a check of its own, and so is what was said of one when the tripod was lifted.
func (w *writer) addSuspects(add func(lead, text string)) {
	found := w.verdict.Culprits
	held := func(name, text string) bool {
		return slices.ContainsFunc(w.verdict.Checks, func(c check.Check) bool {
			return !c.Met && c.Name == name && (text == "" || c.Text == text)
		})
	}
	if held("suspect", "") {
		return
	}
	for _, s := range found.Suspects {
		if !held("said", s.Text) {
			add("What does not fit", s.Text)
		}
	}
	if len(found.Suspects) > 0 && !w.later() {
		add("What settles it", found.Remedy.Text)
	}
}

// apart counts the checks of the rounds against each other that are not met.
func (w *writer) apart() int {
	n := 0
	for _, c := range w.verdict.Checks {
		if !c.Met && c.Name == "agreement" {
			n++
		}
	}
	return n
}

// worst says of the checks that every target or every half has what the worst one
// says: text where there is none.
func (w *writer) worst(name, text string) string {
	if name == "repetition" {
		var most reduce.Angle
		for _, r := range w.red.Comparison.Rounds {
			for _, x := range r.Repeated {
				if x.Off().Abs() > most.Abs() {
					most = x.Off()
				}
			}
		}
		return fmt.Sprintf("The means of %d repetitions agree with the single angles, most %s of %s.", w.setup.Spec.Repetitions, w.small(most), w.size(w.red.Comparison.Limits.ROMisclosure.Value))
	}
	if name == "agreement" {
		var most *reduction.TargetSpread
		for _, t := range w.red.Comparison.Targets {
			if len(t.Directions) > 1 && t.Agrees && (most == nil || t.Spread > most.Spread) {
				most = &t
			}
		}
		if most == nil {
			return text
		}
		return fmt.Sprintf("The rounds agree, most %s of %s (%s).", w.size(most.Spread), w.size(w.red.Comparison.Limit), most.Target)
	}
	var most reduce.Angle
	limit := w.red.Comparison.Limits.ROMisclosure.Value
	for _, r := range w.red.Comparison.Rounds {
		for _, x := range r.Closings {
			if m := x.Misclosure.Abs(); m <= limit && m > most.Abs() {
				most = x.Misclosure
			}
		}
	}
	what := "halves"
	if w.setup.Spec.Order != spec.ByHalves {
		what = "rounds"
	}
	return fmt.Sprintf("The %s close on %s, most %s of %s.", what, strings.Join(append([]string{w.setup.Spec.RO}, w.setup.Spec.MoreROs...), ", "), w.small(most), w.size(limit))
}

// commonSource is where the limits come from, when it is the same for all.
func (w *writer) commonSource() string {
	from := ""
	for _, c := range w.verdict.Checks {
		switch {
		case c.From == "":
		case from == "":
			from = c.From
		case from != c.From:
			return ""
		}
	}
	return from
}

// addEnd says what the crew decided beyond the plan, and how the setup ended.
func (w *writer) addEnd(add func(lead, text string)) {
	for _, a := range w.setup.Amended {
		text := late(a.AfterLift) + w.said(a.At, a.By) + ": " + strings.Join(a.Changes(), "; ")
		if a.Reason != "" {
			text += ". Reason: " + a.Reason
		}
		add("Amended", text)
	}
	for _, a := range w.setup.Added {
		add("One round more than planned", strings.TrimSuffix(a.By+": "+a.Reason, ": "))
	}
	var said []string
	for _, m := range w.setup.Remarks {
		if m.On == 0 && w.roundOf(m.At) == 0 {
			said = append(said, sentence(late(m.AfterLift)+w.said(m.At, m.By)+": "+m.Text))
		}
	}
	add("Remarks", strings.Join(said, " "))
	w.addDay(add)
	l := w.setup.Lift
	switch {
	case w.setup.Void != nil:
		add("Struck whole", w.said(w.setup.Void.At, w.setup.Void.By)+": "+w.setup.Void.Reason)
	case l == nil && w.later():
		add("Not closed", "the setup as far as it was keyed.")
	case l == nil:
		add("Not lifted yet", "the setup as it stood after its last event.")
	case l.Despite != "":
		add("Lifted on HOLD", fmt.Sprintf("%s: “%s”", w.said(l.At, l.By), l.Despite))
	case w.later():
		add("Closed on keying", "by "+l.By)
	default:
		add("Lifted", w.said(l.At, l.By))
	}
	if l != nil && l.Verdict != "" && l.Verdict != w.verdict.Word() {
		add("Worked anew", fmt.Sprintf("this version of the program says %s; the word in the title is what was said then", strings.ToUpper(w.verdict.Word())))
	}
}

// addDay says what was written down around the observing.
func (w *writer) addDay(add func(lead, text string)) {
	var weather, files []string
	for _, a := range w.setup.Airs {
		weather = append(weather, sentence(w.said(a.At, a.By)+": "+a.Words()))
	}
	for _, f := range w.setup.Files {
		files = append(files, sentence(w.said(f.At, f.By)+": "+f.Words()))
	}
	add("Weather", strings.Join(weather, " "))
	add("Files", strings.Join(files, " "))
	for _, p := range w.setup.Packed {
		add("Packed up", w.said(p.At, p.By)+": "+p.Words())
	}
}

// signatures are the lines to sign on.
func (w *writer) signatures() page.Signatures {
	return page.Signatures{{Who: "Observer", Name: w.setup.Spec.Observer}, {Who: "Booker", Name: w.setup.Spec.Booker}, {Who: "Checked by"}}
}

// heights are the instrument height before and after, struck ones too; their notes
// stand under the verdict.
func (w *writer) heights(notes *[]page.Note) page.Cell {
	var c page.Cell
	for _, closing := range []bool{false, true} {
		slot := spec.Slot{Quantity: spec.InstrumentHeight, Closing: closing}
		for _, f := range w.slot(slot, nil, notes) {
			if f.Role == page.Base {
				f.Text += " " + w.length()
			}
			if closing {
				f.Text = "after " + f.Text
			}
			if f.Mark > 0 {
				f.Small, f.Mark = fmt.Sprintf("note %d", f.Mark), 0
			}
			c = append(c, f)
		}
	}
	return c
}
