package tui

import (
	"math"

	"example.org/readback/booking"
	"example.org/readback/reduce"
	"example.org/readback/tui/look"
	"example.org/readback/tui/plot"
	"example.org/readback/tui/widget"
)

// drawPictures draws the plan of the horizon and, from two rounds on, the
// residuals under it.
func drawPictures(v *view, a widget.Area) {
	rows := len(v.setup.Spec.Targets) + 3
	if compared(v.red.Comparison) && a.H-rows >= 10 {
		var foot widget.Area
		a, foot = a.Bottom(rows)
		drawResiduals(v, foot)
	}
	a.Text(0, 0, look.Title, "Around the station")
	horizonOf(v).Draw(a.Sub(0, 1, a.W, a.H-1))
}

// horizonOf is the plan of the targets whose direction was booked: what was not
// seen yet has no place on it.
func horizonOf(v *view) plot.Horizon {
	h := plot.Horizon{Station: v.setup.Spec.Station, Note: v.setup.Spec.RO + " up"}
	for _, name := range v.setup.Spec.Names() {
		d, ok := roughDirection(v, name)
		if !ok {
			continue
		}
		k := v.slot
		k.Target, k.Closing = name, false
		_, done := v.setup.At(k)
		h.Rays = append(h.Rays, plot.Ray{Name: name, Direction: d, Current: v.asks && v.slot.Target == name, Done: done})
	}
	return h
}

// roughDirection is the direction of a target to the RO from the first round
// that has both on one face.
func roughDirection(v *view, name string) (reduce.Angle, bool) {
	ro := v.setup.Spec.RO
	if name == ro {
		return 0, true
	}
	for _, r := range v.setup.Rounds {
		for _, face := range []booking.Face{booking.FL, booking.FR} {
			k := booking.Slot{Quantity: booking.Horizontal, Round: r.Number, Face: face, Target: name}
			t, seen := v.setup.At(k)
			k.Target = ro
			o, tied := v.setup.At(k)
			if seen && tied {
				return (t.Angle() - o.Angle()).Normalize(), true
			}
		}
	}
	return 0, false
}

// drawResiduals draws each target's directions by round about their mean,
// against the limit.
func drawResiduals(v *view, a widget.Area) {
	c := v.red.Comparison
	if !compared(c) || a.H < 3 {
		return
	}
	a.Text(0, 0, look.Title, "Rounds about their mean, by round number")
	p := plot.Residuals{Limit: c.Limit.Seconds() / 2}
	for _, t := range c.Targets {
		row := plot.ResidualRow{Name: t.Target, Values: make([]float64, len(v.setup.Rounds)), Note: size(v.setup.Spec, t.Spread) + " agrees"}
		if !t.Agrees {
			row.Note, row.Stop = size(v.setup.Spec, t.Spread)+" does not", true
		}
		for i := range row.Values {
			row.Values[i] = math.NaN()
		}
		if len(t.Directions) > 0 {
			var sum reduce.Angle
			first := t.Directions[0].Direction
			for _, d := range t.Directions {
				sum += d.Direction.Sub(first)
			}
			mean := sum.Div(int64(len(t.Directions)))
			for _, d := range t.Directions {
				row.Values[d.Round-1] = (d.Direction.Sub(first) - mean).Seconds()
			}
		}
		p.Rows = append(p.Rows, row)
	}
	p.Draw(a.Sub(0, 1, a.W, a.H-1))
}
