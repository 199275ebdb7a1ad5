package tui

import (
	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// the failedScreen stands over everything after a write that reported an error,
// until the file was opened again and the booker has seen what is in it.
type failedScreen struct{}

func (s *failedScreen) enter(*view) {}

func (s *failedScreen) field(*view) input.Field { return input.Command }

func (s *failedScreen) press(v *view, p press) []ask {
	done := v.failure != nil && v.failure.done
	switch {
	case !done && p.is(keys.Reopen), done && p.is(keys.Home):
		return asks(reopen{})
	case p.is(keys.Quit):
		return asks(leave{})
	}
	return nil
}

func (s *failedScreen) keys(v *view) []key.Binding {
	switch {
	case v.failure == nil || v.failure.busy:
		return nil
	case v.failure.done:
		return []key.Binding{keys.Home, keys.Quit}
	}
	return []key.Binding{keys.Reopen, keys.Quit}
}

func (s *failedScreen) draw(v *view, a widget.Area) {
	f := v.failure
	if f == nil {
		return
	}
	a = a.Inset(2, 1)
	y := 0
	put := func(role look.Role, text string) {
		y += a.Sub(0, y, a.W, a.H-y).Paragraph(role, text)
	}
	if f.done {
		s.found(f, put, &y)
		return
	}
	head := a.Sub(0, 0, a.W, 1)
	head.Fill(look.Stop, ' ')
	put(look.Stop, "! The book could not be written.")
	y++
	put(look.Strong, capital(f.what)+" may be in the file or not.")
	put(look.Base, "The file "+v.status.Path+" answered:")
	put(look.Strong, f.err.Error())
	y++
	put(look.Base, "Nothing is booked until the file has been opened again and looked at. Everything shown as saved before is safe.")
	if n := len(f.queue); n > 1 {
		put(look.Base, count(n, "event was", "events were")+" waiting to be saved.")
	}
	y++
	switch {
	case f.busy:
		put(look.Strong, "Opening the book again.")
	case f.reopen != nil:
		put(look.Stop, "It could not be opened again: "+f.reopen.Error())
		put(look.Base, "Make room or put the card back, then press O once more. The journal still holds every reading that was saved.")
	default:
		put(look.Strong, "Press O to open the book again.")
	}
}

// found says what is in the file and what is not, from what was read there.
func (s *failedScreen) found(f *failure, put func(look.Role, string), y *int) {
	put(look.Title, "The book is open again")
	*y++
	text, bad := f.verdict()
	if bad {
		put(look.Stop, "✗ "+text)
	} else {
		put(look.Good, "✓ "+text)
	}
	for _, q := range f.queue {
		if q.seq == f.seq {
			continue
		}
		if f.holds(q.seq) {
			put(look.Base, "✓ In the file: "+q.what+".")
		} else {
			put(look.Stop, "✗ Not in the file: "+q.what+".")
		}
	}
	*y++
	if f.found.Note != "" {
		put(look.Strong, f.found.Note)
	}
	put(look.Base, "The page now shows what is in the file and nothing else.")
}

func contains(seqs []uint64, seq uint64) bool {
	for _, s := range seqs {
		if s == seq {
			return true
		}
	}
	return false
}
