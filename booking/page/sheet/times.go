package sheet

import (
	"fmt"
	"time"

	"example.org/readback/booking"
)

// day is the form of a date.
const day = time.DateOnly

// zoneName names the zone a moment is printed in: "UTC", "UTC+02:00".
func zoneName(t time.Time) string {
	if _, offset := t.Zone(); offset == 0 {
		return "UTC"
	}
	return "UTC" + t.Format("-07:00")
}

// date writes a moment in full.
func (w *writer) date(t time.Time) string {
	return t.In(w.zone).Format(time.DateTime)
}

// clock writes the time of day, with the date where it is not the day of the
// setup.
func (w *writer) clock(t time.Time) string {
	if t.In(w.zone).Format(day) != w.day().In(w.zone).Format(day) {
		return w.date(t)
	}
	return t.In(w.zone).Format(time.TimeOnly)
}

// day is when the setup was observed: the first reading whose time is known, or
// when it was opened.
func (w *writer) day() time.Time {
	for _, r := range w.setup.Readings {
		if t, ok := w.readTime(r); ok {
			return t
		}
	}
	return w.setup.Opened
}

// readTime is when a reading was made; ok is false for one that was keyed
// afterwards without a time beside it.
func (w *writer) readTime(r booking.Reading) (t time.Time, ok bool) {
	return r.ReadTime(), w.setup.Spec.KeyedAfterwards == nil || r.ReadAt != ""
}

// span returns the first and the last time of the readings that pass.
func (w *writer) span(pass func(booking.Reading) bool) (from, to time.Time, ok bool) {
	for _, r := range w.setup.Readings {
		t, known := w.readTime(r)
		if !known || !pass(r) {
			continue
		}
		if !ok || t.Before(from) {
			from = t
		}
		if !ok || t.After(to) {
			to = t
		}
		ok = true
	}
	return from, to, ok
}

// readingTimes counts the readings and says when the first and the last were
// made.
func (w *writer) readingTimes() string {
	rs, struck := w.setup.Readings, 0
	for _, r := range rs {
		if !r.Stands() {
			struck++
		}
	}
	t := fmt.Sprintf("%d booked, %d of them struck", len(rs), struck)
	if from, to, ok := w.span(func(booking.Reading) bool { return true }); ok {
		t += fmt.Sprintf(", %s to %s", w.date(from), w.clock(to))
	}
	return t
}

// timeFields are the times of the setup and the zone they are printed in. Of one
// that was keyed afterwards the book knows only when that was done.
func (w *writer) timeFields(put func(label, value string)) {
	zone := zoneName(w.day().In(w.zone))
	if k := w.setup.Spec.KeyedAfterwards; k != nil {
		put("Readings", w.readingTimes())
		put("Keyed afterwards", fmt.Sprintf("booked on paper first, keyed in by %s from %s, %s", k.By, k.File, w.date(w.setup.Opened)))
		put("Times", "as written beside the readings, in "+zone)
		return
	}
	put("Opened", w.date(w.setup.Opened))
	put("Readings", w.readingTimes())
	if l := w.setup.Lift; l != nil {
		put("Tripod lifted", w.date(l.At))
	}
	put("Times", "as the tablet's clock said, in "+zone)
}
