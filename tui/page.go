package tui

import (
	"fmt"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/reduce"
	"example.org/readback/tui/look"
)

// a sheet sets the page of a setup the way a field book has it: targets down,
// FL and FR across, then 2c, mean and reduced direction; struck figures above
// the ones that stand beside them.
type sheet struct {
	v    *view
	leaf *leaf
	w    int // cells across, from the text edge to the margin
	all  int // with both of them
	// cover keeps the other face of the pointing that is called from sight: it
	// says what is to be read.
	cover bool

	name, figure, small int  // widths of the columns
	mean                bool // there is room for the mean
	note                int  // where the notes begin
	gap                 int  // before the mean and the reduced direction
}

// pageOf sets the page of the setup for a width. With cover the other face of the
// pointing that is called is kept from sight.
func pageOf(v *view, w int, cover bool) *leaf {
	s := &sheet{v: v, leaf: &leaf{now: -1}, w: w - v.edge() - v.margin(), all: w, cover: cover}
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
	s.title("Rounds against each other", "limit "+size(s.v.setup.Spec, c.Limit))
	s.leaf.comparison(s.v, s.w, 0)
}

// title begins a part.
func (s *sheet) title(text, note string) { s.leaf.draw(s.v.section(text, note, s.all)...) }

// measure lays the columns.
func (s *sheet) measure() {
	spec := s.v.setup.Spec
	s.name = 8
	for _, n := range spec.Names() {
		s.name = max(s.name, look.Width(n)+1)
	}
	s.figure = max(look.Width(angle(spec, widest().Angle())), 9)
	s.name = min(s.name, max(s.w/6, 8))
	if s.w < s.name+2*s.figure+4 { // beside a keypad
		s.name = max(s.w-2*s.figure-3, 4)
	}
	s.small = 7
	if spec.Instrument.Unit.Decimal() {
		s.small = 10 // the head says milligon or mil
	}
	s.gap = 2
	x, w := s.colWide(4)
	if x+w > s.w {
		s.gap = 1
		x, w = s.colWide(4)
	}
	s.mean = x+w <= s.w
	x, w = s.col(4)
	s.note = x + w + 2
}

// turnsColumn tells whether the page is too narrow for all of its columns: then the
// last is the reduced direction and the altitude, or turned to the mean and the
// gradient, so that no figure is out of reach.
func turnsColumn(v *view) bool {
	s := &sheet{v: v, w: v.w - v.edge() - v.margin()}
	s.measure()
	return !s.mean
}

// turned tells whether the last column shows the other of its two figures.
func (s *sheet) turned() bool { return !s.mean && s.v.turned }

// last is what stands in the last column of a narrow page: itself, or the other
// where it is turned.
func (s *sheet) last(itself, other string) string {
	if s.turned() {
		return other
	}
	return itself
}

// col returns the place of a column: 0 FL, 1 FR, 2 2c, 3 mean, 4 reduced.
func (s *sheet) col(i int) (x, w int) {
	if i == 4 && !s.mean {
		i = 3
	}
	return s.colWide(i)
}

// colWide is col where there is room for all of them.
func (s *sheet) colWide(i int) (x, w int) {
	f := s.figure + 2
	x = s.name
	if s.w >= s.name+2*s.figure+8 {
		x++
	}
	switch i {
	case 0:
		return x, f - 1
	case 1:
		return x + f - 1, f
	case 2:
		return x + 2*f - 1, s.small
	}
	return x + 2*f - 1 + s.small + (i-3)*(f+s.gap), f + s.gap
}

func (s *sheet) put(i int, role look.Role, text string) ink {
	x, w := s.col(i)
	if x+w > s.w {
		text = ""
	}
	return ink{x: x, w: w, align: right, text: text, role: role}
}

func (s *sheet) titles(titles ...string) {
	var inks []ink
	for i, t := range titles {
		if t != "" && (i != 3 || s.mean) {
			inks = append(inks, s.put(i, look.Quiet, t))
		}
	}
	s.leaf.add(inks...)
}

// round sets one round.
func (s *sheet) round(r booking.RoundWork) {
	head, note := fmt.Sprintf("Round %d", r.Number), ""
	switch {
	case r.Void != nil:
		head += ", void: " + r.Void.Reason
	case r.LeftOut != nil:
		head += ", left out: " + r.LeftOut.Reason
	case r.Complete:
		note = "complete"
	}
	at := len(s.leaf.lines)
	s.title(head, note)
	s.titles("FL", "FR", smallHead(s.v.setup.Spec, "2c"), "mean", s.last("reduced", "mean"))
	for _, p := range r.Pairs {
		s.pair(r, p, at)
	}
	s.closing(r)
	s.leaf.blank()
}

