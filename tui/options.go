package tui

import (
	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
)

// the optionsScreen changes what the screens look like and where the second
// journal is kept, and says where everything is.
type optionsScreen struct{}

func (s *optionsScreen) enter(*view) {}

func (s *optionsScreen) field(*view) input.Field { return input.Command }

func (s *optionsScreen) press(v *view, p press) []ask {
	q := v.prefs
	switch {
	case p.is(keys.Theme):
		q.Theme = look.Next(v.theme.Name)
	case p.is(keys.ASCII):
		q.ASCII = !q.ASCII
	case p.is(keys.Keypad):
		q.Keypad = !q.Keypad
	case p.is(keys.Touch):
		q.Mouse = !q.Mouse
	case p.is(keys.Aloud) && v.speaks:
		q.Aloud = !q.Aloud
	case p.is(keys.Bell):
		q.Bell = !q.Bell
	case p.is(keys.Copy):
		return asks(write{copyWriting()})
	case p.is(keys.Home), p.is(keys.Options), p.is(keys.Enter):
		return asks(goTo{onBooking})
	case p.is(keys.Work):
		return asks(goTo{onWork})
	default:
		return nil
	}
	return asks(prefer{q})
}

func (s *optionsScreen) keys(v *view) []key.Binding {
	ks := []key.Binding{keys.Home, keys.Theme, keys.ASCII, keys.Keypad, keys.Touch, keys.Bell, keys.Copy, keys.Work}
	if v.speaks {
		ks = append(ks, keys.Aloud)
	}
	return ks
}

func (s *optionsScreen) draw(v *view, w, h int) block {
	t, room := v.theme, w-v.edge()-v.margin()
	b := titled(v, "Options", "", w)
	each := 1
	if h >= 20 {
		each = 2
	}
	for _, r := range []struct {
		b                 key.Binding
		name, value, note string
	}{
		{keys.Theme, "Theme", v.theme.Name, "day for sunlight, night, sixteen colours, plain"},
		{keys.ASCII, "Plain signs", yes(v.prefs.ASCII), "for terminals that draw ° ′ ″ or lines badly"},
		{keys.Keypad, "Keypad on the screen", yes(v.prefs.Keypad), "and larger cells everywhere"},
		{keys.Touch, "Touch and mouse", yes(v.prefs.Mouse), ""},
		{keys.Aloud, "Read back aloud", yes(v.prefs.Aloud && v.speaks), aloudText(v)},
		{keys.Bell, "Bell", yes(v.prefs.Bell), "at a marked entry and at Hold"},
		{keys.Copy, "Second journal", copyText(v), "on a memory card, say"},
	} {
		b.touch(0, len(b.lines), w, each, pressOf(r.b))
		row := t.Row().To(v.edge()).Left(look.Accent, r.b.Help().Key, 3).Left(look.Ink, r.name, 23).Put(look.Strong, look.Cut(r.value, max(room-26, 8)))
		next := t.Row()
		switch x := max(row.Width()+2, v.edge()+32); {
		case x+look.Width(r.note) <= w-v.margin():
			row.To(x).Put(look.Quiet, r.note)
		case each == 2 && 3+look.Width(r.note) <= room: // under it where it has no room beside
			next.To(v.edge()+3).Put(look.Quiet, r.note)
		}
		b.add(row.String(), next.String())
		b.level(len(b.lines) - 2 + each)
	}
	if h >= 20 {
		b.add(v.section("This book", "", w)...)
	}
	for _, s := range []string{
		"Book: " + v.status.Path,
		"Journal: " + v.status.Journal,
		"Last event on disk: number " + itoa(int(v.status.Head)),
		v.status.CopyNote,
		v.status.Clock,
		v.status.Note,
	} {
		if s != "" {
			b.words(v, look.Ink, s, w)
		}
	}
	return b
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func copyText(v *view) string {
	if v.status.CopyDir == "" {
		return "none"
	}
	return v.status.CopyDir
}

func aloudText(v *view) string {
	if v.speaks {
		return "each figure as it was booked, digit by digit"
	}
	return "no speech command was found on this system"
}

func copyWriting() writing {
	return writing{
		title: "Where the second journal is kept",
		about: "A folder on another disk, such as a memory card. Empty: none. If it cannot be written, booking goes on and you are told.",
		back:  onOptions,
		then:  func(dir string) []ask { return asks(copyTo{dir}, goTo{onOptions}) },
	}
}
