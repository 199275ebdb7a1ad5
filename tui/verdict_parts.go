package tui

import (
	"fmt"
	"slices"
	"strings"

	"example.org/readback/booking/check"
	"example.org/readback/booking/network"
	"example.org/readback/booking/page"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/decimal"
	"example.org/readback/tui/look"
	"example.org/readback/tui/plot"
)

// unmet lists the checks that are not met: what is out of its limit, and what is
// missing, which never look alike.
func (s *verdictScreen) unmet(v *view, w int) {
	first := true
	for _, missing := range []bool{false, true} {
		for _, c := range v.verdict.Checks {
			if c.Met || isMissing(c) != missing {
				continue
			}
			role, mark, word := look.Stop, "✗", "out of limit"
			switch {
			case missing:
				role, mark, word = look.Idle, "○", "missing"
			case c.Name == check.OnSuspect:
				word = "suspect"
			}
			s.leaf.draw(v.flag(role, mark, word, verdictWords, look.Ink, c.Text, w)...)
			at := v.hangAt(verdictWords, w) - v.edge()
			again := capital(c.Again)
			switch {
			case again == "":
			case first:
				s.leaf.wrapped(look.Strong, at, "▸ "+again+".")
				first = false
			case !missing:
				s.leaf.wrapped(look.Ink, at, again+".")
			}
			if t := v.whence(c); t != "" && !missing {
				s.leaf.wrapped(look.Quiet, at, t)
			}
			s.leaf.blank()
		}
	}
}

// held tells whether the tripod is held by a check of this name.
func (v *view) held(name string) bool {
	return slices.ContainsFunc(v.verdict.Checks, func(c check.Check) bool { return c.Name == name && !c.Met })
}

// whence says where the limit of a check comes from; of a suspect, how often a sound
// station is held for one, and whether others fit as well.
func (v *view) whence(c check.Check) string {
	switch {
	case c.From == "":
		return ""
	case c.Name != check.OnSuspect:
		return "The limit comes from " + c.From + "."
	case v.verdict.Culprits.Suspects[0].Alike:
		return "The suspects fit equally well: not all of them are wrong. Of sound stations, 3 in 100 are held so."
	}
	return "Of sound stations, 3 in 100 are held so."
}

// met lists the checks that are met.
func (s *verdictScreen) met(v *view) {
	var list []string
	for _, c := range v.verdict.Checks {
		if c.Met {
			list = append(list, c.Text)
		}
	}
	if len(list) == 0 {
		return
	}
	s.leaf.section("Checks met", fmt.Sprintf("%d of %d", len(list), len(v.verdict.Checks)))
	for _, t := range list {
		s.leaf.marked("✓", look.Ink, look.Ink, 0, t)
	}
	s.leaf.blank()
}

// figure says what this tripod closes and what misses its limit in the figure.
func (s *verdictScreen) figure(v *view) {
	if len(v.standing) == 0 {
		return
	}
	s.leaf.section("The figure", "")
	for _, c := range v.standing {
		switch {
		case c.Name == network.Cause || c.Name == network.StillOpen || c.Name == network.Advice:
			s.leaf.marked("·", look.Ink, look.Ink, 0, c.Text)
		case c.Met:
			s.leaf.marked("✓", look.Ink, look.Ink, 0, c.Text)
		default:
			s.leaf.marked("✗", look.Out, look.Strong, 0, c.Text)
		}
		if !c.Met && c.Again != "" {
			s.leaf.marked("▸", look.Accent, look.Strong, 0, capital(c.Again)+".")
		}
	}
	s.leaf.blank()
}

// directions are each target's rounds against the limit of their spread, with the
// direction that comes of them.
func (s *verdictScreen) directions(v *view, w int) {
	c := v.red.Comparison
	if !compared(c) {
		return
	}
	note := "by round"
	if s.leaf.stripsOf(&v.work, true).room == 0 { // without strips, whose scale says it
		note = "limit " + size(v.setup.Spec, c.Limit)
	}
	s.leaf.section("Directions from "+v.setup.Spec.RO, note)
	s.leaf.roundStrips(v, true)
	s.leaf.blank()
}

// precision is what the rounds say of their own precision.
func (s *verdictScreen) precision(v *view) {
	if v.red.Dof > 0 {
		s.leaf.section("Precision", "")
		for _, d := range v.red.Directions {
			s.leaf.named(d.Target, look.Ink, 15, fmt.Sprintf("s %s of the angle, %s", roughly(v.setup.Spec, d.SD), count(d.Rounds, "round", "rounds")), look.Quiet)
		}
		s.leaf.wrapped(look.Quiet, 0, fmt.Sprintf("s₀ of one direction, both faces, one round: %s with %s.", roughly(v.setup.Spec, v.red.S0), count(v.red.Dof, "degree of freedom", "degrees of freedom")))
	}
	for _, t := range check.PrecisionOf(v.setup, v.red).Sentences() {
		s.leaf.wrapped(look.Quiet, 0, t)
	}
}

