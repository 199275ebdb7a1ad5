package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/readback/booking"
	"example.org/readback/booking/spec"
)

// An opening is a setup that is opened as soon as it is read what the book knew
// before it. What is keyed and touched meanwhile waits.
type opening struct{ held []tea.Msg }

// begin reads what the book knew before a setup, then opens it and takes what was held.
func (a *app) begin(x openSetup) tea.Cmd {
	a.opening = &opening{}
	port, s := a.port, booking.Setup{Number: a.lastNum + 1, Spec: x.spec}
	return brings(func() spec.Before { return port.Known(s).Before }, func(a *app, before spec.Before) tea.Cmd {
		held := a.opening.held
		if own := x.spec.Before.Lengths; own != nil {
			before.Lengths = own
		}
		a.opening, x.spec.Before = nil, before
		cmds := []tea.Cmd{a.openSetup(x)}
		for _, msg := range held {
			cmds = append(cmds, a.take(msg))
		}
		return tea.Batch(cmds...)
	})
}

// holds keeps what is keyed and touched while a setup is being opened.
func (a *app) holds(msg tea.Msg) bool {
	if a.opening == nil {
		return false
	}
	switch m := msg.(type) {
	case tea.KeyMsg:
		if m.Type == tea.KeyCtrlC || m.Type == tea.KeyCtrlZ {
			return false
		}
	case tea.MouseMsg, escDue:
	default:
		return false
	}
	a.opening.held = append(a.opening.held, msg)
	return true
}