// pair sets the line of one pointing, the struck figures above it.
func (s *sheet) pair(r booking.RoundWork, p booking.PairWork, head int) {
	k := booking.Slot{Quantity: booking.Horizontal, Round: r.Number, Face: reduce.FL, Target: p.Target, Closing: p.Closing}
	name := p.Target
	if p.Closing {
		name = "closing"
	}
	s.struck(k, name)
	if r.Void != nil {
		return
	}
	fl, fr := s.booked(k)
	inks := []ink{{x: 0, w: s.name, text: name}}
	inks = append(inks, s.face(0, k, fl, head)...)
	inks = append(inks, s.face(1, k.Pair(), fr, head)...)
	if p.HasPair {
		inks = append(inks, s.put(2, look.Ink, signed(s.v.setup.Spec, p.TwoC)))
		if s.mean {
			inks = append(inks, s.put(3, look.Ink, fine(s.v.setup.Spec, p.Mean)))
		}
	}
	switch {
	case p.HasPair && s.turned():
		inks = append(inks, s.put(4, look.Ink, fine(s.v.setup.Spec, p.Mean)))
	case p.HasDirection && !p.Closing && !s.turned():
		inks = append(inks, s.put(4, look.Strong, fine(s.v.setup.Spec, p.Direction)))
	}
	s.called(s.leaf.add(append(inks, s.notes(k, fl, fr)...)...))
	s.again(k, head)
}

// booked returns what stands of both faces of a place, left out or not.
func (s *sheet) booked(k booking.Slot) (fl, fr *booking.Reading) {
	if r, ok := s.v.setup.At(k); ok {
		fl = &r
	}
	if r, ok := s.v.setup.At(k.Pair()); ok {
		fr = &r
	}
	return fl, fr
}

// again sets under a place what was read of it once more as a check.
func (s *sheet) again(k booking.Slot, head int) {
	for k.Repeat = 1; k.Repeat <= booking.MaxRepeats; k.Repeat++ {
		fl, fr := s.booked(k)
		next := s.v.asks && (k == s.v.slot || k.Pair() == s.v.slot)
		s.struck(k, " again")
		if fl == nil && fr == nil && !next {
			continue
		}
		inks := []ink{{x: 0, w: s.name, text: " again", role: look.Quiet}}
		inks = append(inks, s.face(0, k, fl, head)...)
		inks = append(inks, s.face(1, k.Pair(), fr, head)...)
		s.called(s.leaf.add(append(inks, s.notes(k, fl, fr)...)...))
	}
}

// called marks the line of the pointing that is called.
func (s *sheet) called(l *line) {
	if s.leaf.now == len(s.leaf.lines)-1 {
		l.mark, l.role = "▸", look.Accent
		l.inks[0].role = look.Accent
	}
}

// face sets the figure of one face, or the place of the one that is next.
func (s *sheet) face(col int, k booking.Slot, r *booking.Reading, head int) []ink {
	switch {
	case r != nil && s.cover && s.v.asks && k.Quantity.Angular() && (sameSight(k.Pair(), s.v.slot) || sameSight(k, s.v.slot)):
		return []ink{s.put(col, look.Quiet, "covered ")}
	case r != nil:
		role := look.Ink
		if s.v.isSaving(r.Seq) {
			role = look.Quiet
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
		return []ink{s.put(col, look.Accent, "next ")}
	case s.isSkipped(k):
		return []ink{s.put(col, look.Ink, "hidden ")}
	}
	return nil
}

// sameSight tells whether two places are one sight on one face, read for the first
// time or again.
func sameSight(a, b booking.Slot) bool {
	a.Repeat, b.Repeat = 0, 0
	return a == b
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
		if r.Slot.Face == reduce.FR {
			col = 1
		}
		x, w := s.col(col)
		fig := ink{x: x, w: w - 1, align: right, text: readingText(s.v.setup.Spec, r), struck: true}
		reason, _ := s.col(2)
		s.leaf.add(ink{x: 0, w: s.name, text: name}, fig, ink{x: reason + 1, w: -1, text: "struck: " + r.Struck.Reason, role: look.Quiet})
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
		if r.LeftOut != nil {
			ws = append(ws, strings.TrimSpace(r.Slot.Face.String()+" left out: "+r.LeftOut.Reason))
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
			return []ink{{x: s.w - 1, w: 1, text: "…", role: look.Strong}}
		}
		return nil
	}
	role := look.Quiet
	if ws[0] == "saving" {
		role = look.Strong
	}
	return []ink{{x: s.note, w: -1, text: strings.Join(ws, "; "), role: role}}
}

// closing sets the misclosure of the halves under a round.
func (s *sheet) closing(r booking.RoundWork) {
	limit := s.v.work.red.Comparison.Limits.ROMisclosure.Value
	inks := []ink{{x: 0, w: s.name, text: "closes"}}
	for i, m := range []*reduce.Angle{r.ClosingFL, r.ClosingFR} {
		if m == nil {
			continue
		}
		role, t := look.Ink, told(s.v.setup.Spec, *m)+" "
		if m.Abs() > limit {
			role, t = look.Out, "! "+t
		}
		inks = append(inks, s.put(i, role, t))
	}
	if len(inks) > 1 {
		x, _ := s.col(2)
		s.leaf.add(append(inks, ink{x: x + 1, w: -1, text: "limit " + size(s.v.setup.Spec, limit), role: look.Quiet})...)
	}
}
