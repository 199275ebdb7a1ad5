package tui

import (
	"example.org/readback/booking/check"
	"example.org/readback/tui/look"
)

// judgedAnew sets the verdict that was said when the tripod was lifted beside that of
// today's rule.
func (s *verdictScreen) judgedAnew(v *view) {
	s.leaf.section("Judged anew", "by today's rule")
	t := check.Anew(v.setup)
	s.leaf.wrapped(look.Strong, 0, "Said when the tripod was lifted: "+v.setup.Lift.Verdict+".")
	for _, r := range v.setup.Lift.Reasons {
		s.leaf.marked("✗", look.Out, look.Ink, 0, r)
	}
	s.leaf.wrapped(look.Strong, 0, "By today's rule: "+t.Word()+".")
	for _, r := range t.Reasons() {
		s.leaf.marked("✗", look.Out, look.Ink, 0, r)
	}
	s.leaf.wrapped(look.Quiet, 0, "What was said stands in the book; this is worked out now and not booked.")
	s.leaf.blank()
}
