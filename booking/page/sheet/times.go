package sheet

import (
	"fmt"
	"slices"
	"time"

	"example.org/readback/booking"
)

// zoneName names the zone a moment is printed in: "UTC", "UTC+02:00".
func zoneName(t time.Time) string {
	if _, offset := t.Zone(); offset == 0 {
		return "UTC"
	}
	return "UTC" + t.Format("-07:00")
}

// later tells whether the setup was booked on paper and keyed afterwards: then the
// times of its events are those of keying, and say nothing of the observing.
func (w *writer) later() bool { return w.setup.Spec.KeyedAfterwards != nil }

// date writes a moment in full.
func (w *writer) date(t time.Time) string { return t.In(w.zone).Format(time.DateTime) }

// clock writes the time of day, with the date where it is not the day of the
// setup.
func (w *writer) clock(t time.Time) string {
	if d, _ := w.day(); t.In(w.zone).Format(time.DateOnly) != d.In(w.zone).Format(time.DateOnly) {
		return w.date(t)
	}
	return t.In(w.zone).Format(time.TimeOnly)
}

// said is when something was said, with a comma after it: nothing where only the
// time of keying is known.
func (w *writer) said(t time.Time, by string) string {
	if by == "" && !w.later() {
		by = "booker not stated"
	}
	if w.later() || t.IsZero() {
		return by
	}
	return w.clock(t) + ", " + by
}

// day is when the setup was observed, by its first reading whose time is known;
// ok is false where none is, and the time is that of opening.
func (w *writer) day() (t time.Time, ok bool) {
	if from, _, ok := w.setup.Observed(); ok {
		return from, true
	}
	return w.setup.Opened, false
}

// span returns the first and the last time of the readings that pass.
func (w *writer) span(pass func(booking.Reading) bool) (from, to time.Time, ok bool) {
	s := w.setup
	s.Readings = slices.DeleteFunc(slices.Clone(s.Readings), func(r booking.Reading) bool { return !pass(r) })
	return s.Observed()
}

// minutes writes a span of time: "08:04–08:08"; one minute is written once.
func (w *writer) minutes(from, to time.Time) string {
	a, b := from.In(w.zone), to.In(w.zone)
	one, two := a.Format("15:04"), b.Format("15:04")
	switch {
	case a.Format(time.DateOnly) != b.Format(time.DateOnly):
		return one + "–" + b.Format("2 Jan 15:04")
	case one == two:
		return one
	}
	return one + "–" + two
}

// timeOfDay writes the time of a note; nothing where only that of keying is known.
func (w *writer) timeOfDay(t time.Time) string {
	if w.later() {
		return ""
	}
	return t.In(w.zone).Format("15:04")
}

// observed says when the setup was observed.
func (w *writer) observed() string {
	from, to, ok := w.setup.Observed()
	switch {
	case ok:
		at := from.In(w.zone)
		return at.Format("Mon 2 Jan 2006, ") + w.minutes(from, to) + " " + zoneName(at)
	case w.later():
		return "no times on the paper"
	}
	return "nothing read yet"
}

// keyed says, of a setup booked on paper, who keyed it and when.
func (w *writer) keyed() string {
	k := w.setup.Spec.KeyedAfterwards
	if k == nil {
		return ""
	}
	at := w.setup.Opened.In(w.zone)
	if w.setup.Spec.Booker == k.By { // who kept the paper is not known
		return fmt.Sprintf("Booked on paper, keyed by %s from %s on %s %s. Nothing was checked while the tripod stood.", k.By, k.File, at.Format("2 January 2006, 15:04"), zoneName(at))
	}
	return fmt.Sprintf("Booked on paper by %s, keyed by %s from %s on %s %s. Nothing was checked while the tripod stood.",
		stated(w.setup.Spec.Booker), k.By, k.File, at.Format("2 January 2006, 15:04"), zoneName(at))
}

// stated writes what has to be on a sheet, filled in or not.
func stated(s string) string {
	if s == "" {
		return "not stated"
	}
	return s
}
