package tui

import (
	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/booking"
	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// the strikeScreen chooses the reading to strike: the last one stands first and
// Enter takes it, any other by its number or the arrows.
type strikeScreen struct {
	list   widget.List
	seqs   []uint64
	number int // typed so far
}

func (s *strikeScreen) enter(v *view) {
	s.number = 0
	s.list = widget.List{Head: true, Columns: []widget.Column{
		{Title: "no.", Width: 4, Align: widget.Right}, {Title: "reading", Width: 14, Align: widget.Right}, {Title: "pointing"}, {Title: "booked", Width: 9}}}
	s.seqs = s.seqs[:0]
	rs := v.setup.Readings
	for i := len(rs) - 1; i >= 0; i-- {
		if !rs[i].Stands() {
			continue
		}
		s.seqs = append(s.seqs, rs[i].Seq)
		s.list.Rows = append(s.list.Rows, widget.Row{Cells: []string{itoa(len(s.seqs)), readingText(v.setup.Spec, rs[i]), slotWords(rs[i].Slot), rs[i].At.Format("15:04:05")}})
	}
}

func (s *strikeScreen) field(*view) input.Field { return input.Command }

func (s *strikeScreen) press(v *view, p press) []ask {
	if by, ok := p.rows(listPage); ok {
		s.list.Move(by)
		return nil
	}
	switch {
	case p.name == "esc", p.is(keys.Home), p.is(keys.Strike):
		return asks(goTo{onBooking})
	case p.is(keys.Back):
		s.number /= 10
		s.list.Chosen = max(s.number-1, 0)
	case p.name == "row":
		if p.row < len(s.seqs) {
			s.list.Chosen = p.row
			return s.take(v)
		}
	case p.is(keys.Enter):
		return s.take(v)
	case p.name == "" && p.r >= '0' && p.r <= '9':
		s.number = typed(s.number, p.r, len(s.seqs))
		s.list.Chosen = max(s.number-1, 0)
	}
	return nil
}

// typed is the number of a row while its digits are keyed: the digit goes on with
// the number as far as there are rows, else it begins another.
func typed(number int, digit rune, rows int) int {
	d := int(digit - '0')
	switch {
	case number*10+d >= 1 && number*10+d <= rows:
		return number*10 + d
	case d >= 1 && d <= rows:
		return d
	}
	return number
}

func (s *strikeScreen) take(v *view) []ask {
	if s.list.Chosen >= len(s.seqs) {
		return asks(goTo{onBooking})
	}
	r, ok := v.setup.Reading(s.seqs[s.list.Chosen])
	if !ok {
		return nil
	}
	ws := strikeWriting(r, readingText(v.setup.Spec, r))
	if pair, ok := v.setup.At(r.Slot.Pair()); ok && r.Slot.Quantity.Angular() {
		ws.other = []option{{"Strike the pair: " + slotWords(pair.Slot) + " as well", func(reason string) []ask {
			return asks(strikeReading{r.Seq, reason}, strikeReading{pair.Seq, reason})
		}}}
	}
	return asks(write{ws})
}

func (s *strikeScreen) keys(*view) []key.Binding {
	return []key.Binding{withHelp(keys.Pick, "strike this one"), keys.Up, keys.Down, keys.Home}
}

func (s *strikeScreen) draw(v *view, a widget.Area) {
	a = a.Inset(1, 0)
	a.Text(0, 0, look.Title, "Strike a reading")
	if len(s.seqs) == 0 {
		a.Text(0, 2, look.Base, "No reading of this setup stands.")
		return
	}
	a.Text(0, 1, look.Base, widget.Cut("Key its number or use the arrows. It stays legible; the pointing is called again.", a.W))
	list := a.Sub(0, 3, a.W, a.H-3)
	if v.prefs.Keypad {
		touchGrid(v, list, len(s.seqs), s.list.Chosen, func(i int) touchCell {
			c := s.list.Rows[i].Cells
			return touchCell{upper: c[0] + "  " + c[1], lower: c[2]}
		})
		return
	}
	s.list.Draw(list)
	touchRows(v.zones, list, &s.list)
}

// touchRows makes the rows of a list places to touch.
func touchRows(z *zones, a widget.Area, l *widget.List) {
	for y := 0; y < a.H; y++ {
		if i, ok := l.At(a.H, y); ok {
			z.add(a.Sub(0, y, a.W, 1), rowPress(i))
		}
	}
}

// standing finds the reading of a slot for a list.
func standing(s booking.Setup, k booking.Slot) string {
	if r, ok := s.At(k); ok {
		return readingText(s.Spec, r)
	}
	return ""
}
