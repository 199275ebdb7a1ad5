package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/booking"
	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// the compareScreen holds the rounds against each other: every reduced direction
// per round, its spread and the limit, and which rounds agree.
type compareScreen struct {
	round int // chosen
	leaf  leaf
	h     int
}

func (s *compareScreen) enter(v *view) {
	s.leaf.top = 0
	if _, ok := v.setup.Round(s.round); !ok {
		s.round = len(v.setup.Rounds)
	}
}

func (s *compareScreen) field(*view) input.Field { return input.Command }

func (s *compareScreen) press(v *view, p press) []ask {
	n := len(v.setup.Rounds)
	switch {
	case p.is(keys.Left):
		s.round = max(s.round-1, min(n, 1))
	case p.is(keys.Right):
		s.round = min(s.round+1, n)
	case p.name == "row":
		s.round = min(p.row, n)
	case p.name == "" && p.r >= '1' && int(p.r-'0') <= n:
		s.round = int(p.r - '0')
	case p.is(keys.Up):
		s.leaf.scroll(-1, s.h)
	case p.is(keys.Down):
		s.leaf.scroll(1, s.h)
	case p.is(keys.Home), p.is(keys.Compare), p.is(keys.Enter):
		return asks(goTo{onBooking})
	case p.is(keys.Verdict):
		return asks(goTo{onVerdict})
	case p.is(keys.Page):
		return asks(goTo{onPage})
	case v.readOnly || v.setup.Lift != nil:
	case p.is(keys.LeaveOut) && s.canLeaveOut(v):
		return asks(write{leaveOutWriting(s.round)})
	case p.is(keys.TakeBack) && s.canTakeBack(v):
		return asks(write{takeBackWriting(s.round)})
	case p.is(keys.Another):
		return asks(addRound{"asked for"})
	}
	return nil
}

func (s *compareScreen) canLeaveOut(v *view) bool {
	_, err := v.setup.LeaveOut(s.round, "x")
	return err == nil
}

func (s *compareScreen) canTakeBack(v *view) bool {
	_, err := v.setup.TakeBack(s.round, "x")
	return err == nil
}

func (s *compareScreen) keys(v *view) []key.Binding {
	ks := []key.Binding{keys.Home}
	if len(v.setup.Rounds) > 1 {
		ks = append(ks, withHelp(keys.Left, "round"), withHelp(keys.Right, "round"))
	}
	if !v.readOnly {
		if s.canLeaveOut(v) {
			ks = append(ks, withHelp(keys.LeaveOut, fmt.Sprintf("leave round %d out", s.round)))
		}
		if s.canTakeBack(v) {
			ks = append(ks, withHelp(keys.TakeBack, fmt.Sprintf("take round %d back", s.round)))
		}
		ks = append(ks, keys.Another)
	}
	return append(ks, keys.Verdict, keys.Page)
}

func (s *compareScreen) draw(v *view, a widget.Area) {
	a = a.Inset(1, 0)
	a.Text(0, 0, look.Title, "Rounds against each other")
	c := v.red.Comparison
	if len(v.setup.Rounds) == 0 {
		a.Text(0, 2, look.Base, "No round is begun.")
		return
	}
	head := a.Sub(0, 1, a.W, 1)
	role, text := look.Good, "✓ "
	switch {
	case !compared(c):
		role, text = look.Warn, "! "
	case !c.Agrees:
		role, text = look.Stop, "✗ "
	}
	head.Text(0, 0, role, widget.Cut(v.theme.Rewrite(text+compareSentence(v.setup.Spec, c)), head.W))
	s.leaf = leaf{now: -1, top: s.leaf.top}
	s.leaf.comparison(v, a.W, s.round)
	s.state(v)
	s.leaf.explain(v, a.W)
	body := a.Sub(0, 3, a.W, a.H-3)
	if body.H >= 20 {
		var foot widget.Area
		body, foot = body.Bottom(min(body.H/2, len(v.setup.Spec.Targets)+2))
		drawResiduals(v, foot)
	}
	s.h = body.H
	s.leaf.scroll(0, body.H)
	s.leaf.draw(body, v.zones)
}

// compared tells whether a direction was seen in two rounds.
func compared(c booking.Comparison) bool {
	for _, t := range c.Targets {
		if len(t.Directions) > 1 {
			return true
		}
	}
	return false
}

// compareSentence says whether the rounds agree.
func compareSentence(spec booking.Spec, c booking.Comparison) string {
	switch {
	case !compared(c):
		return "One round alone agrees with nothing: observe another."
	case c.Agrees:
		return fmt.Sprintf("The rounds agree within %s.", size(spec, c.Limit))
	}
	var names []string
	for _, t := range c.Targets {
		if !t.Agrees {
			names = append(names, t.Target)
		}
	}
	if len(names) == 0 {
		return fmt.Sprintf("The rounds do not agree, limit %s: a round without %s differs.", size(spec, c.Limit), spec.RO)
	}
	return fmt.Sprintf("The rounds do not agree on %s, limit %s.", strings.Join(names, ", "), size(spec, c.Limit))
}

// state says of every round what became of it.
func (s *compareScreen) state(v *view) {
	for _, r := range v.red.Rounds {
		t := fmt.Sprintf("Round %d is incomplete.", r.Number)
		switch {
		case r.Void != nil:
			t = fmt.Sprintf("Round %d is void: %s.", r.Number, r.Void.Reason)
		case r.LeftOut != nil:
			t = fmt.Sprintf("Round %d is left out: %s.", r.Number, r.LeftOut.Reason)
		case r.Complete:
			t = fmt.Sprintf("Round %d is complete and counts.", r.Number)
		}
		mark, role := "  ", look.Base
		if r.Number == s.round {
			mark, role = "› ", look.Chosen
		}
		s.leaf.text(role, 0, mark+t)
		s.leaf.lines[len(s.leaf.lines)-1].row = r.Number
	}
	s.leaf.text(look.Base, 0, "")
}

// agreeing says which of more than two rounds agree with each other.
func agreeing(c booking.Comparison) string {
	if len(c.Agreeing) == 0 {
		return "No two rounds agree on every target."
	}
	var groups []string
	for _, g := range c.Agreeing {
		var ns []string
		for _, n := range g {
			ns = append(ns, itoa(n))
		}
		groups = append(groups, strings.Join(ns[:len(ns)-1], ", ")+" and "+ns[len(ns)-1])
	}
	return "Rounds " + strings.Join(groups, "; or ") + " agree with each other."
}
