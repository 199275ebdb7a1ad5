package tui

import (
	"fmt"

	"slices"

	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/booking"
	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
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
	case p.is(keys.Column) && turnsColumn(v):
		return asks(turnColumn{})
	case p.is(keys.Amend) && v.setup.Void == nil:
		return asks(goTo{onAmend})
	case p.is(keys.Strike) && v.setup.Void == nil:
		return asks(goTo{onStrike})
	case p.is(keys.Go) && v.setup.Lift != nil:
		return s.readAgain(v)
	case p.is(keys.Remark) && v.setup.Void == nil:
		return asks(write{remarkWriting(v)})
	case p.is(keys.Anew) && v.setup.Lift != nil:
		return asks(goTo{onVerdict}, judgeAnew{})
	case p.is(keys.Verdict):
		return asks(goTo{onVerdict})
	case p.is(keys.Compare):
		return asks(goTo{onCompare})
	case p.is(keys.Day) && v.setup.Void == nil:
		return asks(goTo{onDay})
	case p.is(keys.Work):
		return asks(goTo{onWork})
	case p.is(keys.Home), p.is(keys.Page), p.is(keys.Enter):
		return asks(goTo{onBooking})
	}
	return nil
}

// readAgain turns to the pointings that can be read again after the lift.
func (s *pageScreen) readAgain(v *view) []ask {
	if len(struckPlaces(v.setup)) == 0 {
		return asks(say{text: "After the lift only struck readings are read again, and none is open here. S strikes."})
	}
	return asks(goTo{onPointings})
}

// struckPlaces are the pointings of a lifted setup that were struck and can be
// read again.
func struckPlaces(s booking.Setup) (out []booking.Slot) {
	for _, r := range s.Readings {
		if !r.Stands() && s.Bookable(r.Slot) == nil && !slices.Contains(out, r.Slot) {
			out = append(out, r.Slot)
		}
	}
	return out
}

func (s *pageScreen) scroll(n int) {
	if s.page != nil {
		s.page.scroll(n, s.h)
	}
}

func (s *pageScreen) keys(v *view) []key.Binding {
	ks := []key.Binding{keys.Home, keys.PageDown, keys.Around, keys.Compare, keys.Verdict, keys.Work, keys.PageUp, keys.Up, keys.Down}
	if turnsColumn(v) {
		ks = append(ks, keys.Column)
	}
	if v.setup.Lift != nil {
		ks = append(ks, withHelp(keys.Go, "read again"))
		ks = append(ks, keys.Anew)
	}
	if v.setup.Void == nil {
		ks = append(ks, keys.Remark, keys.Amend, keys.Strike, keys.Day)
	}
	return ks
}

func (s *pageScreen) draw(v *view, w, h int) block {
	spec := v.setup.Spec
	i := spec.Instrument
	b := v.air()
	room := w - v.edge() - v.margin()
	for n, text := range []string{
		fmt.Sprintf("%s to %s, %s", spec.Station, spec.RO, v.setup.Opened.Format("2 January 2006 15:04")),
		fmt.Sprintf("%s %s, least count %s, observer %s, booker %s", i.Name, i.Serial, leastCount(i), spec.Observer, spec.Booker),
	} {
		role := look.Strong
		if n > 0 {
			role = look.Quiet
		}
		b.words(v, role, text, w)
	}
	b.put(v.air())
	h -= len(b.lines)
	if s.around {
		for _, l := range horizonOf(v).Draw(v.theme, room, h) {
			b.add(v.theme.Row().To(v.edge()).Add(l, room).String())
		}
		return b
	}
	if s.page == nil || s.version != v.version || s.w != w {
		top, fresh := 0, s.page == nil
		if !fresh {
			top = s.page.top
		}
		s.page, s.version, s.w = pageOf(v, w, false), v.version, w
		s.page.top = top
		if fresh {
			s.page.show(h)
		}
	}
	s.h = h
	s.page.scroll(0, h)
	b.put(s.page.view(v, w, h))
	return b
}
