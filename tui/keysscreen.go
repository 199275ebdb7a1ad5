package tui

import (
	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// the keysScreen lists every key of the booking screen as a row to touch, also
// those the bar has no room for.
type keysScreen struct{ leaf leaf }

func (s *keysScreen) enter(*view) { s.leaf.top = 0 }

func (s *keysScreen) field(*view) input.Field { return input.Command }

func (s *keysScreen) press(v *view, p press) []ask {
	if p.is(keys.Home) || p.is(keys.Keys) || p.is(keys.Enter) {
		return asks(goTo{onBooking})
	}
	b := bookingScreen{}
	for _, k := range b.keys(v) {
		if p.is(k) {
			return append(asks(goTo{onBooking}), b.command(v, p)...)
		}
	}
	return nil
}

func (s *keysScreen) keys(*view) []key.Binding { return []key.Binding{keys.Home} }

// drawCells draws the bindings as cells large enough for a gloved finger.
func drawCells(v *view, a widget.Area, ks []key.Binding) {
	cols := max(a.W/25, 1)
	rows := (len(ks) + cols - 1) / cols
	h := max(min(a.H/max(rows, 1), 4), 1)
	for i, k := range ks {
		x0, x1 := i%cols*a.W/cols, (i%cols+1)*a.W/cols
		cell := a.Sub(x0, i/cols*h, x1-x0, h)
		v.zones.add(cell, pressOf(k))
		in := cell
		if h >= 3 {
			in = cell.Box(look.Rule, "")
		}
		x := drawKey(in, 1, in.H/2, k.Help().Key)
		in.Text(x+1, in.H/2, look.Base, widget.Cut(k.Help().Desc, in.W-x-1))
	}
}

// meanings say more than the bar has room for.
var meanings = map[string]string{
	"Enter": "book the entry; a marked one asks whether it was read again",
	"S":     "strike a reading: the last one, or any other",
	"H":     "the target is hidden for now, or blocked",
	"V":     "the round is void from here: tripod knocked",
	"R":     "write a remark on the setup or beside the last reading",
	"P":     "the whole page, nothing covered; the same key comes back",
	"G":     "turn to another pointing, or to the instrument height",
	"C":     "the rounds against each other; leave one out; another round",
	"L":     "Hold with what is missing, or Lift with the angles",
	"W":     "every setup of the book; the next station; the figure",
	"O":     "theme, plain signs, touch, second journal",
	"K":     "show or hide the keypad",
	"E":     "altitude or gradient on a narrow page",
	"Q":     "leave; everything booked is kept",
	"B":     "back to the pointing that is called",
	"A":     "ask the observer to read it again",
}

func (s *keysScreen) draw(v *view, a widget.Area) {
	a = a.Inset(1, 0)
	a.Text(0, 0, look.Title, "Keys of the booking screen")
	b := bookingScreen{}
	ks := b.keys(v)
	if v.prefs.Keypad {
		drawCells(v, a.Sub(0, 1, a.W, a.H-1), ks)
		return
	}
	y := 2
	row := func(k, text string, p *press) {
		r := a.Sub(0, y, a.W, 1)
		r.Fit(0, 0, 7, look.Key, k, widget.Middle)
		r.Text(9, 0, look.Base, widget.Cut(text, r.W-9))
		if p != nil {
			v.zones.add(r, *p)
		}
		y++
	}
	row("0-9 . ", "the reading, as it is called; a space or a full stop parts it", nil)
	row("Back", "take back the last digit", nil)
	row("↑ ↓", "scroll the page below the entry", nil)
	for _, k := range ks {
		if k.Help().Key == "?" {
			continue
		}
		p := pressOf(k)
		text := meanings[k.Help().Key]
		if text == "" {
			text = k.Help().Desc
		}
		row(k.Help().Key, text, &p)
	}
	row("B Esc", "on every other screen: back to the same pointing", nil)
}
