package tui

import (
	"example.org/readback/booking"
	"example.org/readback/reduce"
	"example.org/readback/tui/look"
)

// comparison sets targets down and rounds across, the chosen one marked: directions where there is room for
// all of them, else the first and what the others differ from it.
func (l *leaf) comparison(v *view, w, chosen int) {
	spec := v.setup.Spec
	name := 8
	for _, t := range spec.Targets {
		name = max(name, min(look.Width(t), w/5)+1)
	}
	full := look.Width(fine(spec, widest())) + 2
	rounds := v.red.Rounds
	c := columns{name: name, first: full, col: full}
	if c.after(len(rounds))+20 > w {
		c.col = 10
	}
	if fit := max((w-20-name-full)/c.col+1, 1); len(rounds) > fit {
		from := len(rounds) - fit
		if chosen > 0 {
			from = max(chosen-fit, 0)
		}
		rounds = rounds[from:min(from+fit, len(rounds))]
	}
	l.comparisonHead(rounds, c, chosen)
	for _, t := range v.red.Comparison.Targets {
		l.add(targetLine(spec, t, rounds, c)...)
	}
	if c := v.red.Comparison; len(c.Complete) > 2 {
		l.wrapped(look.Strong, 0, w, agreeing(c))
	}
	l.blank()
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

func (l *leaf) comparisonHead(rounds []booking.RoundWork, c columns, chosen int) {
	inks := []ink{{x: 0, w: c.name, text: ""}}
	for i, r := range rounds {
		role, t := look.Quiet, "round "+itoa(r.Number)
		if r.Number == chosen {
			role, t = look.Chosen, "› round "+itoa(r.Number)
		}
		x, w := c.at(i)
		inks = append(inks, ink{x: x + 1, w: w - 1, align: right, text: t, role: role})
	}
	l.add(append(inks, ink{x: c.after(len(rounds)), w: 9, align: right, text: "spread", role: look.Quiet})...)
}

// targetLine sets one target's directions and their spread.
func targetLine(spec booking.Spec, t booking.TargetSpread, rounds []booking.RoundWork, c columns) []ink {
	inks := []ink{{x: 0, w: c.name, text: t.Target}}
	var first *reduce.Direction
	for i, r := range rounds {
		d, ok := r.Direction(t.Target)
		if !ok {
			continue
		}
		text := fine(spec, d)
		if first != nil && c.col < c.first {
			text = signed(spec, d.Sub(*first))
		}
		if first == nil {
			first = &d
		}
		x, w := c.at(i)
		if w < c.first && text == fine(spec, d) {
			text = "seen"
		}
		inks = append(inks, ink{x: x + 1, w: w - 1, align: right, text: text, struck: r.LeftOut != nil})
	}
	if len(t.Directions) > 1 {
		role, word := look.Ink, "✓ agrees"
		if !t.Agrees {
			role, word = look.Out, "✗ apart"
		}
		x := c.after(len(rounds))
		inks = append(inks, ink{x: x, w: 9, align: right, text: size(spec, t.Spread)}, ink{x: x + 10, w: -1, text: word, role: role})
	}
	return inks
}
