package tui

import (
	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
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

func (s *optionsScreen) keys(*view) []key.Binding {
	return []key.Binding{keys.Home, keys.Theme, keys.ASCII, keys.Keypad, keys.Touch, keys.Copy, keys.Work}
}

func (s *optionsScreen) draw(v *view, a widget.Area) {
	a = a.Inset(1, 0)
	a.Text(0, 0, look.Title, "Options")
	rows := []struct {
		b           key.Binding
		name, value string
	}{
		{keys.Theme, "Theme", v.theme.Name + "   (day for sunlight, night, sixteen, plain)"},
		{keys.ASCII, "Plain signs", yes(v.prefs.ASCII) + "   (for terminals that draw ° ′ ″ or lines badly)"},
		{keys.Keypad, "Keypad on the screen", yes(v.prefs.Keypad)},
		{keys.Touch, "Touch and mouse", yes(v.prefs.Mouse)},
		{keys.Copy, "Second journal", copyText(v)},
	}
	y := 2
	for _, r := range rows {
		row := a.Sub(0, y, a.W, 1)
		x := drawKey(row, 0, 0, r.b.Help().Key)
		row.Fit(x+1, 0, 22, look.Strong, r.name, widget.Left)
		row.Text(x+24, 0, look.Base, widget.Cut(r.value, row.W-x-24))
		v.zones.add(row, pressOf(r.b))
		y++
		if a.H >= 20 {
			y++
		}
	}
	y++
	for _, t := range []string{
		"Book: " + v.status.Path,
		"Journal: " + v.status.Journal,
		"Last event on disk: number " + itoa(int(v.status.Head)),
		v.status.CopyNote,
		v.status.Note,
	} {
		if t != "" {
			y += a.Sub(0, y, a.W, a.H-y).Paragraph(look.Base, t)
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
		return "none; a memory card is a good place"
	}
	return v.status.CopyDir
}

func copyWriting() writing {
	return writing{
		title: "Where the second journal is kept",
		about: "A directory on another disk, such as a memory card. Empty ends it. If it cannot be written, booking goes on and you are told.",
		back:  onOptions,
		then:  func(dir string) []ask { return asks(copyTo{dir}, goTo{onOptions}) },
	}
}
