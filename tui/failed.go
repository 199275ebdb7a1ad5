package tui

import (
	"example.org/readback/tui/look"
)

// the failedScreen stands over everything after a write that reported an error,
// until the file was opened again and the booker has seen what is in it.
type failedScreen struct{ commanded }

func (s *failedScreen) actions(v *view) []action {
	f := v.failure
	idle := f != nil && !f.busy
	return []action{
		gives(keys.Reopen, reopen{}).when(idle && !f.done, ""),
		gives(keys.Home, reopen{}).when(idle && f.done, ""),
		{key: keys.Quit, do: func() []ask { return asks(leave{}) }, unlisted: !idle},
	}
}

func (s *failedScreen) draw(v *view, w, h int) block {
	f := v.failure
	b := v.air()
	if f == nil {
		return b
	}
	put := func(role look.Role, text string) { b.words(&v.frame, role, text, w) }
	if f.done {
		s.found(v, &b, put, w)
		return b
	}
	b.add(v.band(look.StopWide, "✗", "The book could not be written.", w)...)
	b.add("")
	put(look.Strong, capital(f.what)+" may be in the file or not.")
	put(look.Ink, "The file "+v.status.Path+" answered:")
	put(look.Strong, f.err.Error())
	b.add("")
	put(look.Ink, "Nothing is booked until the file has been opened again and looked at. Everything shown as saved before is safe.")
	if n := len(f.queue); n > 1 {
		put(look.Ink, count(n, "event was", "events were")+" waiting to be saved.")
	}
	b.add("")
	switch {
	case f.busy:
		put(look.Strong, "Opening the book again.")
	case f.reopen != nil:
		put(look.Strong, "It could not be opened again: "+f.reopen.Error())
		put(look.Ink, "Make room or put the card back, then press O once more. The journal still holds every reading that was saved.")
	default:
		put(look.Strong, "Press O to open the book again.")
	}
	return b
}

// found says what is in the file and what is not, from what was read there.
func (s *failedScreen) found(v *view, b *block, put func(look.Role, string), w int) {
	f := v.failure
	b.add(v.section("The book is open again", "", w)...)
	b.add("")
	flag := func(in bool, text string) {
		if in {
			b.add(v.flag(look.Good, "✓", "in", compareWords, look.Ink, text, w)...)
			return
		}
		b.add(v.flag(look.Stop, "✗", "not in", compareWords, look.Strong, text, w)...)
	}
	text, bad := f.verdict()
	flag(!bad, text)
	for _, q := range f.queue {
		switch {
		case q.seq == f.seq:
		case f.holds(q.seq):
			flag(true, "In the file: "+q.what+".")
		default:
			flag(false, "Not in the file: "+q.what+".")
		}
	}
	b.add("")
	if f.found.Note != "" {
		put(look.Strong, f.found.Note)
	}
	put(look.Ink, "The page now shows what is in the file and nothing else.")
}
