package tui

import (
	"fmt"

	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/spec"
	"example.org/readback/tui/look"
)

// the pageScreen is the whole field-book page of the setup, also of one that is
// looked back at.
type pageScreen struct {
	keptLeaf
	fresh  bool // it was not seen yet: it begins at the pointing that is called
	around bool // the plan of the horizon stands in place of the page
}

func (s *pageScreen) enter(*view) { s.keptLeaf, s.fresh, s.around = keptLeaf{}, true, false }

func (s *pageScreen) actions(v *view) []action {
	lifted, stands := v.setup.Lift != nil, v.setup.Void == nil
	over := ""
	if lifted {
		over = noMore
	}
	home := func() []ask { return asks(goTo{onBooking}) }
	as := []action{
		does(keys.Home, home),
		does(keys.PageDown, nil), // these are scrolled
		does(keys.Around, func() []ask { s.around = !s.around; return nil }),
		gives(keys.Compare, goTo{onCompare}),
		gives(keys.Verdict, goTo{onVerdict}),
		gives(keys.Work, goTo{onWork}),
		does(keys.PageUp, nil), does(keys.Up, nil), does(keys.Down, nil),
		turn(v),
		does(keys.Go, func() []ask { return s.readAgain(v) }).named("read again").when(lifted, ""),
		gives(keys.Anew, goTo{onVerdict}, judgeAnew{}).when(lifted, ""),
		does(keys.Remark, func() []ask { return asks(write{remarkWriting(v)}) }).when(stands, struckWhole),
		gives(keys.Amend, goTo{onAmend}).when(stands, struckWhole),
		gives(keys.Strike, goTo{onStrike}).when(stands, struckWhole),
		gives(keys.Day, goTo{onDay}).when(stands, struckWhole),
		{key: keys.Lift, off: true, why: over}, {key: keys.Height, off: true, why: over},
		{key: keys.Page, unlisted: true, do: func() []ask {
			if v.readOnly {
				s.take(v, named("pgdown"))
				return nil
			}
			return home()
		}},
	}
	return append(as, too(home, keys.Enter)...)
}

// struckWhole is said where a setup that was struck whole cannot be gone on with.
const struckWhole = "The setup was struck: it stands as it is."

// readAgain turns to the pointings that can be read again after the lift.
func (s *pageScreen) readAgain(v *view) []ask {
	if len(struckPlaces(v.setup)) == 0 {
		return asks(say{text: "After the lift only struck readings are read again, and none is open here. S strikes."})
	}
	return asks(goTo{onPointings})
}

// struckPlaces are the pointings of a lifted setup that were struck and can be
// read again.
func struckPlaces(s booking.Setup) (out []spec.Slot) {
	for _, r := range s.Readings {
		if !r.Stands() && s.Bookable(r.Slot) == nil && !slices.Contains(out, r.Slot) {
			out = append(out, r.Slot)
		}
	}
	return out
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
		b.words(&v.frame, role, text, w)
	}
	b.put(v.air())
	h -= len(b.lines)
	if s.around {
		for _, l := range v.horizonOf().Draw(v.theme, room, h) {
			b.add(v.theme.Row().To(v.edge()).Add(l, room).String())
		}
		return b
	}
	s.keptLeaf.draw(v, &b, w, h+len(b.lines), 0, func(v *view, w int) {
		top := s.leaf.top
		s.leaf = *pageOf(v, w, false)
		s.leaf.top = top
		if s.fresh {
			s.fresh = false
			s.leaf.show(h)
		}
	})
	return b
}
