package sheet

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/page"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/faces"
)

const (
	groupMM  = 8.0 // the round's number
	nameMM   = 24.0
	wideName = 33.0
	longName = 15 // letters of a name that has no room in nameMM
)

// nameWidth is the width of the column of names: the same in every table of the
// setup.
func (w *writer) nameWidth() float64 {
	for _, n := range w.setup.Spec.Sighted() {
		if page.Width(n) > longName {
			return wideName
		}
	}
	return nameMM
}

// roundTable is every round begun, as it was booked.
func (w *writer) roundTable() page.Table {
	face, small, mean := 20.0, 10.5, 22.0
	if w.decimal() {
		face, small, mean = 17.5, 13.5, 21
	}
	t := page.Table{Caption: "Rounds, as booked", Hidden: true, Class: "rounds", Notes: w.id(), Columns: []page.Column{
		{Head: "Rd", MM: groupMM},
		{Head: "Target", MM: w.nameWidth(), Part: page.Name, Folds: true},
		{Head: "Face left", MM: face, Right: true},
		{Head: "Face right", MM: face, Right: true},
		{Head: "2c " + w.smallUnit(), MM: small, Right: true},
		{Head: "Mean", MM: mean, Right: true},
		{Head: "Reduced", MM: mean, Right: true, Part: page.Result},
		{Head: page.Table{}.NotesHead()}}}
	for _, r := range w.red.Rounds {
		t.Groups = append(t.Groups, w.round(r))
	}
	return t
}

func (w *writer) round(r reduction.RoundWork) page.Group {
	number := page.Figure{Text: fmt.Sprint(r.Number), Struck: r.Void != nil}
	if r.LeftOut != nil {
		number.Text = "(" + number.Text + ")"
	}
	g := page.Group{Head: page.Cell{number}, Words: "Round"}
	g.Beside = w.roundNotes(r)
	for _, p := range w.pairs(r) {
		slot := spec.Slot{Quantity: spec.Horizontal, Round: r.Number, Face: faces.FL, Target: p.Target, Closing: p.Closing}
		left, right := w.slot(slot, r.Void, &g.Beside), w.slot(slot.Pair(), r.Void, &g.Beside)
		if r.Void != nil && left == nil && right == nil {
			continue
		}
		name := page.Figure{Text: p.Target}
		if p.Closing {
			name.Small = "closing"
		}
		row := page.Row{Cells: []page.Cell{nil, {name}, left, right, nil, nil, nil}}
		if p.HasPair {
			row.Cells[4], row.Cells[5] = page.One(w.signed(p.TwoC, w.smallPlaces()), page.Base), page.One(w.direction(p.Mean), page.Base)
		}
		if p.HasDirection && !p.Closing {
			role := page.Strong
			if r.LeftOut != nil {
				role = page.Base
			}
			row.Cells[6] = page.One(w.direction(p.Direction), role)
		}
		g.Rows = append(g.Rows, row)
		if sum, ok := w.sum(r, slot, row.Cells, &g.Beside); ok {
			g.Rows = append(g.Rows, sum)
		}
	}
	if len(g.Rows) == 0 {
		g.Rows = []page.Row{{Cells: []page.Cell{nil, page.One("nothing read", page.Aside)}}}
	}
	return g
}

// sum is the row of a repeated angle below its single sights: the readings after the
// last repetition, and the mean and the direction that come of them.
func (w *writer) sum(r reduction.RoundWork, slot spec.Slot, single []page.Cell, notes *[]page.Note) (row page.Row, ok bool) {
	if w.setup.Spec.Order != spec.ByRepetition || slot.Target == w.setup.Spec.RO {
		return row, false
	}
	slot.Quantity = spec.Accumulated
	left, right := w.slot(slot, r.Void, notes), w.slot(slot.Pair(), r.Void, notes)
	row.Cells = []page.Cell{nil, page.One(fmt.Sprintf("after %d", w.setup.Spec.Repetitions), page.Aside), left, right, nil, single[5], single[6]}
	single[5], single[6] = nil, nil
	return row, left != nil || right != nil
}

