package tui

import (
	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/tui/look"
)

// the optionsScreen changes what the screens look like and where the second
// journal is kept, and says where everything is.
type optionsScreen struct {
	keptLeaf
}

func (s *optionsScreen) actions(v *view) []action {
	home := func() []ask { return asks(goTo{onBooking}) }
	change := func(b key.Binding, how func(q *Preferences)) action {
		q := v.prefs
		how(&q)
		return gives(b, prefer{q})
	}
	as := []action{
		does(keys.Home, home),
		change(keys.Theme, func(q *Preferences) { q.Theme = look.Next(v.theme.Name) }),
		change(keys.ASCII, func(q *Preferences) { q.ASCII = !q.ASCII }),
		change(keys.Keypad, func(q *Preferences) { q.Keypad = !q.Keypad }),
		change(keys.Touch, func(q *Preferences) { q.Mouse = !q.Mouse }),
		change(keys.Bell, func(q *Preferences) { q.Bell = !q.Bell }),
		does(keys.Copy, func() []ask { return asks(write{copyWriting()}) }),
		gives(keys.Work, goTo{onWork}),
		does(keys.Down, nil), does(keys.Up, nil),
		change(keys.Aloud, func(q *Preferences) { q.Aloud = !q.Aloud }).when(v.speaks, ""),
	}
	return append(as, too(home, keys.Options, keys.Enter)...)
}

func (s *optionsScreen) draw(v *view, w, h int) block {
	b := titled(v, "Options", "", w)
	s.keptLeaf.draw(v, &b, w, h, 0, func(v *view, w int) { s.set(v, w, h) })
	return b
}

// set sets the choices, and where everything is.
func (s *optionsScreen) set(v *view, w, h int) {
	room := s.leaf.room()
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
		at, beside := len(s.leaf.lines), max(28+look.Width(r.value), 32)
		note := ink{x: beside, w: -1, text: r.note, role: look.Quiet}
		s.leaf.across(ink{w: 2, text: r.b.Help().Key, role: look.Accent}, ink{x: 3, w: 22, text: r.name, role: look.Ink}, ink{x: 26, w: max(room-26, 8), text: r.value, role: look.Strong})
		one, beneath := len(s.leaf.lines) == at+1, ink{}
		switch {
		case !one:
		case beside+look.Width(r.note) <= room:
			s.leaf.lines[at].inks = append(s.leaf.lines[at].inks, note)
		case 3+look.Width(r.note) <= room: // under it where it has no room beside
			beneath, beneath.x = note, 3
		}
		if one && h >= 20 {
			s.leaf.add(beneath)
		}
		for i := range s.leaf.lines[at:] {
			s.leaf.lines[at+i].on = pressOf(r.b)
		}
	}
	if h >= 20 {
		s.leaf.section("This book", "")
	}
	for _, text := range []string{
		"Book: " + v.status.Path,
		"Journal: " + v.status.Journal,
		"Last event on disk: number " + itoa(int(v.status.Head)),
		v.status.CopyNote,
		v.status.Clock,
		v.status.Note,
	} {
		if text != "" {
			s.leaf.wrapped(look.Ink, 0, text)
		}
	}
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
