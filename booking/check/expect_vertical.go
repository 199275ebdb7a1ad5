package check

import (
	"math"

	"example.org/readback/booking"
	"example.org/readback/booking/check/align"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// indexSD is the standard deviation of the index error before a pair is booked,
// in seconds (assumed: twice the index error is rarely more than 1.5′).
const indexSD = 25.0

// steepest is the altitude nobody is expected to read beyond when nothing else
// is known: a reading on the other side of it belongs to the other face.
const steepest = 88 * reduce.Degree

// expectVertical fills in what is expected of a vertical circle reading: the
// other face and the index error so far, else only that the face is right. Where
// the pairs so far contradict each other, what most of them say; where as many say
// one thing as another, either: then the next pair decides, and is not accused.
func (e *Expectation) expectVertical(known Known) {
	s := &e.setup
	circle := s.Spec.Instrument.Circle
	pair, ok := s.At(e.slot.Pair())
	if !ok {
		level := levelReading(circle, e.slot.Face)
		e.basis = onAltitude
		e.bands = []band{{centre: level, limit: steepest}}
		return
	}
	e.basis = onPair
	sigma := verticalNoise(s)
	before, wander := 0.0, indexSD
	if known.Index.SD > 0 {
		before, wander = known.Index.Value.Seconds(), known.Index.SD
	}
	e.pairs = grouped(indexErrors(s, e.slot.Target), max(reduce.FromSeconds(entryFactor*sigma), s.Spec.Limits.Index.Value))
	for _, g := range leading(e.pairs, reduce.FromSeconds(before), reduce.FromSeconds(entryFactor*wander)) {
		weight := 1/(wander*wander) + float64(len(g))/(sigma*sigma/2)
		mean := before / (wander * wander)
		for _, x := range g {
			mean += x.value.Seconds() / (sigma * sigma / 2)
		}
		mean /= weight
		sd := math.Sqrt(2*sigma*sigma + 4/weight)
		e.bands = append(e.bands, band{
			centre: (mirrored(circle, pair.Angle()) + reduce.FromSeconds(2*mean)).Normalize(),
			sd:     reduce.FromSeconds(sd), limit: entryLimit(s.Spec.Limits, s.Spec.Instrument.LeastCount, sd),
		})
	}
}

// leading returns the groups that the next pair may belong to: the largest, others
// as large, and none at all (what was known beforehand) where a single pair lies
// further off that than index errors do.
func leading(groups [][]pairError, before, far reduce.Angle) [][]pairError {
	if len(groups) == 0 {
		return [][]pairError{nil}
	}
	var list [][]pairError
	sound := false
	for _, g := range groups {
		if len(g) == len(groups[0]) {
			list = append(list, g)
			sound = sound || len(g) > 1 || (g[0].value-before).Wrap().Abs() <= far
		}
	}
	if !sound {
		list = append(list, nil)
	}
	return list
}

// verticalNoise returns the standard deviation of one vertical reading on one
// face in seconds: as stated of altitudes, else that of a horizontal one.
func verticalNoise(s *booking.Setup) float64 {
	st := align.Station{LeastCount: s.Spec.Instrument.LeastCount, Sigma: s.Spec.Instrument.AltitudeSigma().Seconds() * math.Sqrt2}
	return st.Noise()
}

// levelReading returns what a level line reads.
func levelReading(c faces.Circle, f faces.Face) reduce.Angle {
	return align.Level(c, f == faces.FR)
}

// mirrored returns the reading of the other face without index error.
func mirrored(c faces.Circle, v reduce.Angle) reduce.Angle {
	if c == faces.Horizon {
		return (reduce.HalfTurn - v).Normalize()
	}
	return (reduce.Turn - v).Normalize()
}

// indexErrors lists the index errors of the vertical pairs, that of one target left
// out.
func indexErrors(s *booking.Setup, but string) []pairError {
	var list []pairError
	for i := range s.Readings {
		l := &s.Readings[i]
		if l.Slot.Quantity != spec.Vertical || l.Slot.Face != faces.FL || l.Struck != nil || l.Slot.Target == but {
			continue
		}
		if r, ok := s.At(l.Slot.Pair()); ok {
			_, index := faces.VerticalPair(l.Angle(), r.Angle(), s.Spec.Instrument.Circle)
			list = append(list, pairError{l.Slot.Target, index})
		}
	}
	return list
}
