package tui

import (
	"slices"

	"example.org/readback/booking/spec"
	"example.org/readback/tui/look"
)

// names are who and what the book knows, the latest first.
type names struct{ crew, instruments, serials []string }

// namesOf gathers the names of crews and instruments from the setups and the checks.
func namesOf(v *view) names {
	var n names
	add := func(i spec.Instrument, crew ...string) {
		n.crew, n.instruments, n.serials = append(n.crew, crew...), append(n.instruments, i.Name), append(n.serials, i.Serial)
	}
	add(v.setup.Spec.Instrument, v.setup.Spec.Observer, v.setup.Spec.Booker)
	for _, m := range v.list.setups {
		add(m.Instrument, m.Observer, m.Booker)
	}
	for _, c := range slices.Backward(v.book.Checks) {
		add(c.Instrument, c.By)
	}
	return names{distinct(n.crew), distinct(n.instruments), distinct(n.serials)}
}

// distinct keeps the first of each name and leaves empty ones out.
func distinct(list []string) (out []string) {
	for _, n := range list {
		if n != "" && !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// completes says by which name → completes what is written in the chosen field.
func (f *form) completes() []ink {
	names := f.completions()
	if len(names) == 0 || f.field().Text.Text() == "" {
		return nil
	}
	return []ink{{text: "→ " + names[0], role: look.Accent}}
}

// offers are the known names as cells to touch.
func (v *view) offers(names []string, w int) block {
	t := v.theme
	b := block{}
	rows := 1
	if v.prefs.Keypad {
		rows = 2
	}
	upper, lower := t.Row().To(v.edge()), t.Row().To(v.edge())
	for _, n := range names {
		cw := look.Width(look.Clean(n)) + 4
		x := upper.Width()
		if x+cw > w-v.margin() {
			break
		}
		b.touch(x, 1, cw, rows, touching(onOffer(n)))
		upper.Left(look.BarCall, "  "+n, cw).To(x + cw + 1)
		lower.Left(look.Cell, "", cw).To(x + cw + 1)
	}
	b.add("", upper.String())
	if rows > 1 {
		b.add(lower.String())
	}
	return b
}
