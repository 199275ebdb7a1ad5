package tui

import (
	"fmt"

	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// the pageScreen is the whole field-book page of the setup, also of one that is
// looked back at.
type pageScreen struct {
	page    *leaf
	version int
	w, h    int
	around  bool // the plan of the horizon stands in place of the page
}

func (s *pageScreen) enter(*view) { s.page, s.around = nil, false }

func (s *pageScreen) field(*view) input.Field { return input.Command }

func (s *pageScreen) press(v *view, p press) []ask {
	switch {
	case p.is(keys.Up):
		s.scroll(-1)
	case p.is(keys.Down):
		s.scroll(1)
	case p.is(keys.PageUp):
		s.scroll(-s.h + 1)
	case p.is(keys.PageDown), p.is(keys.Page) && v.readOnly:
		s.scroll(s.h - 1)
	case p.is(keys.Around):
		s.around = !s.around
	case p.is(keys.Gradient):
		return asks(turnGradient{})
	case p.is(keys.Remark) && !v.readOnly:
		return asks(write{remarkWriting(v)})
	case p.is(keys.Verdict):
		return asks(goTo{onVerdict})
	case p.is(keys.Compare):
		return asks(goTo{onCompare})
	case p.is(keys.Work):
		return asks(goTo{onWork})
	case p.is(keys.Home), p.is(keys.Page), p.is(keys.Enter):
		return asks(goTo{onBooking})
	}
	return nil
}

func (s *pageScreen) scroll(n int) {
	if s.page != nil {
		s.page.scroll(n, s.h)
	}
}

func (s *pageScreen) keys(v *view) []key.Binding {
	ks := []key.Binding{keys.Home, keys.PageDown, keys.PageUp, keys.Around, keys.Compare, keys.Verdict, keys.Work, keys.Up, keys.Down}
	if turnsGradient(v) {
		ks = append(ks, keys.Gradient)
	}
	if !v.readOnly {
		ks = append(ks, keys.Remark)
	}
	return ks
}

func (s *pageScreen) draw(v *view, a widget.Area) {
	a = a.Inset(1, 0)
	head, a := a.Top(3)
	spec := v.setup.Spec
	i := spec.Instrument
	head.Text(0, 0, look.Strong, widget.Cut(fmt.Sprintf("%s to %s, %s", spec.Station, spec.RO, v.setup.Opened.Format("2 January 2006 15:04")), head.W))
	head.Text(0, 1, look.Base, widget.Cut(v.theme.Rewrite(fmt.Sprintf("%s %s, least count %s, observer %s, booker %s", i.Name, i.Serial, leastCount(i), spec.Observer, spec.Booker)), head.W))
	head.HRule(2, look.Rule)
	if s.around {
		horizonOf(v).Draw(a)
		return
	}
	if s.page == nil || s.version != v.version || s.w != a.W {
		top := 0
		if s.page != nil {
			top = s.page.top
		}
		fresh := s.page == nil
		s.page, s.version, s.w = pageOf(v, a.W, false), v.version, a.W
		s.page.top = top
		if fresh {
			s.page.show(a.H)
		}
	}
	s.h = a.H
	s.page.scroll(0, a.H)
	s.page.draw(a, nil)
}
