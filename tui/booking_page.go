package tui

import (
	"example.org/readback/booking/spec"
	"example.org/readback/tui/look"
)

// drawDone says that nothing is called any more, and whether the tripod may be
// lifted.
func (s *bookingScreen) drawDone(v *view, w, h int) block {
	b := block{}
	text := []string{"Everything that was called is booked.", "The verdict is Hold. Enter shows what is missing."}
	if v.mayLift() {
		text[1] = "The verdict is Lift. Enter shows the checks."
	}
	b.add(v.verdictHead("", v.mayLift(), text, w)...)
	b.touch(0, 0, w, len(b.lines), named("enter"))
	b.add("")
	for _, r := range v.holds() {
		b.add(v.flag(look.Stop, "✗", "not met", bookingWords, look.Ink, r, w)...)
	}
	if len(v.holds()) > 0 {
		b.add("")
	}
	b.put(s.drawPage(v, w, h-len(b.lines)))
	b.level(h)
	return b
}

// drawPage draws the booked page, scrolled to the pointing that is next. It is
// kept until the book, the window or the place changes.
func (s *bookingScreen) drawPage(v *view, w, h int) block {
	if h < 1 {
		return block{}
	}
	s.paged(v, w)
	if s.page.now < 0 {
		s.page.scroll(len(s.page.lines), h)
	}
	s.page.show(h)
	at := s.page.top
	s.page.scroll(s.off, h)
	s.off = s.page.top - at
	if s.kept.h != h || s.kept.top != s.page.top || s.kept.of != s.page {
		b := s.page.view(h)
		b.touch(0, 0, w, h, char('p'))
		s.kept = keptPage{of: s.page, h: h, top: s.page.top, b: b}
	}
	return s.kept.b
}

// paged is the page, set once for a book and a width.
func (s *bookingScreen) paged(v *view, w int) *leaf {
	if s.page == nil || s.pageVersion != v.version || s.pageW != w {
		s.page, s.pageVersion, s.pageW = pageOf(v, w, true), v.version, w
		s.kept = keptPage{}
		s.come = nil
	}
	return s.page
}

// toCome is what is still to be booked, where a tall window has room for it under
// at least half of the rest.
func (s *bookingScreen) toCome(v *view, w, rest int) []string {
	if v.h < tallH {
		return nil
	}
	if s.paged(v, w); s.come == nil {
		s.come = toCome(v, w)
	}
	if len(s.come) > rest/2 {
		return nil
	}
	return s.come
}

// a keptPage is the page as it was drawn last.
type keptPage struct {
	of     *leaf
	h, top int
	b      block
}

// pictures are the plan of the horizon and 2c by pair, in frames. They show what
// is booked and nothing of what a reading should be.
func (s *bookingScreen) pictures(v *view, w, h int) block {
	now := keptPictures{version: v.version, w: w, h: h}
	if s.side.lines == nil || now != s.side.keptPictures {
		s.side.keptPictures, s.side.lines = now, drawPictures(v, w, h)
	}
	return block{lines: s.side.lines}
}

type keptPictures struct{ version, w, h int }

// notationText states how the reading is keyed, with an example that has nothing
// to do with the pointing.
func notationText(spec spec.Spec, k spec.Slot) string {
	if !k.Quantity.Angular() {
		return "Plain decimal in " + spec.LengthUnit.String() + ": 12.345"
	}
	if u := notationOf(spec, k).Unit; u.Decimal() {
		return "Plain decimal in " + u.WholeName() + ": " + u.Example()
	}
	if spec.Instrument.Places() > 0 {
		return "1234512.5 is 123°45′12.5″. Or 123 45 12.5"
	}
	return "1234515 is 123°45′15″. Or 123 45 15"
}
