package tui

import (
	"example.org/readback/booking/check"
	tea "github.com/charmbracelet/bubbletea"
)

// a question stands over every screen until it is answered with Y or N.
type question struct {
	text    string
	yes, no string // what the keys do
	pressed bool   // another key was pressed meanwhile: it says what it waits for
	then    func(a *app) tea.Cmd
}

// words are the question as it is put.
func (q *question) words() string {
	if q.pressed {
		return "Answer first, Y or N. " + q.text
	}
	return q.text
}

// answer takes the answer to the open question; other presses do nothing.
func (a *app) answer(p press) tea.Cmd {
	q := a.modal
	switch {
	case p.is(keys.Yes):
		a.modal = nil
		return q.then(a)
	case p.is(keys.No), p.name == "esc":
		a.modal = nil
	default:
		q.pressed = true
	}
	return nil
}

// offer asks whether a paste is to go into the field. It never books.
func (a *app) offer(text string) {
	a.modal = &question{
		text: "Pasted: " + quote(text) + ". Take it into the entry? That does not book it.",
		yes:  "take it", no: "drop it",
		then: func(a *app) tea.Cmd {
			var cmds []tea.Cmd
			for _, r := range text {
				cmds = append(cmds, a.press(char(r)))
			}
			return tea.Batch(cmds...)
		},
	}
}

// liftQuestion asks once before the setup ends: nothing but a remark can follow.
func (a *app) liftQuestion(despite string) *question {
	return &question{
		text: "Lift the tripod from " + a.v.setup.Spec.Station + "? Nothing more can be observed in this setup afterwards.",
		yes:  "lift it", no: "it stays",
		then: func(a *app) tea.Cmd {
			e, err := check.Lift(a.v.setup, despite, a.v.misses...)
			a.write(e, err, onVerdict)
			return nil
		},
	}
}

func leaveQuestion(v *view) *question {
	t := "Leave Readback? Everything booked is kept, and the same pointing is called when the book is opened again."
	if len(v.saving) > 0 {
		t = "Leave Readback? " + count(len(v.saving), "event is", "events are") + " still being saved; that is finished first."
	}
	return &question{text: t, yes: "leave", no: "stay", then: func(*app) tea.Cmd { return tea.Quit }}
}
