package tui

import (
	"strings"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce/faces"
	"example.org/readback/tui/look"
)

// a part of the programme: a half of a round, of the vertical circle, or the
// distances, with its pointings in observed order.
type part struct {
	name, half string
	slots      []spec.Slot
}

// bothFaces is the half of a round that is observed target by target.
const bothFaces = "both faces"

// parts are the whole programme of the setup, the rounds that were added with it.
func (w *work) parts() []part {
	s := w.setup.Spec
	rounds := max(s.Rounds, spec.LeastRounds, w.slot.Round)
	for _, r := range w.setup.Rounds {
		rounds = max(rounds, r.Number)
	}
	var ps []part
	add := func(name string, half func(faces.Face) []spec.Slot) {
		for _, f := range []faces.Face{faces.FL, faces.FR} {
			if slots := half(f); len(slots) > 0 {
				ps = append(ps, part{name, f.Words(), slots})
			}
		}
	}
	for n := 1; n <= rounds; n++ {
		if r, ok := w.setup.Round(n); ok && r.Void != nil {
			continue
		}
		if sweeps := s.Sweeps(n); len(sweeps) == 1 {
			ps = append(ps, part{"Round " + itoa(n), bothFaces, sweeps[0]})
			continue
		}
		add("Round "+itoa(n), func(f faces.Face) []spec.Slot { return s.HalfSlots(n, f) })
	}
	add("Vertical circle", s.VerticalSlots)
	if slots := s.DistanceSlots(); len(slots) > 0 {
		ps = append(ps, part{"Distances", "", slots})
	}
	return ps
}

// progressLines show every part of the programme by its pointings: booked, called,
// still open.
func progressLines(v *view, w int) []string {
	t := v.theme
	var lines []string
	name := ""
	row := t.Row()
	for i, p := range v.parts() {
		dots := v.marks(p.slots)
		if look.Width(dots) > w/3 {
			done := strings.Count(dots, "●")
			dots = itoa(done) + " of " + itoa(len(p.slots))
		}
		if i > 0 && p.name != name {
			lines, row = append(lines, row.String()), t.Row()
		}
		if p.name != name {
			name = p.name
			row.Left(look.Quiet, strings.TrimSuffix(name, " circle"), 10)
		} else {
			row.To(10 + (w-10)/2)
		}
		switch p.half {
		case "", bothFaces:
		case faces.FL.Words():
			row.Put(look.Quiet, faces.FL.String()+" ")
		default:
			row.Put(look.Quiet, faces.FR.String()+" ")
		}
		row.Put(look.Ink, dots)
	}
	if row.Width() > 0 {
		lines = append(lines, row.String())
	}
	return lines
}

// toCome lists what is still to be booked behind the pointing that is called, by
// part of the programme.
func toCome(v *view, w int) []string {
	booked, all := 0, 0
	var rows [][3]string
	last := ""
	for _, p := range v.parts() {
		var names []string
		for _, k := range p.slots {
			all++
			_, done := v.setup.At(k)
			switch {
			case done:
				booked++
			case v.asks && k == v.slot:
			case k.Quantity == spec.Accumulated:
				names = append(names, k.Target+" after "+itoa(v.setup.Spec.Repetitions))
			case k.Quantity == spec.Horizontal && k.Closing && len(names) > 0 && names[len(names)-1] == k.Target+" again":
			case k.Quantity == spec.Horizontal && k.Closing:
				names = append(names, k.Target+" again")
			case k.Quantity == spec.TargetHeight:
			case k.Quantity == spec.InstrumentHeight:
				names = append(names, "instrument height")
			case len(names) > 0 && names[len(names)-1] == k.Target && p.half == bothFaces:
			default:
				names = append(names, k.Target)
			}
		}
		if len(names) == 0 {
			continue
		}
		name := p.name
		if name == last {
			name = ""
		}
		last = p.name
		rows = append(rows, [3]string{name, p.half, strings.Join(names, ", ")})
	}
	if v.red.Heights.After == nil {
		rows = append(rows, [3]string{"Instrument height again", "", ""})
	}
	l := v.leaf(w)
	l.section("To come", itoa(booked)+" of "+itoa(all)+" booked")
	for _, r := range rows {
		name := ink{w: -1, text: r[0], role: look.Ink}
		if r[2] != "" {
			name.w = 16
		}
		l.across(name, ink{x: 17, w: 12, text: r[1], role: look.Quiet}, ink{x: 30, w: -1, text: r[2], role: look.Ink})
	}
	return l.view(len(l.lines)).lines
}