// pairs are the pointings of a round, and those whose target was dropped since:
// their readings are struck and stay legible.
func (w *writer) pairs(r reduction.RoundWork) []reduction.PairWork {
	ps := r.Pairs
	for _, x := range w.setup.Readings {
		k := x.Slot
		if k.Quantity == spec.Horizontal && k.Round == r.Number && !slices.ContainsFunc(ps, func(p reduction.PairWork) bool { return p.Target == k.Target && p.Closing == k.Closing }) {
			ps = append(slices.Clone(ps), reduction.PairWork{Target: k.Target, Closing: k.Closing})
		}
	}
	return ps
}

// roundNotes are what is said beside a round as a whole: when the halves were
// observed, how they close, why the round does not count, and what was remarked
// meanwhile.
func (w *writer) roundNotes(r reduction.RoundWork) []page.Note {
	var ns []page.Note
	say := func(lead, text string) {
		if text != "" {
			ns = append(ns, page.Note{Lead: lead, Text: text})
		}
	}
	say("", w.halves(r))
	say("", w.closes(r))
	say("", w.repeated(r))
	if v := r.Void; v != nil {
		say("Void", sentence(w.said(w.voided(r), v.By)+": "+v.Reason))
	}
	if o := r.LeftOut; o != nil {
		say("Left out", sentence(late(o.AfterLift)+o.By+": "+o.Reason))
	}
	for _, m := range w.setup.Remarks {
		if m.On == 0 && w.roundOf(m.At) == r.Number {
			say("", sentence(w.said(m.At, m.By)+": "+m.Text))
		}
	}
	return ns
}

// halves say when the halves of a round were observed, or the round where that was
// observed target by target.
func (w *writer) halves(r reduction.RoundWork) string {
	var parts []string
	if w.setup.Spec.Order == spec.ByTarget {
		from, to, ok := w.span(func(x booking.Reading) bool { return x.Slot.Quantity.OfRound() && x.Slot.Round == r.Number })
		if !ok {
			return ""
		}
		return "Target by target, " + w.minutes(from, to)
	}
	for _, face := range []faces.Face{faces.FL, faces.FR} {
		from, to, ok := w.span(func(x booking.Reading) bool {
			return x.Slot.Quantity.OfRound() && x.Slot.Round == r.Number && x.Slot.Face == face
		})
		if ok {
			parts = append(parts, face.String()+" "+w.minutes(from, to))
		}
	}
	return strings.Join(parts, ", ")
}

// closes says how the halves close, and the mean of the RO.
func (w *writer) closes(r reduction.RoundWork) string {
	var parts []string
	for _, x := range r.Closings {
		part := x.Face.String() + " " + w.small(x.Misclosure)
		if x.Target != w.setup.Spec.RO {
			part = "on " + x.Target + " " + part
		}
		parts = append(parts, part)
	}
	if len(parts) == 0 {
		return ""
	}
	text := "Closes " + strings.Join(parts, ", ")
	if r.HasRO {
		text += "; RO mean " + w.direction(r.RO)
	}
	return text
}

// repeated says how the means of a repeated angle differ from its single sights.
func (w *writer) repeated(r reduction.RoundWork) string {
	var parts []string
	for _, x := range r.Repeated {
		parts = append(parts, x.Face.String()+" "+w.small(x.Off()))
	}
	if len(parts) == 0 {
		return ""
	}
	return fmt.Sprintf("Mean of %d less the single angle: %s", w.setup.Spec.Repetitions, strings.Join(parts, ", "))
}

