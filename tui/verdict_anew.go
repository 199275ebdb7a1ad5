package tui

import (
	"example.org/readback/booking/check"
	"example.org/readback/tui/look"
)

// judgedAnew sets the verdict that was said when the tripod was lifted beside that of
// today's rule.
func (s *verdictScreen) judgedAnew(v *view, w int) {
	room := w - v.edge() - v.margin()
	s.leaf.section(v, "Judged anew", "by today's rule", w)
	t := check.Anew(v.setup)
	s.leaf.wrapped(look.Strong, 0, room, "Said when the tripod was lifted: "+v.setup.Lift.Verdict+".")
	for _, r := range v.setup.Lift.Reasons {
		s.leaf.marked("✗", look.Out, look.Ink, 0, room, r)
	}
	s.leaf.wrapped(look.Strong, 0, room, "By today's rule: "+t.Word()+".")
	for _, r := range t.Reasons() {
		s.leaf.marked("✗", look.Out, look.Ink, 0, room, r)
	}
	s.leaf.wrapped(look.Quiet, 0, room, "What was said stands in the book; this is worked out now and not booked.")
	s.leaf.blank()
}
