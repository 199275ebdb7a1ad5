package tui

import (
	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
	"github.com/charmbracelet/bubbles/key"
)

// the verdictScreen says Hold or Lift: each check that is not met with what to
// observe again, or the final angles and the packing-up list.
type verdictScreen struct {
	keptLeaf
	anew bool // a lifted setup is judged by today's rule too
}

func (s *verdictScreen) enter(*view) { s.leaf.top, s.anew, s.of = 0, false, setFor{} }

func (s *verdictScreen) field(*view) input.Field { return input.Command }

func (s *verdictScreen) press(v *view, p press) []ask {
	lifted := v.setup.Lift != nil
	switch {
	case s.scrolled(p):
	case lifted && p.is(keys.Anew):
		s.anew, s.of, s.leaf.top = !s.anew, setFor{}, 0
		return nil
	case lifted && p.is(keys.New):
		return asks(goTo{onSetup})
	case p.is(keys.Day):
		return asks(goTo{onDay})
	case p.is(keys.Work):
		return asks(goTo{onWork})
	case p.is(keys.Compare):
		return asks(goTo{onCompare})
	case p.is(keys.Page):
		return asks(goTo{onPage})
	case p.is(keys.Figure):
		return asks(showText{figureText})
	case p.is(keys.Home), p.is(keys.Verdict):
		return asks(goTo{onBooking})
	case lifted || v.readOnly:
	case p.is(keys.Height) && v.red.Heights.After == nil:
		return asks(choose{&booking.Slot{Quantity: booking.InstrumentHeight, Closing: true}}, goTo{onBooking})
	case p.is(keys.Lift) && v.mayLift():
		return asks(liftTripod{})
	case p.is(keys.Lift):
		return asks(write{liftWriting()})
	case p.is(keys.Another):
		return anotherRound("asked for")
	}
	return nil
}

func (s *verdictScreen) keys(v *view) []key.Binding {
	if v.setup.Lift != nil {
		return []key.Binding{keys.New, keys.Work, keys.Page, keys.Figure, keys.Anew, keys.Compare, keys.Day}
	}
	again := withHelp(keys.Height, "height again")
	var ks []key.Binding
	switch {
	case v.readOnly:
		ks = []key.Binding{keys.Home}
	case v.mayLift():
		ks = []key.Binding{keys.Lift, again, keys.Another, keys.Page, keys.Home}
	default:
		ks = []key.Binding{keys.Home, keys.Another, withHelp(keys.Lift, "lift on Hold, with a reason"), keys.Page, again}
	}
	if v.red.Heights.After != nil {
		ks = slices.DeleteFunc(ks, func(k key.Binding) bool { return k.Help().Desc == again.Help().Desc })
	}
	if v.readOnly {
		ks = append(ks, keys.Page)
	}
	return append(ks, keys.Compare, keys.Figure, keys.Work, keys.Down, keys.Day)
}

func (s *verdictScreen) draw(v *view, w, h int) block {
	var b block
	lift, text := v.headline()
	word := ""
	if v.setup.Lift != nil {
		word = "LIFTED"
	}
	b.add(verdictHead(v, word, lift, text, w)...)
	b.put(v.air())
	s.keptLeaf.draw(v, &b, w, h, 0, s.set)
	return b
}

