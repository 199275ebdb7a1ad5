package tui

import (
	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/booking"
	"example.org/readback/reduce"
	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// the setupScreen is the form a setup is opened with. Enter goes from field to
// field as far as there is something to give, then opens the setup with the rest
// as it stands: behind the stated σ in the first setup of a book, behind the
// targets in any other, where the rest is as at the last one.
type setupScreen struct {
	form     widget.Form
	limits   booking.Limits // the defaults that stand in the form
	unit     reduce.Angle   // and what they are told in: seconds or milligon
	started  bool
	again    bool // an earlier setup filled the form
	names    []string
	stem     string // what was keyed of the word that is being completed
	at       int    // the name it was completed with, −1: none
	word     int    // where the word begins
	offered  []string
	lastFrom int
}

// enter fills the form from the last setup, unless it is half filled already.
func (s *setupScreen) enter(v *view) {
	s.names = knownNames(v)
	if !s.started || s.lastFrom != v.lastSetup {
		s.form = newForm(v.lastSpec, v.lastSetup > 0)
		s.started, s.again, s.lastFrom = true, v.lastSetup > 0, v.lastSetup
		s.limits, s.unit = booking.DefaultLimits(s.leastCount()), s.leastUnit()
	}
	s.forget()
}

// knownNames are the stations and targets of earlier setups, the latest first.
func knownNames(v *view) []string {
	var names []string
	seen := map[string]bool{}
	add := func(ns ...string) {
		for _, n := range ns {
			if n != "" && !seen[n] {
				seen[n] = true
				names = append(names, n)
			}
		}
	}
	if v.open {
		add(v.setup.Spec.Names()...)
		add(v.setup.Spec.Station)
	}
	for _, m := range v.list.setups {
		add(m.RO)
		add(m.Targets...)
		add(m.Station)
	}
	for _, k := range v.book.Known {
		add(k.Name)
	}
	return names
}

func (s *setupScreen) field(*view) input.Field { return input.Text }

func (s *setupScreen) press(v *view, p press) []ask {
	f := s.form.Field()
	switch {
	case p.name == "esc":
		return asks(goTo{onBooking})
	case p.is(keys.Back):
		if !s.form.Backspace() && s.form.Chosen == fStation && v.open {
			return asks(goTo{onBooking})
		}
		s.forget()
	case p.is(keys.Up):
		s.move(-1)
	case p.is(keys.Down), p.name == "tab":
		s.move(1)
	case p.is(keys.PageUp):
		s.move(-len(s.form.Fields))
	case p.is(keys.PageDown):
		s.move(len(s.form.Fields))
	case p.is(keys.Right) && isName(s.form.Chosen) && s.complete(1):
	case p.is(keys.Left) && isName(s.form.Chosen) && s.at >= 0 && s.complete(-1):
	case p.is(keys.Right):
		s.form.Walk(1)
	case p.is(keys.Left):
		s.form.Walk(-1)
	case p.name == "row" && p.row >= offerRow:
		s.takeOffer(p.row - offerRow)
	case p.name == "row" && p.row >= walkRow:
		s.form.Chosen = p.row - walkRow
		s.form.Walk(1)
	case p.name == "row":
		s.form.Chosen = p.row
		s.forget()
	case p.is(keys.Enter):
		return s.enterKey()
	case p.name == "":
		f.Problem = ""
		if !s.form.Insert(p.r) {
			return asks(say{text: "No more fits, or the character cannot stand there.", bad: true})
		}
		s.forget()
	}
	s.refresh()
	return nil
}

// Rows of touches: from walkRow on the answer of a field walks, from offerRow on
// a name on offer is taken.
const (
	walkRow  = 1000
	offerRow = 2000
)

func (s *setupScreen) move(n int) {
	s.form.Move(n)
	s.forget()
}

// enterKey goes on to the next field while there are names to give, and opens
// the setup where nothing is missing.
func (s *setupScreen) enterKey() []ask {
	if s.enterMoves() {
		s.move(1)
		return nil
	}
	spec, height, bad := s.spec()
	if bad >= 0 {
		s.form.Chosen = bad
		s.forget()
		return asks(say{text: s.form.Fields[bad].Label + ": " + s.form.Fields[bad].Problem, bad: true})
	}
	return asks(openSetup{spec: spec, height: height})
}

// enterMoves tells whether Enter goes on to the next field.
func (s *setupScreen) enterMoves() bool {
	if s.again && s.form.Chosen == fTargets {
		f := s.form.Fields
		return f[fDistances].At == 1 && f[fHeight].Value() == ""
	}
	if s.again {
		return s.form.Chosen < fTargets
	}
	return s.form.Chosen < fSigma
}

// refresh keeps the limits that nobody changed at what the least count gives.
func (s *setupScreen) refresh() {
	now, unit := booking.DefaultLimits(s.leastCount()), s.leastUnit()
	if now == s.limits && unit == s.unit {
		return
	}
	was, is := limitList(s.limits), limitList(now)
	for i := range was {
		f := &s.form.Fields[fRounds+limitOffset+i]
		if f.Text.Text() == smallText(was[i].Value, s.unit) {
			f.Text.Set(smallText(is[i].Value, unit))
		}
	}
	s.limits, s.unit = now, unit
}

func (s *setupScreen) keys(v *view) []key.Binding {
	enter := withHelp(keys.Open, "open the setup")
	if s.enterMoves() {
		enter = withHelp(keys.Open, "next")
	}
	ks := []key.Binding{enter, withHelp(keys.Up, "field"), withHelp(keys.Down, "field"), withHelp(keys.Right, "choose or complete"), withHelp(keys.PageDown, "last field")}
	if v.open || v.list.total > 0 {
		ks = append(ks, withHelp(bind("", "esc"), "back without it"))
	}
	return ks
}

func (s *setupScreen) draw(v *view, a widget.Area) {
	a = a.Inset(1, 0)
	title := "New setup"
	if s.again {
		title = "Next station: give the names; the rest is as at the last setup"
	}
	a.Text(0, 0, look.Title, widget.Cut(title, a.W))
	body := a.Sub(0, 2, a.W, a.H-2)
	if len(s.offered) > 0 {
		var foot widget.Area
		body, foot = body.Bottom(s.offerRows(v, body))
		s.drawOffers(v, foot)
	}
	s.form.Draw(body)
	for y := 0; y < body.H; y++ {
		i, ok := s.form.At(body.H, y)
		if !ok {
			continue
		}
		v.zones.add(body.Sub(0, y, body.W, 1), rowPress(i))
		if len(s.form.Fields[i].Choices) > 0 {
			v.zones.add(body.Sub(body.W/3, y, body.W, 1), rowPress(walkRow+i))
		}
	}
}
