package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/readback/booking"
)

// An opening is a setup that is opened as soon as it is read what the book knew
// before it. What is keyed and touched meanwhile waits.
type opening struct {
	asked openSetup
	held  []tea.Msg
}

// beforeLoaded brings what the book knew before a setup that is opened.
type beforeLoaded struct{ before booking.Before }

// begin reads what the book knew before a setup, which is then opened.
func (a *App) begin(x openSetup) tea.Cmd {
	a.opening = &opening{asked: x}
	port, s := a.port, booking.Setup{Number: a.lastNum + 1, Spec: x.spec}
	return func() tea.Msg { return beforeLoaded{port.Known(s).Before} }
}

// holds keeps what is keyed and touched while a setup is being opened.
func (a *App) holds(msg tea.Msg) bool {
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

// opens opens the setup and takes what was held.
func (a *App) opens(m beforeLoaded) tea.Cmd {
	o := a.opening
	if o == nil {
		return nil
	}
	a.opening = nil
	o.asked.spec.Before = m.before
	cmds := []tea.Cmd{a.openSetup(o.asked)}
	for _, msg := range o.held {
		cmds = append(cmds, a.take(msg))
	}
	return tea.Batch(cmds...)
}
