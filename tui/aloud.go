package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
)

// readAloud speaks a figure as it was booked, for the observer who listens and
// the booker who looks away. What is being said is cut off by it.
func (a *app) readAloud(e event.ReadingBooked) {
	if a.opts.Say == nil || !a.v.prefs.Aloud {
		return
	}
	a.opts.Say(spokenFigure(readingText(a.v.setup.Spec, booking.Reading{Slot: e.Slot, Value: e.Value})))
}

// ring is a bell where the booker wants one: at a marked entry and at Hold.
func (a *app) ring() tea.Cmd {
	if !a.v.prefs.Bell || a.opts.Ring == nil {
		return nil
	}
	return func() tea.Msg { a.opts.Ring(); return nil }
}

// spokenFigure is a figure digit by digit, its groups parted by a pause.
func spokenFigure(figure string) string {
	var b strings.Builder
	for _, r := range figure {
		switch {
		case r >= '0' && r <= '9':
			b.WriteRune(r)
			b.WriteByte(' ')
		case r == '°' || r == '′':
			b.WriteString(", ")
		case r == '.':
			b.WriteString("point ")
		case r == '-' || r == '−':
			b.WriteString("minus ")
		case r >= 'a' && r <= 'z':
			b.WriteRune(r)
		}
	}
	t := strings.TrimSpace(b.String())
	for short, long := range map[string]string{" m": " metres", " ft": " feet"} {
		if s, ok := strings.CutSuffix(t, short); ok {
			t = s + long
		}
	}
	return strings.ReplaceAll(t, " ,", ",")
}
