package sheet

import (
	"fmt"
	"math"
	"strings"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/page"
	"example.org/readback/booking/reduction"
	"example.org/readback/reduce"
	"example.org/readback/reduce/decimal"
	"example.org/readback/reduce/lengths"
)

// A writer sets the leaves of one setup, in its own units and places.
type writer struct {
	binder  Binder
	sheet   Sheet
	setup   booking.Setup
	red     reduction.Reduction
	verdict check.Verdict
	zone    *time.Location
	notes   int // number of the last note of the setup
	places  int // decimals of a reading
}

func (b Binder) writer(s Sheet) *writer {
	w := &writer{binder: b, sheet: s, setup: s.Setup, red: reduction.Of(s.Setup), zone: b.zone()}
	w.verdict = check.JudgeReduction(w.setup, w.red)
	w.places = bookedPlaces(w.setup)
	return w
}

// mostPlaces is the finest a circle reading is printed.
const mostPlaces = 6

// bookedPlaces is how many decimals the readings of a setup take to stand on paper as
// they were booked: those of the least count, or more where a reading was keyed finer.
func bookedPlaces(s booking.Setup) int {
	places, unit := s.Spec.Instrument.Places(), reduce.Arcsecond
	if u := s.Spec.Instrument.Unit; u.Decimal() {
		unit = u.Whole()
	}
	for range places {
		unit /= 10
	}
	for _, r := range s.Readings {
		for places < mostPlaces && r.Slot.Quantity.Angular() && r.Angle()%unit != 0 && unit%10 == 0 {
			unit /= 10
			places++
		}
	}
	return places
}

// id begins the names of what is linked to in the setup.
func (w *writer) id() string { return fmt.Sprintf("s%d", w.setup.Number) }

// reading writes a reading as it was booked.
func (w *writer) reading(r booking.Reading) string {
	if r.Slot.Quantity.Angular() {
		return r.Direction().Format(w.unit(), w.places)
	}
	return r.Text
}

// direction writes a worked direction, with one place more than a reading has:
// the mean of two readings ends in half a unit.
func (w *writer) direction(d reduce.Direction) string {
	return d.Format(w.setup.Spec.Instrument.Unit, w.fine())
}

// altitude writes an altitude with its sign.
func (w *writer) altitude(a reduce.Angle) string {
	s := a.Format(w.setup.Spec.Instrument.Unit, w.fine())
	if a > 0 {
		return "+" + s
	}
	return s
}

func (w *writer) fine() int { return w.places + 1 }

// decimal tells whether the circle is read in one plain decimal.
func (w *writer) decimal() bool { return w.setup.Spec.Instrument.Unit.Decimal() }

// small writes a small angle with its sign and unit: in seconds, or in the small
// unit of a decimal circle. Zero has no sign.
func (w *writer) small(a reduce.Angle) string {
	if a == 0 {
		return w.size(a)
	}
	return a.FormatSmall(w.setup.Spec.Instrument.Unit)
}

// size writes a small angle that has no sign.
func (w *writer) size(a reduce.Angle) string { return a.FormatSize(w.setup.Spec.Instrument.Unit) }

// signed writes a small angle for a column: with its sign, without its unit, and
// with the given number of decimals of the second; of the milligon one more. Zero
// has no sign.
func (w *writer) signed(a reduce.Angle, places int) string {
	return reduce.FormatBare(a.Seconds(), w.unit(), places)
}

// smallPlaces is the decimals of a difference of two readings: as many as these
// have; of the milligon one.
func (w *writer) smallPlaces() int {
	if w.decimal() {
		return 0
	}
	return w.places
}

// unsigned is signed without the sign.
func (w *writer) unsigned(a reduce.Angle, places int) string {
	return strings.TrimLeft(w.signed(a.Abs(), places), "+")
}

// seconds writes a standard deviation, given in seconds, for a column.
func (w *writer) seconds(seconds float64, places int) string {
	return strings.TrimLeft(reduce.FormatBare(seconds, w.unit(), places), "+")
}

// deviation writes a standard deviation, given in seconds, with its unit.
func (w *writer) deviation(seconds float64, places int) string {
	return reduce.FormatDeviation(seconds, w.unit(), places)
}

func (w *writer) unit() reduce.Unit { return w.setup.Spec.Instrument.Unit }

// smallUnit names the unit of small angles.
func (w *writer) smallUnit() string { return reduce.SmallUnit(w.unit()) }

// length names the unit of length.
func (w *writer) length() string { return w.setup.Spec.LengthUnit.String() }

// metres writes a computed length, given in metres, in the unit of the setup with
// as many places as the readings have.
func (w *writer) metres(m float64, places int) string {
	return decimal.Sprintf("%.*f", places, lengths.FromMetres(m).In(w.setup.Spec.LengthUnit))
}

// rise writes a height difference with its sign.
func (w *writer) rise(m float64, places int) string {
	s := w.metres(m, places)
	if strings.Trim(s, "−0.") == "" {
		return strings.TrimPrefix(s, "−")
	}
	if m > 0 {
		return "+" + s
	}
	return s
}

// gradient writes a gradient in per cent; straight up or down there is none.
func gradient(percent float64) string {
	switch {
	case math.IsInf(percent, 0):
		return "plumb"
	case math.Abs(percent) < 0.005:
		return "0.00"
	}
	return decimal.Sprintf("%+.2f", percent)
}

// note numbers a note of the setup.
func (w *writer) note(notes *[]page.Note, lead, text string) int {
	w.notes++
	*notes = append(*notes, page.Note{Mark: w.notes, Lead: lead, Text: text})
	return w.notes
}

// sentence ends s with a full stop.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}
