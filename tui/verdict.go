package tui

import (
	"fmt"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/network"
	"example.org/readback/reduce"
	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
	"github.com/charmbracelet/bubbles/key"
)

// the verdictScreen says Hold or Lift: each check that is not met with what to
// observe again, or the final angles and the packing-up list.
type verdictScreen struct {
	leaf leaf
	h    int
}

func (s *verdictScreen) enter(*view) { s.leaf.top = 0 }

func (s *verdictScreen) field(*view) input.Field { return input.Command }

func (s *verdictScreen) press(v *view, p press) []ask {
	lifted := v.setup.Lift != nil
	if by, ok := p.rows(s.h - 1); ok {
		s.leaf.scroll(by, s.h)
		return nil
	}
	switch {
	case lifted && p.is(keys.New):
		return asks(goTo{onSetup})
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
		return asks(addRound{"asked for"})
	}
	return nil
}

func (s *verdictScreen) keys(v *view) []key.Binding {
	if v.setup.Lift != nil {
		return []key.Binding{keys.New, keys.Work, keys.Page, keys.Figure, keys.Compare}
	}
	ks := []key.Binding{keys.Home}
	if !v.readOnly {
		lift := keys.Lift
		if !v.mayLift() {
			lift = withHelp(keys.Lift, "lift on Hold, with a reason")
		}
		ks = append(ks, lift)
		if v.red.Heights.After == nil {
			ks = append(ks, withHelp(keys.Height, "instrument height again"))
		}
		ks = append(ks, keys.Another)
	}
	return append(ks, keys.Compare, keys.Page, keys.Figure, keys.Down)
}

func (s *verdictScreen) draw(v *view, a widget.Area) {
	role, word, text := look.Stop, "HOLD", "The tripod stays. These checks are not met:"
	switch {
	case v.setup.Lift != nil && v.setup.Lift.Despite != "":
		word, text = "LIFTED", "Lifted on Hold: "+v.setup.Lift.Despite
	case v.setup.Lift != nil:
		role, word, text = look.Good, "LIFTED", "Every check was met."
	case v.verdict.Lift && len(v.misses) > 0:
		text = "The tripod stays. The checks of this station are met, but the figure misses its limit:"
	case v.verdict.Lift && !v.asks:
		role, word, text = look.Good, "LIFT", "Every check is met. Work through the list, then press T."
	case v.verdict.Lift:
		role, word, text = look.Good, "LIFT", "Every check is met so far. "+capital(slotWords(v.slot))+" is still called."
	}
	head, a := a.Top(3)
	head.Fill(role, ' ')
	x := bigWord(head, role, word)
	head.Sub(x, 0, head.W-x-1, 3).Paragraph(role, text)
	a = a.Inset(1, 0)
	s.leaf = leaf{now: -1, top: s.leaf.top}
	s.set(v, a.W)
	s.h = a.H
	s.leaf.scroll(0, a.H)
	s.leaf.draw(a, v.zones)
}

// set sets what stands under the verdict.
func (s *verdictScreen) set(v *view, w int) {
	s.checks(v, w, false)
	s.leaf.explain(v, w)
	s.figure(v, w)
	if v.mayLift() && v.setup.Lift == nil {
		s.packing(v, w)
	}
	if v.setup.Lift != nil {
		s.scored(v)
		s.next(v, w)
	}
	s.angles(v)
	s.checks(v, w, true)
	for _, t := range check.PrecisionOf(v.setup, v.red).Sentences() {
		s.leaf.wrapped(v.theme, look.Aside, 0, w, t)
	}
}

// checks lists the checks that are met, or those that are not.
func (s *verdictScreen) checks(v *view, w int, met bool) {
	title, mark, role := "Checks that are not met", "✗", look.Stop
	if met {
		title, mark, role = "Checks that are met", "✓", look.Base
	}
	first := true
	for _, c := range v.verdict.Checks {
		if c.Met != met {
			continue
		}
		if first {
			s.leaf.text(look.Title, 0, title)
			first = false
		}
		s.leaf.marked(v.theme, role, mark, w, c.Text)
		if !met && c.Again != "" {
			s.leaf.wrapped(v.theme, look.Strong, 2, w, capital(c.Again)+".")
		}
		if c.From != "" && !met {
			s.leaf.wrapped(v.theme, look.Aside, 2, w, "The limit comes from "+c.From+".")
		}
	}
	if !first {
		s.leaf.text(look.Base, 0, "")
	}
}

// figure says what this tripod closes and what misses its limit in the figure.
func (s *verdictScreen) figure(v *view, w int) {
	if len(v.standing) == 0 {
		return
	}
	s.leaf.text(look.Title, 0, "The figure")
	for _, c := range v.standing {
		switch {
		case c.Name == network.Cause || c.Name == network.StillOpen:
			s.leaf.marked(v.theme, look.Base, "·", w, c.Text)
		case c.Met:
			s.leaf.marked(v.theme, look.Base, "✓", w, c.Text)
		default:
			s.leaf.marked(v.theme, look.Stop, "✗", w, c.Text)
		}
		if !c.Met && c.Again != "" {
			s.leaf.wrapped(v.theme, look.Strong, 2, w, capital(c.Again)+".")
		}
	}
	s.leaf.text(look.Base, 0, "")
}

