package landxml

import (
	"fmt"

	"example.org/readback/booking"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// verticals makes the group of the vertical circle readings, the distances and
// the target heights; ok is false when there is none.
func (f *file) verticals(setup string, s booking.Setup) (g group, ok bool) {
	var out []rawObservation
	carried := map[string]bool{} // targets whose slope distance stands on a vertical reading
	for _, r := range s.Readings {
		switch r.Slot.Quantity {
		case spec.Vertical:
			o := f.raw(s, r)
			o.Zenith = f.angle(zenithReading(r, s.Spec.Instrument.Circle))
			f.lengths(&o, s, r, carried)
			out = append(out, o)
		case spec.Slope, spec.TargetHeight:
			if carries(s, r) {
				continue
			}
			o := f.raw(s, r)
			if r.Slot.Quantity == spec.Slope {
				o.Slope = lengthText(r.Length())
				if h, ok := s.At(spec.Slot{Quantity: spec.TargetHeight, Target: r.Slot.Target}); ok && r.Stands() {
					o.TargetHeight = lengthText(h.Length())
				}
			} else {
				o.TargetHeight = lengthText(r.Length())
			}
			out = append(out, o)
		}
	}
	if len(out) == 0 {
		return group{}, false
	}
	g = f.group(setup, "verticals")
	g.Raw = out
	if s.Spec.Instrument.Circle == faces.Horizon {
		g.Notes = append(g.Notes, "The vertical circle was read from the horizon; zenithAngle is the same sight on a circle graduated from the zenith. The reading as keyed stands beside it.")
	}
	return g, true
}

// lengths puts the standing target height on a vertical reading, and the slope
// distance on the first standing one of its target.
func (f *file) lengths(o *rawObservation, s booking.Setup, r booking.Reading, carried map[string]bool) {
	name := r.Slot.Target
	if !r.Stands() || r.Slot.Repeat > 0 {
		return
	}
	if h, ok := s.At(spec.Slot{Quantity: spec.TargetHeight, Target: name}); ok {
		o.TargetHeight = lengthText(h.Length())
	}
	d, ok := s.At(spec.Slot{Quantity: spec.Slope, Target: name})
	if !ok || carried[name] {
		return
	}
	carried[name] = true
	o.Slope = lengthText(d.Length())
	own := f.raw(s, d)
	o.Features, o.Notes = append(o.Features, own.Features...), append(o.Notes, own.Notes...)
}

// carries tells whether a length stands on another observation already: a slope
// distance on a vertical reading, a target height on either.
func carries(s booking.Setup, r booking.Reading) bool {
	if !r.Stands() || r.Slot.Repeat > 0 {
		return false // a repeated measurement is an observation of its own
	}
	for _, face := range []faces.Face{faces.FL, faces.FR} {
		if _, ok := s.At(spec.Slot{Quantity: spec.Vertical, Face: face, Target: r.Slot.Target}); ok {
			return true
		}
	}
	_, slope := s.At(spec.Slot{Quantity: spec.Slope, Target: r.Slot.Target})
	return r.Slot.Quantity == spec.TargetHeight && slope
}

// reduced makes the group of what follows from the standing readings.
func (f *file) reduced(setup string, s booking.Setup, r reduction.Reduction) (g group, ok bool) {
	var out []reducedObservation
	for _, name := range s.Spec.Sighted() {
		o := reducedObservation{Target: pointRef{clean(name)}}
		seen := name == s.Spec.RO && len(r.Directions) > 0
		if seen {
			o.Horiz = f.angle(0) // where the directions begin
		}
		for _, d := range r.Directions {
			if d.Target == name {
				seen = true
				o.Horiz = f.angle(d.Direction.Angle())
				if r.Dof > 0 {
					o.AngleAccuracy = f.angle(reduce.FromSeconds(d.SD))
				}
			}
		}
		for _, v := range r.Verticals {
			if v.Target == name && v.HasPair {
				seen = true
				f.reducedHeights(&o, v)
			}
		}
		if seen {
			f.names++
			o.Name = fmt.Sprintf("r%d", f.names)
			out = append(out, o)
		}
	}
	if len(out) == 0 {
		return group{}, false
	}
	g = f.group(setup, "reduced")
	g.Reduced = out
	g.Notes = []string{
		clean(fmt.Sprintf("horizAngle is the adjusted direction from %s, clockwise; angleAccuracy is the standard deviation of that angle in the angular unit of this file, with %d degrees of freedom.", s.Spec.RO, r.Dof)),
		"vertDistance is from the station's mark to the target's mark, with curvature and refraction.",
	}
	return g, true
}

func (f *file) reducedHeights(o *reducedObservation, v reduction.VerticalWork) {
	o.Zenith = f.angle((reduce.QuarterTurn - v.Altitude).Normalize())
	if v.TargetHeight != nil {
		o.TargetHeight = lengthText(v.TargetHeight.Length())
	}
	if v.HasHorizontal {
		o.Slope = lengthText(v.Slope.Length())
		o.HorizDistance = metresText(v.Horizontal)
		if v.HorizontalSD > 0 {
			o.DistAccuracy = metresText(v.HorizontalSD)
		}
	}
	if v.HasRise {
		o.VertDistance = metresText(v.Rise)
	}
}
