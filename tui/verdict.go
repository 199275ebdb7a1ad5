package tui

import (
	"example.org/readback/booking/check"
	"example.org/readback/booking/spec"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// the verdictScreen says Hold or Lift: each check that is not met with what to
// observe again, or the final angles and the packing-up list.
type verdictScreen struct {
	keptLeaf
	anew bool // a lifted setup is judged by today's rule too
}

func (s *verdictScreen) enter(*view) { s.keptLeaf, s.anew = keptLeaf{}, false }

func (s *verdictScreen) actions(v *view) []action {
	lifted, open := v.setup.Lift != nil, v.setup.Lift == nil && !v.readOnly
	why := ""
	switch {
	case lifted:
		why = noMore
	case !open:
		why = struckWhole
	}
	measured := why
	if v.red.Heights.After != nil && !lifted {
		measured = "The instrument height is measured again already: strike it to measure it once more."
	}
	home := gives(keys.Home, goTo{onBooking}).when(!lifted, "")
	page := gives(keys.Page, goTo{onPage})
	another := does(keys.Another, func() []ask { return anotherRound("asked for") }).when(open, why)
	height := gives(keys.Height, choose{&spec.Slot{Quantity: spec.InstrumentHeight, Closing: true}}, goTo{onBooking}).named("height again").when(open && v.red.Heights.After == nil, measured)
	lift := does(keys.Lift, func() []ask { return asks(write{liftWriting()}) }).named("lift on Hold, with a reason").when(open, why)
	compare, work := gives(keys.Compare, goTo{onCompare}), gives(keys.Work, goTo{onWork})
	figure, day := gives(keys.Figure, showText{figureText}), gives(keys.Day, goTo{onDay})
	anew := does(keys.Anew, func() []ask {
		s.keptLeaf, s.anew = keptLeaf{}, !s.anew
		return nil
	}).when(lifted, "")
	next := gives(keys.New, goTo{onSetup}).when(lifted, "The tripod stands: lift it, or go to the work list for another station.")
	rest := []action{compare, figure, work, does(keys.Down, nil), day, anew, next}
	var first []action
	switch {
	case lifted:
		first, rest = []action{next, work, page, figure, anew, compare, day}, []action{lift, height, another}
	case !open:
		first = []action{home, page, lift, height, another}
	case v.mayLift():
		lift = gives(keys.Lift, liftTripod{}).when(open, why)
		first = []action{lift, height, another, page, home}
	default:
		first = []action{home, another, lift, page, height}
	}
	return append(append(first, rest...), too(func() []ask { return asks(goTo{onBooking}) }, keys.Home, keys.Verdict)...)
}

func (s *verdictScreen) draw(v *view, w, h int) block {
	var b block
	lift, text := v.headline()
	word := ""
	if v.setup.Lift != nil {
		word = "LIFTED"
	}
	b.add(v.verdictHead(word, lift, text, w)...)
	b.put(v.air())
	s.keptLeaf.draw(v, &b, w, h, 0, s.set)
	return b
}

// headline is the verdict in two or three short sentences; lift tells that
// nothing speaks against lifting.
func (v *view) headline() (lift bool, text []string) {
	met, out, missing, suspects := 0, 0, 0, 0
	for _, c := range v.verdict.Checks {
		switch {
		case c.Met:
			met++
		case isMissing(c):
			missing++
		case c.Name == check.OnSuspect:
			suspects++
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
	text = []string{"✗ The tripod stays.", countChecks(out, suspects, missing, met)}
	return false, text
}

// countChecks counts the checks in a sentence.
func countChecks(out, suspects, missing, met int) string {
	t := ""
	if out > 0 {
		t = count(out, "check", "checks") + " out of limit, "
	}
	if suspects > 0 {
		t += count(suspects, "suspect", "suspects") + ", "
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
func (f *frame) verdictHead(word string, lift bool, text []string, w int) []string {
	t := f.theme
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
	if f.h < compH || f.w < compW {
		lines = append(lines, t.Row().To(f.edge()).Put(role, " "+word+" ").String())
		for i, s := range text {
			lines = append(lines, f.lines(f.edge(), headRole(i), s, w)...)
		}
		return lines
	}
	badge, bw := widget.Badge(t, role, word, 2)
	x := f.edge() + bw + 3
	var beside []string
	for i, s := range text {
		beside = append(beside, f.inLines(headRole(i), s, w-x-f.margin())...)
	}
	first := 1
	if len(beside) > 3 {
		first = 0
	}
	return append([]string{""}, f.hung(badge, bw, x, first, beside)...)
}

// hung puts lines beside tall letters that are bw cells wide, at column x, from one of
// their rows on.
func (f *frame) hung(tall []string, bw, x, first int, beside []string) (lines []string) {
	for i := range max(len(tall), first+len(beside)) {
		row := f.theme.Row().To(f.edge())
		if i < len(tall) {
			row.Add(tall[i], bw)
		}
		if k := i - first; k >= 0 && k < len(beside) {
			row.To(x).Add(beside[k], 0)
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
		s.judgedAnew(v)
	}
	s.unmet(v, w)
	s.leaf.explain(v, v.held(check.OnSuspect))
	s.figure(v)
	if v.setup.Lift != nil {
		s.scored(v)
	}
	s.directions(v, w)
	packing := v.mayLift() && v.setup.Lift == nil
	pairs := v.twoCByPair()
	half := (w - v.edge() - v.margin() - 4) * 2 / 5
	switch {
	case w >= 76 && len(pairs.Rounds) > 0:
		s.pairs(v, w, half, packing)
	case packing:
		v.packing(&s.leaf)
	}
	s.met(v)
	s.heights(v)
	s.precision(v)
}

// mayLift tells whether neither the setup nor the figures speak against lifting
// the tripod.
func (v *view) mayLift() bool { return v.verdict.Lift && len(v.misses) == 0 }

// holds says what speaks against lifting the tripod, in the setup and in the
// figures.
func (v *view) holds() []string { return append(v.verdict.Reasons(), v.misses...) }