// headline is the verdict in two or three short sentences; lift tells that
// nothing speaks against lifting.
func (v *view) headline() (lift bool, text []string) {
	met, out, missing := 0, 0, 0
	for _, c := range v.verdict.Checks {
		switch {
		case c.Met:
			met++
		case isMissing(c):
			missing++
		default:
			out++
		}
	}
	switch {
	case v.setup.Lift != nil && v.setup.Lift.Despite != "":
		return false, []string{"✗ Lifted on Hold: " + v.setup.Lift.Despite}
	case v.setup.Lift != nil:
		return true, []string{"✓ Every check was met.", "Press N at the next station."}
	case v.verdict.Lift && len(v.misses) > 0:
		return false, []string{"✗ The tripod stays.", "The checks of this station are met, but the figure misses its limit."}
	case v.verdict.Lift && !v.asks:
		return true, []string{"✓ Every check is met.", count(len(v.red.Comparison.Complete), "round", "rounds") + ", " + count(len(v.setup.Spec.Targets), "target", "targets") + ".", "Work through the list, then press T."}
	case v.verdict.Lift:
		return true, []string{"✓ Every check is met so far.", capital(slotWords(v.slot)) + " is still called."}
	}
	text = []string{"✗ The tripod stays.", countChecks(out, missing, met)}
	return false, text
}

// countChecks counts the checks in a sentence.
func countChecks(out, missing, met int) string {
	t := ""
	if out > 0 {
		t = count(out, "check", "checks") + " out of limit, "
	}
	if missing > 0 {
		t += itoa(missing) + " missing, "
	}
	return t + itoa(met) + " met."
}

// isMissing tells whether a check is not met because something is not observed
// yet, and not because a figure is out of its limit.
func isMissing(c check.Check) bool {
	switch c.Name {
	case "rounds", "complete", "verticals", "tied", "crew":
		return !c.Met
	}
	return false
}

// verdictHead draws the verdict: its word as tall as a face, and beside it what
// it says.
func verdictHead(v *view, word string, lift bool, text []string, w int) []string {
	t := v.theme
	role := look.StopWide
	if lift {
		role = look.Good
	}
	if word == "" {
		word = "HOLD"
		if lift {
			word = "LIFT"
		}
	}
	var lines []string
	if v.h < compH || v.w < compW {
		lines = append(lines, t.Row().To(v.edge()).Put(role, " "+word+" ").String())
		for i, s := range text {
			lines = append(lines, v.lines(v.edge(), headRole(i), s, w)...)
		}
		return lines
	}
	lines = append(lines, "")
	badge, bw := widget.Badge(t, role, word, 2)
	x := v.edge() + bw + 3
	var beside []string
	for i, s := range text {
		for _, l := range look.Wrap(s, w-x-v.margin()) {
			beside = append(beside, t.In(headRole(i), l))
		}
	}
	first := 1
	if len(beside) > 3 {
		first = 0
	}
	for i := 0; i < max(len(badge), first+len(beside)); i++ {
		row := t.Row().To(v.edge())
		if i < len(badge) {
			row.Add(badge[i], bw)
		}
		row.To(x)
		if k := i - first; k >= 0 && k < len(beside) {
			row.Add(beside[k], 0)
		}
		lines = append(lines, row.String())
	}
	return lines
}

func headRole(i int) look.Role {
	if i == 0 {
		return look.Strong
	}
	return look.Ink
}

// set sets what stands under the verdict.
func (s *verdictScreen) set(v *view, w int) {
	if s.anew && v.setup.Lift != nil {
		s.judgedAnew(v, w)
	}
	s.unmet(v, w)
	s.leaf.explain(v, w)
	s.figure(v, w)
	if v.setup.Lift != nil {
		s.scored(v, w)
	}
	s.directions(v, w)
	packing := v.mayLift() && v.setup.Lift == nil
	pairs := twoCByPair(v)
	half := (w - v.edge() - v.margin() - 4) * 2 / 5
	switch {
	case w >= 76 && len(pairs.Rounds) > 0:
		s.pairs(v, w, half, packing)
	case packing:
		s.packing(v, w)
	}
	s.met(v, w)
	s.heights(v, w)
	s.precision(v, w)
}

// mayLift tells whether neither the setup nor the figures speak against lifting
// the tripod.
func (v *view) mayLift() bool { return v.verdict.Lift && len(v.misses) == 0 }

// holds says what speaks against lifting the tripod, in the setup and in the
// figures.
func (v *view) holds() []string { return append(v.verdict.Reasons(), v.misses...) }
