package tui

import (
	"cmp"

	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/tui/look"
)

// the optionsScreen changes what the screens look like and where the second
// journal is kept, and says where everything is.
type optionsScreen struct {
	keptLeaf
}

// a choiceRow is a choice of the booker: its name, what it is now, and the key that
// changes it.
type choiceRow struct {
	name, value, note string
	action
}

// choices are what can be chosen.
func (s *optionsScreen) choices(v *view) []choiceRow {
	change := func(b key.Binding, how func(q *preferences)) action {
		q := v.prefs
		how(&q)
		return gives(b, prefer{q})
	}
	return []choiceRow{
		{"Theme", v.theme.Name, "day for sunlight, night, sixteen colours, plain", change(keys.Theme, func(q *preferences) { q.Theme = look.Next(v.theme.Name) })},
		{"Plain signs", yes(v.prefs.ASCII), "for terminals that draw ° ′ ″ or lines badly", change(keys.ASCII, func(q *preferences) { q.ASCII = !q.ASCII })},
		{"Keypad on the screen", yes(v.prefs.Keypad), "and larger cells everywhere", change(keys.Keypad, func(q *preferences) { q.Keypad = !q.Keypad })},
		{"Touch and mouse", yes(v.prefs.Mouse), "", change(keys.Touch, func(q *preferences) { q.Mouse = !q.Mouse })},
		{"Read back aloud", yes(v.prefs.Aloud && v.speaks), aloudText(v), change(keys.Aloud, func(q *preferences) { q.Aloud = !q.Aloud }).when(v.speaks, "")},
		{"Bell", yes(v.prefs.Bell), "at a marked entry and at Hold", change(keys.Bell, func(q *preferences) { q.Bell = !q.Bell })},
		{"Second journal", cmp.Or(v.status.CopyDir, "none"), "on a memory card, say", does(keys.Copy, func() []ask { return asks(write{copyWriting()}) })},
	}
}

func (s *optionsScreen) actions(v *view) []action {
	home := gives(keys.Home, goTo{onBooking})
	as := []action{home}
	for _, c := range s.choices(v) {
		as = append(as, c.action)
	}
	as = append(append(as, gives(keys.Work, goTo{onWork})), moves(keys.Down, keys.Up)...)
	return append(as, too(home.do, keys.Options, keys.Enter)...)
}

func (s *optionsScreen) draw(v *view, w, h int) block {
	b := titled(v, "Options", "", w)
	s.keptLeaf.draw(v, &b, w, h, 0, func(v *view, w int) { s.set(v, w, h) })
	return b
}

// set sets the choices, and where everything is.
func (s *optionsScreen) set(v *view, w, h int) {
	room := s.leaf.room()
	for _, r := range s.choices(v) {
		at, beside := len(s.leaf.lines), max(28+look.Width(r.value), 32)
		note := ink{x: beside, w: -1, text: r.note, role: look.Quiet}
		s.leaf.across(ink{w: 2, text: r.key.Help().Key, role: look.Accent}, ink{x: 3, w: 22, text: r.name, role: look.Ink}, ink{x: 26, w: max(room-26, 8), text: r.value, role: look.Strong})
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
			s.leaf.lines[at+i].on = pressOf(r.key)
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
