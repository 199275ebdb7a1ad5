package tui

import (
	"cmp"

	"example.org/readback/booking"

	"example.org/readback/booking/day"
	"example.org/readback/tui/look"
)

// the dayScreen lists what frames a day: all of it may be left out.
type dayScreen struct{ list }

// a dayRow is one of them: what of it is written down, empty for nothing, and what
// begins it.
type dayRow struct {
	title  string
	beside bool // it is written beside a setup
	state  func(v *view) string
	begin  func(v *view) ask
}

// dayRows stand in the order a day has them, and last what is said once of the book.
var dayRows = []dayRow{
	{"Check the instrument before work", false, func(v *view) string {
		return newest(v.book.Checks, func(c day.InstrumentCheck) string {
			return c.At.Format("2 Jan 15:04") + ", " + c.Instrument.Name + ": " + c.Words()
		})
	}, func(v *view) ask { return fillIn{checkSlip(v)} }},
	{"Note the weather", true, func(v *view) string {
		return newest(v.setup.Airs, func(a booking.WeatherNote) string { return a.At.Format("15:04") + " " + a.Words() })
	}, func(*view) ask { return fillIn{weatherSlip()} }},
	{"Name a sketch or a photo", true, func(v *view) string {
		return newest(v.setup.Files, func(f booking.NamedFile) string {
			return count(len(v.setup.Files), "file", "files") + ", last " + f.Name
		})
	}, func(*view) ask { return fillIn{fileSlip()} }},
	{"Work through the pack-up list", true, func(v *view) string { return newest(v.setup.Packed, booking.PackList.Words) },
		func(v *view) ask { return fillIn{packSlip(v.setup)} }},
	{"Write a note to the next crew", false, func(v *view) string {
		return newest(v.book.Notes, func(n day.HandOver) string { return n.Text })
	}, func(*view) ask { return write{noteWriting()} }},
	{"Say job, client and place", false, func(v *view) string { return jobWords(v.book.Job, v.book.Client, v.book.Place) },
		func(v *view) ask { return fillIn{jobSlip(v)} }},
	{"Note what stood beside its mark", true, centreState, func(v *view) ask { return fillIn{centreSlip(v)} }},
	{"Key levelled differences", false, levelsState, func(v *view) ask { return fillIn{levelsSlip(v)} }},
}

// newest says the last of a list, nothing of an empty one.
func newest[T any](list []T, words func(T) string) string {
	if len(list) == 0 {
		return ""
	}
	return words(list[len(list)-1])
}

func (s *dayScreen) enter(v *view) {
	at := s.list.chosen
	s.list = list{columns: []column{{title: "no.", right: true}, {title: ""}, {title: "written down", drop: 1}}, brief: -1, chosen: at, pick: s.chose}
	for i, r := range dayRows {
		s.list.rows = append(s.list.rows, row{"", []string{itoa(i + 1), r.title, cmp.Or(r.state(v), "nothing yet")}, ""})
	}
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
	r := dayRows[s.list.chosen]
	if r.beside && !v.open {
		return asks(say{text: "It is written beside a setup, and none is open: N begins one from the work list.", bad: true})
	}
	return asks(r.begin(v))
}

func (s *dayScreen) draw(v *view, w, h int) block {
	b := titled(v, "The day", "its number, or the arrows", w)
	b.words(&v.frame, look.Quiet, "All of it is optional. It never holds up a reading.", w)
	b.add("")
	if h -= len(b.lines); !v.prefs.Keypad {
		h = min(h, len(dayRows)+1)
	}
	b.put(s.list.draw(&v.frame, w, h))
	if state := s.list.rows[s.list.chosen].cells[2]; !v.prefs.Keypad && !s.list.shows(&v.frame, w, 2, state) { // in full where the list cuts it
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
	return reason(onDay, "Note to the next crew", "It is shown above the work list, to whoever opens the book next, and stands on the cover.",
		func(text string) []ask { return asks(handOver{text}) },
		"Work goes on at the next planned station.", "The targets stand as they were.", "The targets were collected.")
}

// noteWords are the newest note to the next crew with who wrote it and when.
func (v *view) noteWords() string {
	return newest(v.book.Notes, func(n day.HandOver) string {
		return "Note of " + n.At.Format("2 Jan 15:04") + ", " + n.By + ": " + n.Text
	})
}
