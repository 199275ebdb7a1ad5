package booking

import "example.org/readback/reduce"

// A VerticalWork is what is known of the height of one target: the pair of
// vertical circle readings, and the distance where it was measured.
type VerticalWork struct {
	Target       string
	FL, FR       *Reading
	HasPair      bool
	Altitude     reduce.Angle // above the horizon, mean of both faces
	Index        reduce.Angle // index error: every reading is this much too large
	Gradient     float64      // percent
	Slope        *Reading
	TargetHeight *Reading
	// Metres. HasHorizontal needs an altitude and a slope distance, HasRise an
	// instrument height and a target height as well.
	Horizontal, Rise       float64
	HasHorizontal, HasRise bool
	// Metres: standard deviations of the two, from those stated for the angles
	// and the distances of the instrument; 0 where they are not stated.
	HorizontalSD, RiseSD float64
}

// HeightOfInstrument is the instrument height before the first sight and again
// before the tripod is lifted.
type HeightOfInstrument struct {
	Before, After *Reading
}

// Height returns the instrument height that is used: the one measured before
// the first sight.
func (h HeightOfInstrument) Height() (reduce.Length, bool) {
	if h.Before == nil {
		return 0, false
	}
	return h.Before.Length(), true
}

func (s Setup) heights() HeightOfInstrument {
	return HeightOfInstrument{
		Before: s.standing(Slot{Quantity: InstrumentHeight}),
		After:  s.standing(Slot{Quantity: InstrumentHeight, Closing: true}),
	}
}

func (s Setup) standing(slot Slot) *Reading {
	if r, ok := s.Counting(slot); ok {
		return &r
	}
	return nil
}

// WorkVerticals works every target that has a vertical reading or a distance.
func (s Setup) WorkVerticals() []VerticalWork {
	var ws []VerticalWork
	for _, t := range s.Spec.Sighted() {
		w := VerticalWork{
			Target:       t,
			FL:           s.standing(Slot{Quantity: Vertical, Face: FL, Target: t}),
			FR:           s.standing(Slot{Quantity: Vertical, Face: FR, Target: t}),
			Slope:        s.standing(Slot{Quantity: Slope, Target: t}),
			TargetHeight: s.standing(Slot{Quantity: TargetHeight, Target: t}),
		}
		if w.FL == nil && w.FR == nil && w.Slope == nil {
			continue
		}
		if w.FL != nil && w.FR != nil {
			w.HasPair = true
			w.Altitude, w.Index = reduce.VerticalPair(w.FL.Angle(), w.FR.Angle(), s.Spec.Instrument.Circle)
			w.Gradient = reduce.Gradient(w.Altitude)
		}
		s.workSlope(&w)
		ws = append(ws, w)
	}
	return ws
}

// workSlope reduces the slope distance where there is an altitude for it.
func (s Setup) workSlope(w *VerticalWork) {
	if !w.HasPair || w.Slope == nil {
		return
	}
	slope := w.Slope.Length().Metres()
	hi, measured := s.heights().Height()
	ht := reduce.Length(0)
	if w.TargetHeight != nil {
		ht = w.TargetHeight.Length()
	}
	w.HasHorizontal, w.HasRise = true, measured && w.TargetHeight != nil
	w.Horizontal, w.Rise = reduce.SlopeReduce(slope, w.Altitude, hi.Metres(), ht.Metres(), s.Spec.Refraction)
	i := s.Spec.Instrument
	if i.Sigma > 0 && i.DistanceSD > 0 {
		w.HorizontalSD, w.RiseSD = reduce.SlopeSD(slope, w.Altitude, reduce.SlopeSDs{
			Slope:    i.DistanceSD.Metres() + i.DistancePPM*1e-6*slope,
			Altitude: i.Sigma.Seconds(),
		})
	}
	if !w.HasRise {
		w.Rise, w.RiseSD = 0, 0
	}
}
