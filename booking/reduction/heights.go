package reduction

import (
	"math"

	"example.org/readback/booking"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
	"example.org/readback/reduce/slope"
)

// A VerticalWork is what is known of the height of one target: the pair of
// vertical circle readings, and the distance where it was measured.
type VerticalWork struct {
	Target       string
	FL, FR       *booking.Reading // of the first pair
	Pairs        []VerticalPair
	HasPair      bool
	Altitude     reduce.Angle     // above the horizon, mean of both faces and of the pairs
	Index        reduce.Angle     // index error: every reading is this much too large; mean of the pairs
	S            float64          // seconds: standard deviation of the altitude of one pair; 0 with one pair
	Gradient     float64          // percent
	Slope        *booking.Reading // the first one
	SlopeMean    lengths.Length
	TargetHeight *booking.Reading // the first one
	TargetMean   lengths.Length
	// Metres. HasHorizontal needs an altitude and a slope distance, HasRise an
	// instrument height and a target height as well.
	Horizontal, Rise       float64
	HasHorizontal, HasRise bool
	// Metres: standard deviations of the two, from those stated for the angles
	// and the distances of the instrument; 0 where they are not stated.
	HorizontalSD, RiseSD float64
	Work                 *slope.Work          // the distance made right line by line; nil where nothing is agreed
	Air                  *booking.WeatherNote // whose air the distance was made right by; nil: as keyed, or none
}

// A VerticalPair is one reading of the vertical circle on both faces.
type VerticalPair struct {
	FL, FR          *booking.Reading
	Altitude, Index reduce.Angle
}

// HeightOfInstrument is the instrument height before the first sight and again
// before the tripod is lifted.
type HeightOfInstrument struct {
	Before, After *booking.Reading
	Mean          lengths.Length // of those measured before the first sight
}

// Height returns the instrument height that is used: the one measured before
// the first sight, the mean where it was measured several times.
func (h HeightOfInstrument) Height() (lengths.Length, bool) { return h.Mean, h.Before != nil }

func heightsOf(s booking.Setup) HeightOfInstrument {
	h := HeightOfInstrument{After: s.Counted(spec.Slot{Quantity: spec.InstrumentHeight, Closing: true})}
	h.Mean, h.Before = measured(s, spec.Slot{Quantity: spec.InstrumentHeight})
	return h
}

// workVerticals works every target that has a vertical reading or a distance.
func workVerticals(s booking.Setup) []VerticalWork {
	var ws []VerticalWork
	s.Readings = outsideRounds(s.Readings)
	for _, t := range s.Spec.Sighted() {
		w := VerticalWork{
			Target: t,
			FL:     s.Counted(spec.Slot{Quantity: spec.Vertical, Face: faces.FL, Target: t}),
			FR:     s.Counted(spec.Slot{Quantity: spec.Vertical, Face: faces.FR, Target: t}),
		}
		w.SlopeMean, w.Slope = measured(s, spec.Slot{Quantity: spec.Slope, Target: t})
		w.TargetMean, w.TargetHeight = measured(s, spec.Slot{Quantity: spec.TargetHeight, Target: t})
		workPairs(s, &w)
		if w.FL == nil && w.FR == nil && w.Slope == nil {
			continue
		}
		workSlope(s, &w)
		ws = append(ws, w)
	}
	return ws
}

// outsideRounds keeps the readings that belong to no round: those of the rounds are
// many, and would be searched for every target.
func outsideRounds(readings []booking.Reading) []booking.Reading {
	n := 0
	for i := range readings {
		if readings[i].Slot.Round == 0 {
			n++
		}
	}
	if n == 0 {
		return nil
	}
	kept := make([]booking.Reading, 0, n)
	for i := range readings {
		if readings[i].Slot.Round == 0 {
			kept = append(kept, readings[i])
		}
	}
	return kept
}

// workPairs works the pairs of a target, repeated ones too: their means, and the
// standard deviation of one, s² = Σ(a − mean)²/(n − 1).
func workPairs(s booking.Setup, w *VerticalWork) {
	var altitude, index reduce.Angle
	for n := 0; n <= spec.MaxRepeats && (n == 0 || s.Repeated); n++ {
		slot := spec.Slot{Quantity: spec.Vertical, Face: faces.FL, Target: w.Target, Repeat: n}
		p := VerticalPair{FL: s.Counted(slot), FR: s.Counted(slot.Pair())}
		if p.FL == nil || p.FR == nil {
			continue
		}
		p.Altitude, p.Index = faces.VerticalPair(p.FL.Angle(), p.FR.Angle(), s.Spec.Instrument.Circle)
		altitude, index = altitude+p.Altitude, index+p.Index
		w.Pairs = append(w.Pairs, p)
	}
	n := int64(len(w.Pairs))
	if n == 0 {
		return
	}
	w.HasPair, w.FL, w.FR = true, w.Pairs[0].FL, w.Pairs[0].FR
	w.Altitude, w.Index = altitude.Div(n), index.Div(n)
	w.Gradient = slope.Gradient(w.Altitude)
	if n > 1 {
		sum := 0.0
		for _, p := range w.Pairs {
			d := (p.Altitude - w.Altitude).Seconds()
			sum += float64(d * d)
		}
		w.S = math.Sqrt(sum / float64(n-1))
	}
}

// workSlope reduces the slope distance where there is an altitude for it.
func workSlope(s booking.Setup, w *VerticalWork) {
	if !w.HasPair || w.Slope == nil {
		return
	}
	along := w.SlopeMean.Metres()
	if s.Spec.Making != nil {
		work := MadeRight(s, along, w.Altitude, w.Slope.Seq)
		w.Work, w.Air, along = &work, airNoted(s, w.Slope.Seq), work.Slope
	}
	hi, measured := heightsOf(s).Height()
	ht := w.TargetMean
	w.HasHorizontal, w.HasRise = true, measured && w.TargetHeight != nil
	w.Horizontal, w.Rise = slope.Reduce(along, w.Altitude, hi.Metres(), ht.Metres(), s.Spec.Refraction)
	if w.Work != nil {
		w.Horizontal = w.Work.Grid
	}
	i := s.Spec.Instrument
	if i.AltitudeSigma() > 0 && i.DistanceSD > 0 {
		w.HorizontalSD, w.RiseSD = slope.SD(along, w.Altitude, slope.SDs{
			Slope:    i.DistanceSD.Metres() + i.DistancePPM*1e-6*along,
			Altitude: i.AltitudeSigma().Seconds(),
		})
	}
	if !w.HasRise {
		w.Rise, w.RiseSD = 0, 0
	}
}