// pairs draws 2c and the index error by pair at the left, the packing list beside
// them.
func (s *verdictScreen) pairs(v *view, w, half int, packing bool) {
	lw := v.edge() + half + v.margin()
	spec, limits := v.setup.Spec, v.red.Comparison.Limits
	draw := func(title string, p plot.Pairs, limit reduce.Angle, w int) leaf {
		l := v.leaf(w)
		if unit := scaleUnit(spec); unit != "" { // the labels have none
			title += ", " + unit
		}
		l.section(title, "limit "+reduce.WithoutWord(size(spec, limit), spec.Instrument.Unit))
		for _, line := range p.Draw(v.theme, l.room(), 6) {
			l.draw(v.theme.Row().To(v.edge()).Add(line, l.room()).String())
		}
		return l
	}
	one := draw("2c by pair", v.twoCByPair(), limits.TwoC.Value, lw)
	at := lw - v.margin() + 4 - v.edge()
	other := v.leaf(w - at)
	switch index := v.indexByPair(); {
	case packing:
		v.packing(&other)
	case len(index.Rounds) > 0:
		other = draw("Index error by pair", index, limits.Index.Value, w-at)
	}
	pair := one.view(len(one.lines))
	pair.beside(at, other.view(len(other.lines)))
	s.leaf.draw(pair.lines...)
	s.leaf.blank()
}

// packing is what is done before the tripod leaves the ground.
func (w *work) packing(l *leaf) {
	l.section("Before the tripod is lifted", "")
	h := w.red.Heights
	tick, height := "□", "Measure the instrument height again: press I."
	if h.After != nil {
		tick, height = "✓", "The instrument height is measured again: "+lengthText(w.setup.Spec, h.After.Length())+"."
		if h.Before != nil {
			d := h.After.Length() - h.Before.Length()
			height += " Before it was " + lengthText(w.setup.Spec, h.Before.Length()) + ", a difference of " + lengthText(w.setup.Spec, d) + "."
		}
	}
	item := func(tick, text string) {
		l.page(page.Page{Blocks: []page.Block{page.Para{Lead: tick + " ", Text: text}}})
	}
	item(tick, height)
	for _, t := range []string{
		fmt.Sprintf("Leave a mark on %s for the next station.", w.setup.Spec.Station),
		"Collect the targets not needed again.",
		"One hand on the instrument until its fixing screw is home in the case.",
		"Rods away from power lines. Watch traffic, rails, edges and water. Never sight the Sun.",
	} {
		item("□", t)
	}
	l.blank()
}

// roughly prints a standard deviation, given in seconds, in the unit of the setup.
func roughly(spec spec.Spec, seconds float64) string {
	if u := spec.Instrument.Unit; u.Decimal() {
		return reduce.FormatDeviation(seconds, u, 0)
	}
	return reduce.FormatDeviation(seconds, reduce.DMS, 1)
}

// heights are the altitudes and what follows from the distances.
func (s *verdictScreen) heights(v *view) {
	spec := v.setup.Spec
	first := true
	for _, x := range v.red.Verticals {
		if !x.HasPair {
			continue
		}
		if first {
			s.leaf.section("Altitudes", "")
			first = false
		}
		t := []string{x.Altitude.Format(spec.Instrument.Unit, spec.Instrument.Places()+1), gradientText(x)}
		if x.HasHorizontal {
			t = append(t, fmt.Sprintf("level %.3f m", x.Horizontal)+deviation(x.HorizontalSD))
		}
		if x.HasRise {
			t = append(t, decimal.Sprintf("rise %+.3f m", x.Rise)+deviation(x.RiseSD))
		}
		s.leaf.named(x.Target, look.Ink, 15, strings.Join(t, ", "), look.Ink)
	}
	if !first {
		s.leaf.blank()
	}
}

// deviation prints a standard deviation in metres behind what it is of, nothing
// where none was stated.
func deviation(sd float64) string {
	if sd <= 0 {
		return ""
	}
	return fmt.Sprintf(" (s %.1f mm)", 1000*sd)
}

// scored is the score of a drill so far.
func (s *verdictScreen) scored(v *view) {
	if v.score == "" {
		return
	}
	s.leaf.section("Score of the drill", "")
	for _, l := range strings.Split(strings.TrimRight(v.score, "\n"), "\n") {
		s.leaf.wrapped(look.Ink, 0, l)
	}
	s.leaf.blank()
}
