package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// the textScreen shows a text that is worked out from the whole book: the
// figures, the health of the instruments.
type textScreen struct {
	leaf    leaf
	of      string
	w, h    int
	picture bool // shown instead of the text where both have no room
}

func (s *textScreen) enter(*view) { s.leaf.top, s.picture = 0, false }

func (s *textScreen) field(*view) input.Field { return input.Command }

func (s *textScreen) press(_ *view, p press) []ask {
	if by, ok := p.rows(s.h - 1); ok {
		s.leaf.scroll(by, s.h)
		return nil
	}
	switch {
	case p.is(keys.Picture):
		s.picture = !s.picture
	case p.is(keys.Work):
		return asks(goTo{onWork})
	case p.is(keys.Figure):
		return asks(showText{figureText})
	case p.is(keys.Health):
		return asks(showText{healthText})
	case p.is(keys.Home), p.is(keys.Enter):
		return asks(goTo{onBooking})
	}
	return nil
}

func (s *textScreen) keys(v *view) []key.Binding {
	other := keys.Health
	if v.text.which == healthText {
		other = keys.Figure
	}
	return []key.Binding{keys.Home, keys.Picture, keys.Up, keys.Down, keys.PageUp, keys.PageDown, other, keys.Work}
}

func (s *textScreen) draw(v *view, a widget.Area) {
	a = a.Sub(1, 0, a.W-1, a.H)
	title := "The figure of this book"
	if v.text.which == healthText {
		title = "The instruments of this book"
	}
	a.Text(0, 0, look.Title, title)
	body := a.Sub(0, 2, a.W, a.H-2)
	switch {
	case v.text.loading:
		body.Text(0, 0, look.Base, "Working it out.")
		return
	case v.text.err != nil:
		body.Paragraph(look.Stop, sentence(v.text.err))
		return
	}
	switch {
	case body.W >= besideW:
		var side widget.Area
		body, side = body.Left(80)
		s.drawPicture(v, side)
	case s.picture:
		if !s.drawPicture(v, body) {
			body.Paragraph(look.Base, "There is nothing to draw yet: a figure with distances, or two setups with one instrument.")
		}
		return
	}
	if s.of != v.text.text || s.w != body.W {
		s.of, s.w = v.text.text, body.W
		s.leaf = leaf{now: -1}
		for _, l := range strings.Split(strings.TrimRight(v.text.text, "\n"), "\n") {
			s.leaf.indented(v.theme, body.W, l)
		}
	}
	s.h = body.H
	s.leaf.scroll(0, body.H)
	s.leaf.draw(body, nil)
}

// drawPicture draws what belongs to the text; it tells whether there was
// anything.
func (s *textScreen) drawPicture(v *view, a widget.Area) bool {
	if v.text.which == healthText {
		return drawHistory(a, v.text.instruments)
	}
	return drawPlan(a, v.text.report)
}