// packing is what is done before the tripod leaves the ground.
func (s *verdictScreen) packing(v *view, w int) {
	s.leaf.text(look.Title, 0, "Before the tripod is lifted")
	h := v.red.Heights
	tick, height := "□", "Measure the instrument height again: press I."
	if h.After != nil {
		tick, height = "✓", "The instrument height is measured again: "+lengthText(v.setup.Spec, h.After.Length())+"."
		if h.Before != nil {
			d := h.After.Length() - h.Before.Length()
			height += " Before it was " + lengthText(v.setup.Spec, h.Before.Length()) + ", a difference of " + lengthText(v.setup.Spec, d) + "."
		}
	}
	s.leaf.marked(v.theme, look.Base, tick, w, height)
	for _, t := range []string{
		fmt.Sprintf("Leave a mark on %s that can be sighted from the next station.", v.setup.Spec.Station),
		"Collect the targets that are not needed again.",
		"Keep one hand on the instrument until the fixing screw is home in its case.",
		"Keep rods and poles away from power lines. Watch traffic, rails, edges and water. Never sight the Sun.",
	} {
		s.leaf.marked(v.theme, look.Base, "□", w, t)
	}
	s.leaf.text(look.Base, 0, "")
}

// angles are the final directions and heights with their standard deviations.
func (s *verdictScreen) angles(v *view) {
	if len(v.red.Directions) == 0 {
		return
	}
	spec := v.setup.Spec
	s.leaf.text(look.Title, 0, "Angles from "+spec.RO)
	for _, d := range v.red.Directions {
		inks := []ink{
			{x: 0, w: 14, text: d.Target},
			{x: 15, w: 14, align: widget.Right, text: fine(spec, d.Direction), role: look.Strong},
		}
		t := count(d.Rounds, "round", "rounds")
		if v.red.Dof > 0 {
			t = fmt.Sprintf("s %s of the angle, %s, spread %s", roughly(spec, d.SD), t, size(spec, d.Spread))
		}
		s.leaf.add(append(inks, ink{x: 31, w: -1, text: t})...)
	}
	if v.red.Dof > 0 {
		s.leaf.text(look.Aside, 0, fmt.Sprintf("s₀ of one direction, both faces, one round: %s with %s.", roughly(spec, v.red.S0), count(v.red.Dof, "degree of freedom", "degrees of freedom")))
	}
	s.leaf.text(look.Base, 0, "")
	s.heights(v)
}

// roughly prints a standard deviation, given in seconds, in the unit of the setup.
func roughly(spec booking.Spec, seconds float64) string {
	if spec.Instrument.Unit == reduce.GonUnit {
		return fmt.Sprintf("%.1f mgon", seconds/reduce.Milligon.Seconds())
	}
	return fmt.Sprintf("%.1f″", seconds)
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
			s.leaf.text(look.Title, 0, "Altitudes")
			first = false
		}
		t := []string{x.Altitude.Format(spec.Instrument.Unit, spec.Instrument.Places()+1), gradientText(x)}
		if x.HasHorizontal {
			t = append(t, fmt.Sprintf("level %.3f m", x.Horizontal)+deviation(x.HorizontalSD))
		}
		if x.HasRise {
			t = append(t, decimalSigned("rise %+.3f m", x.Rise)+deviation(x.RiseSD))
		}
		s.leaf.add(ink{x: 0, w: 14, text: x.Target}, ink{x: 15, w: -1, text: strings.Join(t, ", ")})
	}
	if !first {
		s.leaf.text(look.Base, 0, "")
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
	s.leaf.text(look.Title, 0, "Score of the drill")
	for _, l := range strings.Split(strings.TrimRight(v.score, "\n"), "\n") {
		s.leaf.text(look.Base, 0, v.theme.Rewrite(l))
	}
	s.leaf.text(look.Base, 0, "")
}

// mayLift tells whether neither the setup nor the figures speak against lifting
// the tripod.
func (v *view) mayLift() bool { return v.verdict.Lift && len(v.misses) == 0 }

// holds says what speaks against lifting the tripod, in the setup and in the
// figures.
func (v *view) holds() []string { return append(v.verdict.Reasons(), v.misses...) }

// next says how to go on after the tripod was lifted.
func (s *verdictScreen) next(v *view, w int) {
	s.leaf.text(look.Title, 0, "Moving on")
	s.leaf.wrapped(v.theme, look.Base, 0, w, "Press N at the next station. The instrument and the crew are filled in; sight "+v.setup.Spec.Station+" from there.")
	s.leaf.text(look.Base, 0, "")
}
