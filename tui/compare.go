package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/booking"
	"example.org/readback/reduce"
	"example.org/readback/tui/guard"
	"example.org/readback/tui/part"
	"example.org/readback/tui/theme"
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

func (s *compareScreen) field(*view) guard.Field { return guard.Command }

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

func (s *compareScreen) draw(v *view, a part.Area) {
	a = a.Inset(1, 0)
	a.Text(0, 0, theme.Title, "Rounds against each other")
	c := v.red.Comparison
	if len(v.setup.Rounds) == 0 {
		a.Text(0, 2, theme.Base, "No round is begun.")
		return
	}
	head := a.Sub(0, 1, a.W, 1)
	role, text := theme.Good, "✓ "
	switch {
	case !compared(c):
		role, text = theme.Warn, "! "
	case !c.Agrees:
		role, text = theme.Stop, "✗ "
	}
	head.Text(0, 0, role, part.Cut(v.theme.Rewrite(text+compareSentence(v.setup.Spec, c)), head.W))
	s.leaf = leaf{now: -1, top: s.leaf.top}
	s.table(v, a)
	s.state(v)
	s.leaf.explain(v, a.W)
	body := a.Sub(0, 3, a.W, a.H-3)
	if body.H >= 20 {
		var foot part.Area
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

// table sets targets down and rounds across: directions where there is room for
// all of them, else the first and what the others differ from it.
func (s *compareScreen) table(v *view, a part.Area) {
	spec := v.setup.Spec
	name := 8
	for _, t := range spec.Targets {
		name = max(name, min(part.Width(t), a.W/5)+1)
	}
	full := part.Width(fine(spec, widest)) + 2
	rounds := v.red.Rounds
	c := columns{name: name, first: full, col: full}
	if c.after(len(rounds))+20 > a.W {
		c.col = 10
	}
	if fit := max((a.W-20-name-full)/c.col+1, 1); len(rounds) > fit {
		from := max(s.round-fit, 0)
		rounds = rounds[from:min(from+fit, len(rounds))]
	}
	s.tableHead(rounds, c)
	for _, t := range v.red.Comparison.Targets {
		s.leaf.add(targetLine(spec, t, rounds, c)...)
	}
	if c := v.red.Comparison; len(c.Complete) > 2 {
		s.leaf.wrapped(v.theme, theme.Strong, 0, a.W, agreeing(c))
	}
	s.leaf.text(theme.Base, 0, "")
}

// columns are the widths of the comparison: the name, the first round, the
// others.
type columns struct{ name, first, col int }

// at is where the column of a round begins, and its width.
func (c columns) at(i int) (x, w int) {
	if i == 0 {
		return c.name, c.first
	}
	return c.name + c.first + (i-1)*c.col, c.col
}

// after is the column behind n rounds.
func (c columns) after(n int) int {
	x, w := c.at(max(n-1, 0))
	return x + w + 1
}

func (s *compareScreen) tableHead(rounds []booking.RoundWork, c columns) {
	inks := []ink{{x: 0, w: c.name, text: "Target", role: theme.Title}}
	for i, r := range rounds {
		role, t := theme.Title, "round "+itoa(r.Number)
		if r.Number == s.round {
			role, t = theme.Chosen, "›round "+itoa(r.Number)
		}
		x, w := c.at(i)
		inks = append(inks, ink{x: x + 1, w: w - 1, align: part.Right, text: t, role: role})
	}
	s.leaf.add(append(inks, ink{x: c.after(len(rounds)), w: 9, align: part.Right, text: "spread", role: theme.Title})...)
}

// targetLine sets one target's directions and their spread.
func targetLine(spec booking.Spec, t booking.TargetSpread, rounds []booking.RoundWork, c columns) []ink {
	inks := []ink{{x: 0, w: c.name, text: t.Target}}
	var first *reduce.Angle
	for i, r := range rounds {
		d, ok := r.Direction(t.Target)
		if !ok {
			continue
		}
		text := fine(spec, d)
		if first != nil && c.col < c.first {
			text = signed(spec, (d - *first).Wrap())
		}
		if first == nil {
			first = &d
		}
		x, w := c.at(i)
		if w < c.first && text == fine(spec, d) {
			text = "seen"
		}
		inks = append(inks, ink{x: x + 1, w: w - 1, align: part.Right, text: text, struck: r.LeftOut != nil})
	}
	if len(t.Directions) > 1 {
		role, word := theme.Good, "✓ agrees"
		if !t.Agrees {
			role, word = theme.Stop, "✗ no"
		}
		x := c.after(len(rounds))
		inks = append(inks, ink{x: x, w: 9, align: part.Right, text: size(spec, t.Spread)}, ink{x: x + 10, w: -1, text: word, role: role})
	}
	return inks
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
		mark, role := "  ", theme.Base
		if r.Number == s.round {
			mark, role = "› ", theme.Chosen
		}
		s.leaf.text(role, 0, mark+t)
		s.leaf.lines[len(s.leaf.lines)-1].row = r.Number
	}
	s.leaf.text(theme.Base, 0, "")
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
