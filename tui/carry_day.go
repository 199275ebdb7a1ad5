package tui

import (
	"path/filepath"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
)

// What frames a day.
type (
	// fillIn shows a short form.
	fillIn struct{ slip }
	// bookOfDay writes an event of the book itself.
	bookOfDay struct {
		e    event.Event
		back screenID // shown behind it
	}
	// noteWeather notes the weather beside the setup.
	noteWeather struct {
		text                 string
		celsius, hectopascal *float64
	}
	handOver struct{ text string }
	// nameFile names a file beside the setup, once its hash is known.
	nameFile struct{ path, text string }
	packUp   struct {
		done []bool
		text string
	}
)

// fileRead brings the hash of a file that is to be named.
type fileRead struct {
	setup  int
	name   string
	bytes  int64
	sha256 string
	text   string
	err    error
}

// carryDay does what frames a day.
func (a *app) carryDay(x ask) tea.Cmd {
	s := a.v.setup
	switch x := x.(type) {
	case bookOfDay:
		a.appendBook(x.e)
		a.notice = say{text: said(x.e, a.v.setup.Spec.Order)}
		return a.show(x.back)
	case handOver:
		e, err := day.HandOverNote(x.text, a.v.booker())
		if err != nil {
			a.notice = say{text: sentence(err), bad: true}
			return nil
		}
		a.appendBook(e)
		a.notice = say{text: said(e, a.v.setup.Spec.Order)}
		return a.show(onDay)
	case noteWeather:
		e, err := s.Weather(x.text, x.celsius, x.hectopascal)
		a.writeBeside(e, err)
	case packUp:
		e, err := s.Pack(x.done, x.text)
		a.writeBeside(e, err)
	case nameFile:
		port, n := a.port, s.Number
		a.notice = say{text: "Reading " + quote(filepath.Base(x.path)) + " for its hash."}
		return func() tea.Msg {
			bytes, sum, err := port.Digest(x.path)
			return fileRead{n, filepath.Base(x.path), bytes, sum, x.text, err}
		}
	}
	return nil
}

// fileNamed writes down a file whose hash is known.
func (a *app) fileNamed(m fileRead) {
	switch {
	case m.err != nil:
		a.notice = say{text: "Not named: " + sentence(m.err), bad: true}
	case m.setup != a.v.setup.Number:
		a.notice = say{text: m.name + " was read for another setup: turn to it and name it again.", bad: true}
	case a.v.failure != nil:
		a.notice = say{text: "Not named: the book is read-only until it has been opened again.", bad: true}
	default:
		e, err := a.v.setup.NameFile(m.name, m.bytes, m.sha256, m.text)
		a.writeBeside(e, err)
	}
}

// writeBeside writes an event that belongs to no pointing: the booker stays where
// he is, but for the form that it was keyed in.
func (a *app) writeBeside(e event.Event, err error) {
	back := a.active
	if back == onSlip {
		back = a.slip.back
	}
	chosen := a.chosen
	if a.write(e, err, back) {
		a.notice = say{text: said(e, a.v.setup.Spec.Order)}
		if chosen != nil {
			a.chosen = chosen
			a.rebuild()
		}
	}
}
