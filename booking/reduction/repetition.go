package reduction

import (
	"example.org/readback/booking"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// A RepeatedAngle is the angle of one face of a round that was repeated: once, and as
// the mean of all its repetitions, clockwise from the RO to the target.
type RepeatedAngle struct {
	Target       string
	Face         faces.Face
	Single, Mean reduce.Angle // [0, full circle)
	Turns        int64        // full circles that the sum holds beside what the circle shows
}

// Off is by how much the mean differs from the single angle: of two angles of one face
// in one half, the same to be expected as of two sights of the RO.
func (a RepeatedAngle) Off() reduce.Angle { return (a.Mean - a.Single).Wrap() }

// ExpectedSum returns the circle reading that is expected of a target after the
// repetitions: the initial one and so many times the single angle; not ok where the
// initial or the single sight is not booked.
func ExpectedSum(s booking.Setup, slot spec.Slot) (reduce.Direction, bool) {
	slot.Quantity, slot.Repeat = spec.Horizontal, 0
	single, ok := s.Counting(slot)
	slot.Target = s.Spec.RO
	initial, begun := s.Counting(slot)
	if !ok || !begun {
		return reduce.Direction{}, false
	}
	angle := single.Direction().From(initial.Direction())
	return initial.Direction().Add(angle * reduce.Angle(s.Spec.Repetitions)), true
}

// repeatedAngle works an angle turned n times. The mean is
//
//	(final − initial + k · full circle) / n,
//
// k such that it lies nearest to the single angle (common practice, no source); exact,
// rounded half away from nothing to the micro-arcsecond.
func repeatedAngle(initial, single, final reduce.Direction, n int) (a RepeatedAngle) {
	a.Single = single.From(initial)
	shown := final.From(initial)
	all := a.Single * reduce.Angle(n)
	a.Turns = int64((all - shown).Div(int64(reduce.Turn)))
	a.Mean = (shown + reduce.Angle(a.Turns)*reduce.Turn).Div(int64(n)).Normalize()
	return a
}

// repeat puts the mean of the repetitions in the place of the single direction, face
// by face: a pair is whole when both faces have it. Its 2c stays that of the sights.
func (w *RoundWork) repeat(of counted, s booking.Setup) {
	if s.Spec.Order != spec.ByRepetition {
		return
	}
	ro := w.Pairs[0]
	for i := 1; i < len(w.Pairs); i++ {
		p := &w.Pairs[i]
		p.HasPair = false
		var last, done int
		for _, f := range []struct {
			face       faces.Face
			initial    reduce.Direction
			ro, single *booking.Reading
			sum        **booking.Reading
			direction  *reduce.Direction
		}{{faces.FL, ro.Left, ro.FL, p.FL, &p.SumFL, &p.Left}, {faces.FR, ro.Right, ro.FR, p.FR, &p.SumFR, &p.Right}} {
			slot := spec.Slot{Quantity: spec.Accumulated, Round: w.Number, Face: f.face, Target: p.Target}
			var final reduce.Direction
			if *f.sum, final = of.sight(slot, &last, s.Repeated); *f.sum == nil || f.ro == nil || f.single == nil {
				continue
			}
			a := repeatedAngle(f.initial, *f.direction, final, s.Spec.Repetitions)
			a.Target, a.Face = p.Target, f.face
			w.Repeated = append(w.Repeated, a)
			*f.direction = f.initial.Add(a.Mean)
			done++
		}
		if p.HasPair = done == 2; p.HasPair {
			p.Mean = faces.PairMean(p.Left, p.Right)
		}
	}
}