// voided is when a round was said void.
func (w *writer) voided(r reduction.RoundWork) (at time.Time) {
	for _, x := range w.setup.Readings {
		if x.Slot.Quantity.OfRound() && x.Slot.Round == r.Number && x.Struck != nil && x.Struck.At.After(at) {
			at = x.Struck.At
		}
	}
	return at
}

// roundOf is the round during which a remark was made, 0 where that is none, or
// cannot be told.
func (w *writer) roundOf(at time.Time) int {
	if w.later() {
		return 0
	}
	for _, r := range w.red.Rounds {
		from, to, ok := w.span(func(x booking.Reading) bool { return x.Slot.Quantity.OfRound() && x.Slot.Round == r.Number })
		if ok && !at.Before(from) && !at.After(to) {
			return r.Number
		}
	}
	return 0
}

// slot sets every reading of a slot, struck ones first, or why there is none.
// void is said when the round of the slot is void.
func (w *writer) slot(slot spec.Slot, void *event.RoundVoided, notes *[]page.Note) page.Cell {
	var c page.Cell
	for _, r := range w.setup.Readings {
		first := r.Slot
		first.Repeat = 0
		if first != slot {
			continue
		}
		f := page.Figure{Text: w.reading(r), Struck: !r.Stands()}
		if texts := w.readingNotes(r, void); len(texts) > 0 {
			f.Mark = w.note(notes, "", strings.Join(texts, " "))
		}
		c = append(c, f)
	}
	for _, k := range w.setup.Skips {
		if _, booked := w.setup.At(slot); k.Slot != slot || booked {
			continue
		}
		word := "hidden"
		if k.Blocked {
			word = "blocked"
		}
		c = append(c, page.Figure{Text: word, Role: page.Aside, Mark: w.note(notes, "", sentence(slotName(slot)+" "+word+", "+k.By+": "+k.Reason))})
	}
	return c
}

// readingNotes tells all that is written beside a reading. What the checks said
// when paper was keyed is no part of the observing: it is left out of struck
// readings, and said to be of the keying else.
func (w *writer) readingNotes(r booking.Reading, void *event.RoundVoided) []string {
	var ss []string
	if k := r.Struck; k != nil && (void == nil || k.Reason != void.Reason) {
		ss = append(ss, sentence("Struck "+late(k.AfterLift)+w.said(k.At, k.By)+": "+k.Reason))
	}
	if k := r.LeftOut; k != nil {
		ss = append(ss, sentence("Left out of the means "+late(k.AfterLift)+w.said(k.At, k.By)+": "+k.Reason))
	}
	if r.AfterLift {
		ss = append(ss, "Read again after the lift.")
	}
	if r.Slot.Repeat > 0 {
		ss = append(ss, fmt.Sprintf("Measured again as a check, repeat %d.", r.Slot.Repeat))
	}
	for _, f := range r.Findings {
		if f.Severity < event.Warn || w.later() && r.Struck != nil {
			continue
		}
		lead := "Marked at entry: "
		if w.later() {
			lead = "Marked on keying: "
		}
		ss = append(ss, sentence(lead+f.Text))
	}
	if r.Confirmed && !w.later() {
		ss = append(ss, "Read again, booked all the same.")
	}
	for _, m := range w.setup.Remarks {
		if m.On == r.Seq {
			ss = append(ss, sentence(m.By+": "+m.Text))
		}
	}
	if len(ss) == 0 {
		return nil
	}
	return append([]string{fmt.Sprintf("%s, keyed “%s”.", slotName(r.Slot), r.Text)}, ss...)
}

// late marks what was done after the lift.
func late(afterLift bool) string {
	if afterLift {
		return "after the lift, "
	}
	return ""
}

// slotName names a slot within its own table, without round and quantity.
func slotName(s spec.Slot) string {
	name := s.Target
	if s.Closing {
		name += " closing"
	}
	if s.Quantity == spec.Accumulated {
		name += " after the repetitions"
	}
	return strings.TrimSpace(s.Face.String() + " " + name)
}
