package tui

import (
	"fmt"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/reduce"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// a sheet sets the page of a setup the way a field book has it: targets down,
// FL and FR across, then 2c, mean and reduced direction; struck figures above
// the ones that stand beside them.
type sheet struct {
	v    *view
	leaf *leaf
	w    int // cells across
	// cover keeps the other face of the pointing that is called from sight: it
	// says what is to be read.
	cover bool

	name, figure, small int  // widths of the columns
	mean                bool // there is room for the mean
	note                int  // where the notes begin
}

// pageOf sets the page of the setup for a width. With cover the other face of the
// pointing that is called is kept from sight.
func pageOf(v *view, w int, cover bool) *leaf {
	s := &sheet{v: v, leaf: &leaf{now: -1}, w: w, cover: cover}
	s.measure()
	for _, r := range v.red.Rounds {
		s.round(r)
	}
	if v.asks && v.slot.Quantity == booking.Horizontal && v.slot.Round > len(v.red.Rounds) {
		s.round(v.setup.WorkRound(booking.Round{Number: v.slot.Round}))
	}
	s.compared()
	s.verticals()
	s.distances()
	s.remarks()
	return s.leaf
}

// compared sets the rounds next to each other with their spreads, as soon as a
// direction was seen in two.
func (s *sheet) compared() {
	c := s.v.red.Comparison
	if !compared(c) {
		return
	}
	s.leaf.text(look.Strong, 0, "Rounds next to each other, limit "+size(s.v.setup.Spec, c.Limit))
	s.leaf.comparison(s.v, s.w, 0)
}

// measure lays the columns.
func (s *sheet) measure() {
	spec := s.v.setup.Spec
	s.name = 7
	for _, n := range spec.Names() {
		s.name = max(s.name, widget.Width(n)+1)
	}
	s.name = min(s.name, max(s.w/6, 9))
	s.figure = max(widget.Width(angle(spec, widest().Angle())), 9) + 1
	s.small = 8
	if spec.Instrument.Unit == reduce.GonUnit {
		s.small = 11 // the head says milligon
	}
	s.mean = s.name+3*(s.figure+2)+s.small+s.figure+3 <= s.w
	s.note = s.name + 3*(s.figure+2) + s.small + 3
	if s.mean {
		s.note += s.figure + 2
	}
}

// turnsGradient tells whether the page is too narrow to show altitude and
// gradient both.
func turnsGradient(v *view) bool {
	s := &sheet{v: v, w: v.w - 1}
	s.measure()
	return !s.mean && v.setup.Spec.Verticals
}

// col returns the place of a column: 0 FL, 1 FR, 2 2c, 3 mean, 4 reduced.
func (s *sheet) col(i int) (x, w int) {
	f := s.figure + 2
	x = s.name + 1
	switch i {
	case 0, 1:
		return x + i*f, s.figure + 1
	case 2:
		return x + 2*f, s.small
	case 3:
		return x + 2*f + s.small + 1, s.figure + 1
	}
	if s.mean {
		return x + 3*f + s.small + 1, s.figure + 1
	}
	return x + 2*f + s.small + 1, s.figure + 1
}

func (s *sheet) put(i int, role look.Role, text string) ink {
	x, w := s.col(i)
	return ink{x: x, w: w, align: widget.Right, text: text, role: role}
}

func (s *sheet) titles(titles ...string) {
	inks := []ink{{x: 0, w: s.name, text: titles[0], role: look.Title}}
	for i, t := range titles[1:] {
		if t != "" && (i != 3 || s.mean) {
			inks = append(inks, s.put(i, look.Title, t))
		}
	}
	s.leaf.add(inks...)
}

// round sets one round.
func (s *sheet) round(r booking.RoundWork) {
	head := fmt.Sprintf("Round %d", r.Number)
	role := look.Strong
	switch {
	case r.Void != nil:
		head += ", void: " + r.Void.Reason
	case r.LeftOut != nil:
		head += ", left out: " + r.LeftOut.Reason
	case r.Complete:
		head += ", complete"
	}
	at := len(s.leaf.lines)
	s.leaf.text(role, 0, head)
	s.titles("Target", "FL", "FR", smallHead(s.v.setup.Spec, "2c"), "mean", "reduced")
	for _, p := range r.Pairs {
		s.pair(r, p, at)
	}
	s.closing(r)
	s.leaf.text(look.Base, 0, "")
}

// pair sets the line of one pointing, the struck figures above it.
func (s *sheet) pair(r booking.RoundWork, p booking.PairWork, head int) {
	k := booking.Slot{Quantity: booking.Horizontal, Round: r.Number, Face: booking.FL, Target: p.Target, Closing: p.Closing}
	name := p.Target
	if p.Closing {
		name = "closing"
	}
	s.struck(k, name)
	if r.Void != nil {
		return
	}
	inks := []ink{{x: 0, w: s.name, text: name}}
	inks = append(inks, s.face(0, k, p.FL, head)...)
	inks = append(inks, s.face(1, k.Pair(), p.FR, head)...)
	if p.HasPair {
		inks = append(inks, s.put(2, look.Base, signed(s.v.setup.Spec, p.TwoC)))
		if s.mean {
			inks = append(inks, s.put(3, look.Base, fine(s.v.setup.Spec, p.Mean)))
		}
	}
	if p.HasDirection && !p.Closing {
		inks = append(inks, s.put(4, look.Strong, fine(s.v.setup.Spec, p.Direction)))
	}
	s.leaf.add(append(inks, s.notes(k, p.FL, p.FR)...)...)
}

// face sets the figure of one face, or the place of the one that is next.
func (s *sheet) face(col int, k booking.Slot, r *booking.Reading, head int) []ink {
	switch {
	case r != nil && s.cover && s.v.asks && k.Quantity.Angular() && k.Pair() == s.v.slot:
		return []ink{s.put(col, look.Aside, "covered ")}
	case r != nil:
		role := look.Base
		if s.v.isSaving(r.Seq) {
			role = look.Aside
		}
		t := readingText(s.v.setup.Spec, *r)
		if r.Confirmed {
			t += "!"
		} else {
			t += " "
		}
		return []ink{s.put(col, role, t)}
	case s.v.asks && k == s.v.slot:
		s.leaf.now, s.leaf.first = len(s.leaf.lines), head
		x, w := s.col(col)
		return []ink{{x: x + 1, w: w - 1, align: widget.Middle, text: "▸ next", role: look.Current}}
	case s.isSkipped(k):
		return []ink{s.put(col, look.Base, "hidden ")}
	}
	return nil
}

func (s *sheet) isSkipped(k booking.Slot) bool {
	for _, x := range s.v.setup.Skips {
		if x.Slot == k {
			return true
		}
	}
	return false
}

// struck sets the struck figures of both faces of a slot, oldest first, each
// with its reason.
func (s *sheet) struck(k booking.Slot, name string) {
	for _, r := range s.v.setup.Readings {
		if r.Stands() || r.Slot != k && r.Slot != k.Pair() {
			continue
		}
		col := 0
		if r.Slot.Face == booking.FR {
			col = 1
		}
		x, w := s.col(col)
		fig := ink{x: x, w: w - 1, align: widget.Right, text: readingText(s.v.setup.Spec, r), struck: true}
		reason, _ := s.col(2)
		s.leaf.add(ink{x: 0, w: s.name, text: name}, fig, ink{x: reason + 1, w: -1, text: "struck: " + r.Struck.Reason, role: look.Aside})
	}
}

// notes says beside a line what there is to say: being saved, read again,
// remarks.
func (s *sheet) notes(k booking.Slot, rs ...*booking.Reading) []ink {
	var ws []string
	for _, r := range rs {
		if r == nil {
			continue
		}
		if s.v.isSaving(r.Seq) {
			ws = append(ws, "saving")
		}
		if r.Confirmed {
			ws = append(ws, r.Slot.Face.String()+" read again")
		}
		for _, m := range s.v.setup.Remarks {
			if m.On == r.Seq {
				ws = append(ws, m.Text)
			}
		}
	}
	if len(ws) == 0 || s.note >= s.w-3 {
		if len(ws) > 0 && ws[0] == "saving" {
			return []ink{{x: s.w - 1, w: 1, text: "…", role: look.Warn}}
		}
		return nil
	}
	role := look.Aside
	if ws[0] == "saving" {
		role = look.Warn
	}
	return []ink{{x: s.note, w: -1, text: strings.Join(ws, "; "), role: role}}
}

// closing sets the misclosure of the halves under a round.
func (s *sheet) closing(r booking.RoundWork) {
	limit := s.v.setup.Spec.Limits.ROMisclosure.Value
	inks := []ink{{x: 0, w: s.name, text: "closes"}}
	for i, m := range []*reduce.Angle{r.ClosingFL, r.ClosingFR} {
		if m == nil {
			continue
		}
		role, t := look.Base, told(s.v.setup.Spec, *m)+" "
		if m.Abs() > limit {
			role, t = look.Stop, "! "+t
		}
		inks = append(inks, s.put(i, role, t))
	}
	if len(inks) > 1 {
		x, _ := s.col(2)
		s.leaf.add(append(inks, ink{x: x + 1, w: -1, text: "limit " + size(s.v.setup.Spec, limit), role: look.Aside})...)
	}
}
