package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/readback/booking"
)

// heightSections are the verticals and the distances, where there are any.
func (w *writer) heightSections() []section {
	var secs []section
	if w.has(booking.Vertical) {
		secs = append(secs, w.verticalSection())
	}
	if w.has(booking.Slope) || w.has(booking.TargetHeight) || w.has(booking.InstrumentHeight) {
		secs = append(secs, w.distanceSection())
	}
	return secs
}

// has tells whether a reading of the quantity was booked, struck or not.
func (w *writer) has(q booking.Quantity) bool {
	for _, r := range w.setup.Readings {
		if r.Slot.Quantity == q {
			return true
		}
	}
	return false
}

func (w *writer) verticalSection() section {
	sec := section{Title: "Verticals", Whole: len(w.setup.Spec.Targets) < 14}
	sec.Table = &table{Head: []string{"Sighted", "Face left", "Face right", "Altitude", "Index error", "Gradient"}}
	for _, name := range w.setup.Spec.Sighted() {
		slot := booking.Slot{Quantity: booking.Vertical, Face: booking.FL, Target: name}
		cs := []cell{plain(visible(name)), w.slotCell(slot, nil, &sec.Notes), w.slotCell(slot.Pair(), nil, &sec.Notes)}
		altitude, index, gradient := "", "", ""
		if v, ok := w.vertical(name); ok && v.HasPair {
			altitude, index, gradient = w.altitude(v.Altitude), w.small(v.Index), percent(v.Gradient)
		}
		sec.Table.Rows = append(sec.Table.Rows, row{Cells: append(cs, cells(altitude, index, gradient)...)})
	}
	sec.After = []string{"The altitude is the mean of both faces. Every reading is the index error too large."}
	return sec
}

// percent writes a gradient.
func percent(g float64) string {
	if math.IsInf(g, 0) {
		return "plumb"
	}
	return strings.Replace(fmt.Sprintf("%+.3f %%", g), "-", "−", 1)
}

func (w *writer) vertical(target string) (booking.VerticalWork, bool) {
	for _, v := range w.red.Verticals {
		if v.Target == target {
			return v, true
		}
	}
	return booking.VerticalWork{}, false
}

func (w *writer) distanceSection() section {
	u := w.unit()
	sec := section{Title: "Distances and heights", Whole: len(w.setup.Spec.Targets) < 14}
	sec.Table = &table{Head: []string{"Sighted", "Slope, " + u, "Target height, " + u, "Horizontal, " + u, "sd, mm", "Rise, " + u, "sd, mm"}}
	for _, name := range w.setup.Spec.Sighted() {
		cs := []cell{plain(visible(name)),
			w.slotCell(booking.Slot{Quantity: booking.Slope, Target: name}, nil, &sec.Notes),
			w.slotCell(booking.Slot{Quantity: booking.TargetHeight, Target: name}, nil, &sec.Notes)}
		horizontal, rise, sdH, sdR := "", "", "", ""
		if v, ok := w.vertical(name); ok {
			if v.HasHorizontal {
				horizontal, sdH = w.metres(v.Horizontal), millimetres(v.HorizontalSD)
			}
			if v.HasRise {
				rise, sdR = w.metres(v.Rise), millimetres(v.RiseSD)
			}
		}
		if len(cs[1])+len(cs[2]) > 0 {
			sec.Table.Rows = append(sec.Table.Rows, row{Cells: append(cs, cells(horizontal, sdH, rise, sdR)...)})
		}
	}
	for i, name := range []string{"Instrument height", "Instrument height again"} {
		c := w.slotCell(booking.Slot{Quantity: booking.InstrumentHeight, Closing: i == 1}, nil, &sec.Notes)
		if len(c) > 0 {
			sec.Table.Rows = append(sec.Table.Rows, row{Cells: append([]cell{plain(name), c}, cells("", "", "", "", "")...), Foot: true})
		}
	}
	if w.setup.Spec.Instrument.Sigma == 0 || w.setup.Spec.Instrument.DistanceSD == 0 {
		dropColumns(sec.Table, 6, 4)
	}
	sec.After = []string{"The rise is from the station's mark to the target's mark, with curvature and refraction."}
	return sec
}

// millimetres writes a standard deviation in metres; nothing where it is not
// known.
func millimetres(sd float64) string {
	if sd <= 0 {
		return ""
	}
	return fmt.Sprintf("%.1f", 1000*sd)
}

// dropColumns takes columns out of a table, the last one first: nothing is known
// of them.
func dropColumns(t *table, columns ...int) {
	for _, c := range columns {
		t.Head = slices.Delete(t.Head, c, c+1)
		for i := range t.Rows {
			t.Rows[i].Cells = slices.Delete(t.Rows[i].Cells, c, c+1)
		}
	}
}
