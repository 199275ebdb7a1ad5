package tui

import (
	"fmt"
	"strings"

	"example.org/readback/booking/check"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/tui/look"
)

// the compareScreen holds the rounds against each other: every reduced direction
// per round, its spread and the limit, and which rounds agree.
type compareScreen struct {
	keptLeaf
	round int // chosen
}

func (s *compareScreen) enter(v *view) {
	s.leaf.top = 0
	if _, ok := v.setup.Round(s.round); !ok {
		s.round = len(v.setup.Rounds)
	}
}

// take chooses a round by its number or a touch, and scrolls.
func (s *compareScreen) take(v *view, p press) ([]ask, bool) {
	n := len(v.setup.Rounds)
	i, ok := p.row()
	switch {
	case ok:
		s.round = min(i, n)
	case p.isChar() && p.r >= '1' && int(p.r-'0') <= n:
		s.round = int(p.r - '0')
	default:
		return s.keptLeaf.take(v, p)
	}
	return nil, true
}

func (s *compareScreen) actions(v *view) []action {
	n, round := len(v.setup.Rounds), fmt.Sprintf("round %d", s.round)
	turn := func(by int) func() []ask {
		return func() []ask { s.round = min(max(s.round+by, min(n, 1)), n); return nil }
	}
	home := func() []ask { return asks(goTo{onBooking}) }
	other := "This cannot be done to the round chosen: ← and → choose another."
	if v.setup.Void != nil {
		other = struckWhole
	}
	_, out := v.setup.LeaveOut(s.round, "x")
	_, back := v.setup.TakeBack(s.round, "x")
	as := []action{
		does(keys.Home, home),
		does(keys.Left, turn(-1)).named("before").when(n > 1, ""), does(keys.Right, turn(1)).named("next round").when(n > 1, ""),
		does(keys.LeaveOut, func() []ask { return asks(write{leaveOutWriting(s.round)}) }).named("leave "+round+" out").when(v.setup.Void == nil && out == nil, other),
		does(keys.TakeBack, func() []ask { return asks(write{takeBackWriting(s.round)}) }).named("take "+round+" back").when(v.setup.Void == nil && back == nil, other),
		does(keys.Another, func() []ask { return anotherRound("asked for") }).when(v.setup.Void == nil && v.setup.Lift == nil, noMore),
		gives(keys.Verdict, goTo{onVerdict}),
		gives(keys.Page, goTo{onPage}),
	}
	return append(as, too(home, keys.Compare, keys.Enter)...)
}

// noMore is said of what cannot be observed after the lift.
const noMore = "The tripod was lifted: nothing more is observed in this setup."

func (s *compareScreen) draw(v *view, w, h int) block {
	c := v.red.Comparison
	b := v.air()
	if len(v.setup.Rounds) == 0 {
		b.add(v.section("Rounds against each other", "", w)...)
		b.add("", v.theme.Line(v.edge(), look.Ink, "No round is begun."))
		return b
	}
	role, mark, word := look.Good, "✓", "agree"
	switch {
	case !compared(c):
		role, mark, word = look.Idle, "○", "one"
	case !c.Agrees:
		role, mark, word = look.Stop, "✗", "apart"
	}
	b.add(v.flag(role, mark, word, compareWords, look.Strong, compareSentence(v.setup.Spec, c), w)...)
	b.put(v.air())
	s.keptLeaf.draw(v, &b, w, h, s.round, s.set)
	return b
}

// set sets what stands under the sentence.
func (s *compareScreen) set(v *view, w int) {
	if compared(v.red.Comparison) {
		s.leaf.section("Each round against the others", "1 2 3 = round")
		s.leaf.roundStrips(v, false)
		s.leaf.blank()
	}
	s.leaf.section("Directions", "")
	s.leaf.comparison(&v.work, s.round)
	s.state(v)
	s.leaf.explain(v, false)
}

// compared tells whether a direction was seen in two rounds.
func compared(c reduction.Comparison) bool {
	for _, t := range c.Targets {
		if len(t.Directions) > 1 {
			return true
		}
	}
	return false
}

// compareSentence says whether the rounds agree.
func compareSentence(spec spec.Spec, c reduction.Comparison) string {
	switch {
	case !compared(c):
		return "One round alone agrees with nothing: observe another."
	case c.Agrees:
		return fmt.Sprintf("The rounds agree within %s.", size(spec, c.Limit))
	}
	return check.Apart(spec, c)
}

// state says of every round what became of it.
func (s *compareScreen) state(v *view) {
	for _, r := range v.red.Rounds {
		mark, t := "○", fmt.Sprintf("Round %d is not complete.", r.Number)
		switch {
		case r.Void != nil:
			mark, t = "✗", fmt.Sprintf("Round %d is void: %s.", r.Number, r.Void.Reason)
		case r.LeftOut != nil:
			mark, t = "✗", fmt.Sprintf("Round %d is left out: %s.", r.Number, r.LeftOut.Reason)
		case r.Complete:
			mark, t = "✓", fmt.Sprintf("Round %d is complete and counts.", r.Number)
		}
		l := s.leaf.add(ink{w: -1, text: t, role: look.Ink})
		l.mark, l.role, l.on = mark, look.Ink, onRow(r.Number)
		if r.Number == s.round {
			l.mark, l.all, l.role, l.inks[0].role = "›", true, look.Chosen, look.Chosen
		}
	}
	s.leaf.blank()
}

// agreeing says which of more than two rounds agree with each other.
func agreeing(c reduction.Comparison) string {
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
