package check

import (
	"math"

	"example.org/readback/booking"
	"example.org/readback/booking/check/align"
	"example.org/readback/reduce"
)

// indexSD is the standard deviation of the index error before a pair is booked,
// in seconds (assumed: twice the index error is rarely more than 1.5′).
const indexSD = 25.0

// steepest is the altitude nobody is expected to read beyond when nothing else
// is known: a reading on the other side of it belongs to the other face.
const steepest = 88 * reduce.Degree

// expectVertical fills in what is expected of a vertical circle reading: the
// other face and the index error so far, else only that the face is right.
func (e *Expectation) expectVertical(known Known) {
	s := &e.setup
	circle := s.Spec.Instrument.Circle
	e.index = indexErrors(s, e.slot.Target)
	pair, ok := s.At(e.slot.Pair())
	if !ok {
		level := levelReading(circle, e.slot.Face)
		e.basis = onAltitude
		e.bands = []band{{centre: level, limit: steepest}}
		return
	}
	sigma := verticalNoise(s)
	before, wander := 0.0, indexSD
	if known.Index.SD > 0 {
		before, wander = known.Index.Value.Seconds(), known.Index.SD
	}
	weight := 1/(wander*wander) + float64(len(e.index))/(sigma*sigma/2)
	mean := before / (wander * wander)
	for _, x := range e.index {
		mean += x.Seconds() / (sigma * sigma / 2)
	}
	mean /= weight
	sd := math.Sqrt(2*sigma*sigma + 4/weight)
	e.basis = onPair
	e.bands = []band{{
		centre: (mirrored(circle, pair.Angle()) + reduce.FromSeconds(2*mean)).Normalize(),
		sd:     reduce.FromSeconds(sd), limit: entryLimit(s.Spec.Limits, s.Spec.Instrument.LeastCount, sd),
	}}
}

// verticalNoise returns the standard deviation of one vertical reading on one
// face in seconds: that of a horizontal one, for want of another.
func verticalNoise(s *booking.Setup) float64 {
	st := align.Station{LeastCount: s.Spec.Instrument.LeastCount, Sigma: s.Spec.Instrument.Sigma.Seconds() * math.Sqrt2}
	return st.Noise()
}

// levelReading returns what a level line reads.
func levelReading(c reduce.Circle, f booking.Face) reduce.Angle {
	switch {
	case c == reduce.Horizon && f == booking.FL:
		return 0
	case c == reduce.Horizon:
		return reduce.HalfTurn
	case f == booking.FL:
		return reduce.QuarterTurn
	}
	return 3 * reduce.QuarterTurn
}

// mirrored returns the reading of the other face without index error.
func mirrored(c reduce.Circle, v reduce.Angle) reduce.Angle {
	if c == reduce.Horizon {
		return (reduce.HalfTurn - v).Normalize()
	}
	return (reduce.Turn - v).Normalize()
}

// indexErrors lists the index errors of the vertical pairs, that of one target and
// those that did not fit when they were booked left out.
func indexErrors(s *booking.Setup, but string) []reduce.Angle {
	var list []reduce.Angle
	for i := range s.Readings {
		l := &s.Readings[i]
		if l.Slot.Quantity != booking.Vertical || l.Slot.Face != booking.FL || l.Struck != nil || l.Slot.Target == but {
			continue
		}
		if r, ok := s.At(l.Slot.Pair()); ok && !doubted(l) && !doubted(&r) {
			_, index := reduce.VerticalPair(l.Angle(), r.Angle(), s.Spec.Instrument.Circle)
			list = append(list, index)
		}
	}
	return list
}
