package tui

import (
	"fmt"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/booking/page"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/faces"
	"example.org/readback/tui/look"
)

// a sheet sets the page of a setup the way a field book has it: targets down,
// FL and FR across, then 2c, mean and reduced direction; struck figures above
// the ones that stand beside them. Its rows are those of the page model.
type sheet struct {
	*work
	file   *file
	leaf   *leaf
	w      int  // cells across, from the text edge to the margin
	turned bool // the last column of a narrow page shows the other of its two figures
	// cover keeps the other face of the pointing that is called from sight: it
	// says what is to be read.
	cover bool

	columns []page.Column // name, FL, FR, 2c, mean, reduced
	mean    bool          // there is room for the mean
}

// the column of the mean, which is left out first.
const meanColumn = 4

// pageOf sets the page of the setup for a width. With cover the other face of the
// pointing that is called is kept from sight.
func pageOf(v *view, w int, cover bool) *leaf {
	l := v.leaf(w)
	s := &sheet{work: &v.work, file: &v.file, leaf: &l, w: l.room(), cover: cover}
	s.measure()
	s.turned = !s.mean && v.turned
	for _, r := range v.red.Rounds {
		s.round(r)
	}
	if v.asks && v.slot.Quantity == spec.Horizontal && v.slot.Round > len(v.red.Rounds) {
		s.round(reduction.WorkRound(v.setup, booking.Round{Number: v.slot.Round}))
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
	c := s.red.Comparison
	if !compared(c) {
		return
	}
	s.title("Rounds against each other", "limit "+size(s.setup.Spec, c.Limit))
	s.leaf.comparison(s.work, 0)
}

// title begins a part.
func (s *sheet) title(text, note string) { s.leaf.section(text, note) }

// measure lays the columns. A figure has a place before it for the sign that it is
// struck, where there is room, and one behind it for the sign that it was confirmed.
func (s *sheet) measure() {
	spec := s.setup.Spec
	name, figure, small := 7, max(look.Width(angle(spec, widest().Angle())), 9), max(6, look.Width(smallHead(spec, "index")))
	for _, n := range spec.Names() {
		name = max(name, look.Width(n))
	}
	name = min(name, max(s.w/6, 8)-1)
	struck := 1
	if s.w < name+2*figure+9 {
		struck = 0
		name = min(name, max(s.w-2*figure-4, 3)) // beside a keypad
	}
	for _, try := range [][2]int{{struck, 2}, {struck, 1}, {0, 1}, {struck, 1}} {
		col := func(cols, gap int) page.Column { return page.Column{Cols: cols, Gap: gap, Right: true} }
		reading := col(figure+1+try[0], 1)
		s.columns = []page.Column{{Cols: name, Part: page.Name, Folds: true}, reading, reading, col(small, 1), col(figure+2, try[1]), col(figure+2, try[1])}
		if s.mean = across(s.columns) <= s.w; s.mean {
			return
		}
	}
}

// across is the cells that columns take beside each other.
func across(cols []page.Column) (n int) {
	for i, c := range cols {
		if n += c.Cols; i > 0 {
			n += c.Gap
		}
	}
	return n
}

// turnsColumn tells whether the page is too narrow for all of its columns: then the
// last is the reduced direction and the altitude, or turned to the mean and the
// gradient, so that no figure is out of reach.
func turnsColumn(v *view) bool {
	s := &sheet{work: &v.work, w: v.w - v.edge() - v.margin()}
	s.measure()
	return !s.mean
}

// last is what stands in the last column of a narrow page: itself, or the other
// where it is turned.
func (s *sheet) last(itself, other string) string {
	if s.turned {
		return other
	}
	return itself
}

// row sets a row of cells behind a name, those without room left out, and a note
// behind them that goes on below its beginning.
func (s *sheet) row(name, note string, role page.Role, cells ...page.Cell) {
	at, named := len(s.leaf.lines), page.Base
	if s.leaf.now == at {
		named = page.Current
	}
	cols, row := s.columns[:1:1], page.Row{Cells: []page.Cell{page.One(name, named)}}
	for i, c := range cells {
		col := s.columns[i+1]
		if (i+1 != meanColumn || s.mean) && across(cols)+col.Gap+col.Cols <= s.w {
			cols, row.Cells = append(cols, col), append(row.Cells, c)
		}
	}
	rows := []page.Row{row}
	if room := s.w - across(cols) - 2; note != "" && room > 8 {
		cols = append(cols, page.Column{Cols: room, Gap: 2})
		for i, words := range page.Wrap(note, room) {
			if i > 0 {
				rows = append(rows, page.Row{Cells: make([]page.Cell, len(cols)-1)})
			}
			rows[i].Cells = append(rows[i].Cells, page.One(words, role))
		}
	}
	s.leaf.table(cols, rows...)
	if named == page.Current {
		s.leaf.lines[at].mark, s.leaf.lines[at].role = "▸", look.Accent
	}
}

// heads sets the heads of the columns.
func (s *sheet) heads(heads ...string) {
	var cells []page.Cell
	for _, h := range heads {
		cells = append(cells, page.One(h, page.Title))
	}
	s.row("", "", page.Base, cells...)
}

// round sets one round.
func (s *sheet) round(r reduction.RoundWork) {
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
	s.heads("FL", "FR", smallHead(s.setup.Spec, "2c"), "mean", s.last("reduced", "mean"))
	for _, p := range r.Pairs {
		s.pair(r, p, at)
	}
	s.closing(r)
	s.leaf.blank()
}

// pair sets the row of one pointing, the struck figures above it.
func (s *sheet) pair(r reduction.RoundWork, p reduction.PairWork, head int) {
	k := spec.Slot{Quantity: spec.Horizontal, Round: r.Number, Face: faces.FL, Target: p.Target, Closing: p.Closing}
	name := p.Target
	if p.Closing {
		name = "closing"
		if p.Target != s.setup.Spec.RO {
			name = p.Target + " closing"
		}
	}
	s.struck(k, k.Pair(), name)
	if r.Void != nil {
		return
	}
	agreed := s.setup.Spec
	var twoC, mean, last string
	if p.HasPair {
		twoC, mean = signed(agreed, p.TwoC), fine(agreed, p.Mean)
	}
	role := page.Strong
	switch {
	case s.turned:
		last, role = mean, page.Base
	case p.HasDirection && !p.Closing:
		last = fine(agreed, p.Direction)
	}
	sum := k
	sum.Quantity = spec.Accumulated
	if agreed.Order != spec.ByRepetition || p.Target == agreed.RO {
		s.readings(name, k, k.Pair(), head, page.One(twoC, page.Base), page.One(mean, page.Base), page.One(last, role))
		s.again(k, k.Pair(), head)
		return
	}
	s.readings(name, k, k.Pair(), head, page.One(twoC, page.Base))
	s.again(k, k.Pair(), head)
	name = fmt.Sprintf("after %d", agreed.Repetitions)
	s.struck(sum, sum.Pair(), name)
	s.readings(name, sum, sum.Pair(), head, nil, page.One(mean, page.Base), page.One(last, role))
	s.again(sum, sum.Pair(), head)
}

// readings sets the row of two places, with what follows from them behind them.
func (s *sheet) readings(name string, left, right spec.Slot, head int, worked ...page.Cell) {
	a, b := s.standing(left), s.standing(right)
	note, role := s.notes(a, b)
	cells := append([]page.Cell{s.reading(left, a, head), s.reading(right, b, head)}, worked...)
	for len(cells) < len(s.columns)-1 {
		cells = append(cells, nil)
	}
	s.row(name, note, role, cells...)
}

// again sets under two places what was read of them once more as a check.
func (s *sheet) again(left, right spec.Slot, head int) {
	for n := 1; n <= spec.MaxRepeats; n++ {
		left.Repeat, right.Repeat = n, n
		s.struck(left, right, " again")
		next := s.asks && (left == s.slot || right == s.slot)
		if next || s.standing(left) != nil || s.standing(right) != nil {
			s.readings(" again", left, right, head)
		}
	}
}

// standing is the reading that stands in a place, left out or not, nil for none.
func (s *sheet) standing(k spec.Slot) *booking.Reading {
	if r, ok := s.setup.At(k); ok {
		return &r
	}
	return nil
}

// reading is the figure of one place, or its sign where it is the next one.
func (s *sheet) reading(k spec.Slot, r *booking.Reading, head int) page.Cell {
	switch {
	case r != nil && s.cover && s.asks && k.Quantity.Angular() && (sameSight(k.Pair(), s.slot) || sameSight(k, s.slot)):
		return page.One("covered ", page.Aside)
	case r != nil:
		role, sign := page.Base, " "
		if s.file.isSaving(r.Seq) {
			role = page.Aside
		}
		if r.Confirmed {
			sign = "!"
		}
		return page.One(readingText(s.setup.Spec, *r)+sign, role)
	case s.asks && k == s.slot:
		s.leaf.now, s.leaf.first = len(s.leaf.lines), head
		return page.One("next ", page.Current)
	case s.isSkipped(k):
		return page.One("hidden ", page.Base)
	}
	return nil
}

// sameSight tells whether two places are one sight on one face, read for the first
// time or again.
func sameSight(a, b spec.Slot) bool {
	a.Repeat, b.Repeat = 0, 0
	return a == b
}

func (s *sheet) isSkipped(k spec.Slot) bool {
	for _, x := range s.setup.Skips {
		if x.Slot == k {
			return true
		}
	}
	return false
}

// struck sets the struck figures of two places, oldest first, each with its reason.
func (s *sheet) struck(left, right spec.Slot, name string) {
	for _, r := range s.setup.Readings {
		if r.Stands() || r.Slot != left && r.Slot != right {
			continue
		}
		cells := make([]page.Cell, 2)
		at := 0
		if r.Slot == right {
			at = 1
		}
		cells[at] = page.Cell{{Text: readingText(s.setup.Spec, r), Struck: true}}
		s.row(name, "struck: "+r.Struck.Reason, page.Aside, cells...)
	}
}

// notes says beside a row what there is to say: being saved, left out, read again,
// remarks.
func (s *sheet) notes(rs ...*booking.Reading) (text string, role page.Role) {
	var ws []string
	for _, r := range rs {
		if r == nil {
			continue
		}
		if s.file.isSaving(r.Seq) {
			ws, role = append(ws, "saving"), page.Strong
		}
		if r.LeftOut != nil {
			ws = append(ws, strings.TrimSpace(r.Slot.Face.String()+" left out: "+r.LeftOut.Reason))
		}
		if r.Confirmed {
			ws = append(ws, r.Slot.Face.String()+" read again")
		}
		for _, m := range s.setup.Remarks {
			if m.On == r.Seq {
				ws = append(ws, m.Text)
			}
		}
	}
	if role == page.Base {
		role = page.Aside
	}
	return strings.Join(ws, "; "), role
}

// closing sets the misclosure of the halves under a round.
func (s *sheet) closing(r reduction.RoundWork) {
	limit := s.red.Comparison.Limits.ROMisclosure.Value
	var cells []page.Cell
	for i, x := range r.Closings {
		if cells == nil {
			cells = make([]page.Cell, 2)
		}
		text, role, at := told(s.setup.Spec, x.Misclosure)+" ", page.Base, 0
		if x.Misclosure.Abs() > limit {
			text, role = "! "+text, page.Stop
		}
		if x.Face == faces.FR {
			at = 1
		}
		cells[at] = page.One(text, role)
		if i+1 < len(r.Closings) && r.Closings[i+1].Target == x.Target {
			continue
		}
		name := "closes"
		if x.Target != s.setup.Spec.RO {
			name = x.Target + " closes"
		}
		s.row(name, "limit "+size(s.setup.Spec, limit), page.Aside, cells...)
		cells = nil
	}
}
