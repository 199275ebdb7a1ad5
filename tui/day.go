package tui

import (
	"cmp"

	"example.org/readback/booking/day"
	"example.org/readback/tui/look"
)

// the dayScreen lists what frames a day: all of it may be left out.
type dayScreen struct{ list }

// The rows of the day, in the order a day has them, and last what is said once
// of the whole book.
const (
	dayCheck = iota
	dayWeather
	dayFile
	dayPack
	dayNote
	dayJob
	dayCentre
	dayLevels
	numDay
)

func (s *dayScreen) enter(v *view) {
	at := s.list.chosen
	s.list = list{columns: []column{{title: "no.", right: true}, {title: ""}, {title: "written down", drop: 1}}, brief: -1, chosen: at, pick: s.chose}
	for i, title := range []string{"Check the instrument before work", "Note the weather", "Name a sketch or a photo", "Work through the pack-up list", "Write a note to the next crew", "Say job, client and place", "Note what stood beside its mark", "Key levelled differences"} {
		s.list.rows = append(s.list.rows, row{"", []string{itoa(i + 1), title, v.dayState(i)}, ""})
	}
}

// dayState says in a few words what of a row is written down.
func (v *view) dayState(i int) string {
	s, b := v.setup, v.book
	switch {
	case i == dayCheck && len(b.Checks) > 0:
		c := b.Checks[len(b.Checks)-1]
		return c.At.Format("2 Jan 15:04") + ", " + c.Instrument.Name + ": " + c.Words()
	case i == dayWeather && len(s.Airs) > 0:
		a := s.Airs[len(s.Airs)-1]
		return a.At.Format("15:04") + " " + a.Words()
	case i == dayFile && len(s.Files) > 0:
		return count(len(s.Files), "file", "files") + ", last " + s.Files[len(s.Files)-1].Name
	case i == dayPack && len(s.Packed) > 0:
		return s.Packed[len(s.Packed)-1].Words()
	case i == dayNote && len(b.Notes) > 0:
		return b.Notes[len(b.Notes)-1].Text
	case i == dayJob:
		return cmp.Or(jobWords(b.Job, b.Client, b.Place), "nothing yet")
	case i == dayCentre:
		return cmp.Or(centreState(v), "nothing yet")
	case i == dayLevels:
		return cmp.Or(levelsState(b.Levels), "nothing yet")
	}
	return "nothing yet"
}

// take picks a row by its number: every one is of one digit.
func (s *dayScreen) take(v *view, p press) ([]ask, bool) {
	as, ok := s.list.take(v, p)
	if ok && p.isChar() && p.r != '0' {
		as = s.chose(v)
	}
	return as, ok
}

func (s *dayScreen) actions(v *view) []action {
	home := gives(keys.Home, goTo{v.place()})
	as := append([]action{s.picks(v, "this one"), home, gives(keys.Work, goTo{onWork}), gives(keys.Health, showText{healthText})}, moves(keys.Up, keys.Down)...)
	return append(as, too(home.do, keys.Day)...)
}

// chose begins what the chosen row is for.
func (s *dayScreen) chose(v *view) []ask {
	i := s.list.chosen
	if (i == dayWeather || i == dayFile || i == dayPack || i == dayCentre) && !v.open {
		return asks(say{text: "It is written beside a setup, and none is open: N begins one from the work list.", bad: true})
	}
	switch i {
	case dayCheck:
		return asks(fillIn{checkSlip(v)})
	case dayWeather:
		return asks(fillIn{weatherSlip()})
	case dayFile:
		return asks(fillIn{fileSlip()})
	case dayPack:
		return asks(fillIn{packSlip(v.setup)})
	case dayJob:
		return asks(fillIn{jobSlip(v)})
	case dayCentre:
		return asks(fillIn{centreSlip(v)})
	case dayLevels:
		return asks(fillIn{levelsSlip(v)})
	}
	return asks(write{noteWriting()})
}

func (s *dayScreen) draw(v *view, w, h int) block {
	b := titled(v, "The day", "its number, or the arrows", w)
	b.words(&v.frame, look.Quiet, "All of it is optional. It never holds up a reading.", w)
	b.add("")
	if h -= len(b.lines); !v.prefs.Keypad {
		h = min(h, numDay+1)
	}
	b.put(s.list.draw(&v.frame, w, h))
	if state := v.dayState(s.list.chosen); !v.prefs.Keypad && !s.list.shows(&v.frame, w, 2, state) { // in full where the list cuts it
		b.add("")
		b.words(&v.frame, look.Ink, capital(state), w)
	}
	return b
}

// place is the screen that the day was turned to from: the booking of the open
// setup, the page of one that was lifted, else the work list.
func (v *view) place() screenID {
	switch {
	case !v.open || v.setup.Void != nil:
		return onWork
	case v.setup.Lift != nil:
		return onPage
	}
	return onBooking
}

// booker is who books in the setup, or did in the last one.
func (v *view) booker() string {
	if by := v.setup.Spec.Booker; by != "" {
		return by
	}
	return v.lastSpec.Booker
}

func noteWriting() writing {
	return writing{
		title: "Note to the next crew",
		about: "It is shown above the work list, to whoever opens the book next, and stands on the cover.",
		usual: []string{"Work goes on at the next planned station.", "The targets stand as they were.", "The targets were collected."},
		back:  onDay, must: true,
		then: func(text string) []ask { return asks(handOver{text}) },
	}
}

// lastNote is the newest note to the next crew, nil where there is none.
func (v *view) lastNote() *day.HandOver {
	if n := len(v.book.Notes); n > 0 {
		return &v.book.Notes[n-1]
	}
	return nil
}

// noteWords are the newest note with who wrote it and when.
func (v *view) noteWords() string {
	n := v.lastNote()
	if n == nil {
		return ""
	}
	return "Note of " + n.At.Format("2 Jan 15:04") + ", " + n.By + ": " + n.Text
}
