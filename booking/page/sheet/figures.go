package sheet

import (
	"fmt"
	"strings"
	"time"

	"example.org/readback/booking"
	"example.org/readback/reduce"
)

// A writer writes the figures of one setup in its own units and places.
type writer struct {
	setup booking.Setup
	red   booking.Reduction
	zone  *time.Location
	notes int // number of the last note of the page
}

// reading writes a reading as it was booked.
func (w *writer) reading(r booking.Reading) string {
	i := w.setup.Spec.Instrument
	if r.Slot.Quantity.Angular() {
		return r.Direction().Format(i.Unit, i.Places())
	}
	return visible(r.Text)
}

// direction writes a worked direction, with one place more than a reading has:
// the mean of two readings ends in half a unit.
func (w *writer) direction(d reduce.Direction) string {
	return d.Format(w.setup.Spec.Instrument.Unit, w.fine())
}

// altitude writes an altitude with its sign.
func (w *writer) altitude(a reduce.Angle) string {
	s := a.Format(w.setup.Spec.Instrument.Unit, w.fine())
	if a >= 0 {
		return "+" + s
	}
	return s
}

func (w *writer) fine() int { return w.setup.Spec.Instrument.Places() + 1 }

// small writes a small angle with its sign: in seconds, or in milligon where the
// circle is divided in gon.
func (w *writer) small(a reduce.Angle) string {
	return a.FormatSmall(w.setup.Spec.Instrument.Unit)
}

// size writes a small angle that has no sign.
func (w *writer) size(a reduce.Angle) string {
	return a.FormatSize(w.setup.Spec.Instrument.Unit)
}

// deviation writes a standard deviation, given in seconds, with the given number
// of decimals of the second; one more of the milligon has about the same worth.
func (w *writer) deviation(seconds float64, places int) string {
	if w.gon() {
		return fmt.Sprintf("%.*f mgon", places+1, seconds*1000*reduce.Arcsecond.Seconds()/reduce.Gon.Seconds())
	}
	return fmt.Sprintf("%.*f″", places, seconds)
}

func (w *writer) gon() bool { return w.setup.Spec.Instrument.Unit == reduce.GonUnit }

// metres writes a computed length, given in metres, in the unit of the setup.
func (w *writer) metres(m float64) string {
	return strings.Replace(fmt.Sprintf("%.3f", reduce.FromMetres(m).In(w.setup.Spec.LengthUnit)), "-", "−", 1)
}

// unit names the unit of length.
func (w *writer) unit() string { return w.setup.Spec.LengthUnit.String() }

// note adds a note and returns its number.
func (w *writer) note(notes *[]note, text string) int {
	w.notes++
	*notes = append(*notes, note{Mark: w.notes, Text: text})
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
