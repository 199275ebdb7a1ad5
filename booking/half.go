package booking

import (
	"slices"
	"time"

	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/faces"
)

// A HalfRepeat is a half that was asked for again.
type HalfRepeat struct {
	event.HalfAsked
	At time.Time
}

// AgainHalf asks for a half again, the circle being as it was. Only a half that
// is observed, of the round whose circle setting still stands, can be.
func (s Setup) AgainHalf(round int, face faces.Face) (event.HalfAsked, error) {
	r, begun := s.Round(round)
	latest := s.LatestRound()
	switch {
	case s.Void != nil:
		return event.HalfAsked{}, Refuse(setupIsVoid, "the setup was struck")
	case s.Lift != nil:
		return event.HalfAsked{}, Refuse(TripodLifted, "the tripod was lifted: only what was struck can be read again")
	case !begun || face == faces.NoFace:
		return event.HalfAsked{}, Refuse(noSuchRound, "round %d was not begun", round)
	case r.Void != nil:
		return event.HalfAsked{}, Refuse(roundIsVoid, "round %d is void", round)
	case latest != nil && latest.Number != round && s.Spec.Plan != spec.FreePlan:
		return event.HalfAsked{}, Refuse(noSuchRound, "the circle was set anew after round %d: ask for another round", round)
	}
	if _, _, open := s.NextOpen(r.Called(s.Spec.HalfSlots(r.Number, face))); open || !s.anyInHalf(round, face, 0) {
		return event.HalfAsked{}, Refuse(noSuchRound, "%s of round %d is not observed yet", face.Words(), round)
	}
	if _, _, open := s.HalfCalled(); open {
		return event.HalfAsked{}, Refuse(placeTaken, "a half is being observed again: finish it first, or pass over what is left of it")
	}
	for n := 1; n <= spec.MaxRepeats; n++ {
		asked := slices.ContainsFunc(s.Halves, func(h HalfRepeat) bool { return h.Round == round && h.Face == face && h.Repeat == n })
		if !asked && !s.anyInHalf(round, face, n) {
			return event.HalfAsked{Round: round, Face: face, Repeat: n, By: s.Spec.Booker}, nil
		}
	}
	return event.HalfAsked{}, Refuse(placeTaken, "it was observed %d times over: that is enough", spec.MaxRepeats)
}

// anyInHalf tells whether a reading stands in a half, the first time or a repeat.
func (s Setup) anyInHalf(round int, face faces.Face, repeat int) bool {
	return len(s.HalfReadings(round, face, repeat)) > 0
}

// HalfReadings returns the readings that stand of a half: observed for the first
// time where repeat is 0, or again.
func (s Setup) HalfReadings(round int, face faces.Face, repeat int) []Reading {
	var rs []Reading
	for _, r := range s.Readings {
		if k := r.Slot; k.Quantity.OfRound() && k.Round == round && k.Face == face && k.Repeat == repeat && r.Stands() {
			rs = append(rs, r)
		}
	}
	return rs
}

// HalfCalled returns what is called of a half that was asked for again.
func (s Setup) HalfCalled() (slot spec.Slot, back, ok bool) {
	for _, h := range s.Halves {
		r, _ := s.Round(h.Round)
		if !r.Used() {
			continue
		}
		slots := r.Called(s.Spec.HalfSlots(r.Number, h.Face))
		for i := range slots {
			slots[i].Repeat = h.Repeat
		}
		if slot, back, ok = s.NextOpen(slots); ok {
			return slot, back, ok
		}
	}
	return spec.Slot{}, false, false
}

func (s *Setup) foldHalf(e event.Entry, v event.HalfAsked) string {
	r, begun := s.Round(v.Round)
	switch {
	case !begun || r.Void != nil || v.Face != faces.FL && v.Face != faces.FR:
		return "it asks again for a half that cannot be"
	case v.Repeat < 1 || v.Repeat > spec.MaxRepeats:
		return "it asks for a half too often"
	}
	s.Halves = append(s.Halves, HalfRepeat{HalfAsked: v, At: e.At})
	return ""
}

// LeaveOutHalf keeps the readings of a half, observed for the first time or again,
// from the means. The reason must be written.
func (s Setup) LeaveOutHalf(round int, face faces.Face, repeat int, reason string) ([]event.ReadingLeftOut, error) {
	out, err := eachOf(s.HalfReadings(round, face, repeat), false, reason, s.LeaveOutReading)
	if err == nil && len(out) == 0 {
		return nil, Refuse(leftOutAlready, "no reading of this half counts")
	}
	return out, err
}

// TakeBackHalf takes the readings of a half that were left out into the means again.
func (s Setup) TakeBackHalf(round int, face faces.Face, repeat int, reason string) ([]event.ReadingTakenBack, error) {
	out, err := eachOf(s.HalfReadings(round, face, repeat), true, reason, s.TakeBackReading)
	if err == nil && len(out) == 0 {
		return nil, Refuse(notLeftOut, "no reading of this half is left out")
	}
	return out, err
}

// eachOf does one thing to those readings that are left out, or to those that are not;
// the first refusal ends it.
func eachOf[E any](readings []Reading, leftOut bool, reason string, do func(seq uint64, reason string) (E, error)) ([]E, error) {
	var out []E
	for _, r := range readings {
		if (r.LeftOut != nil) != leftOut {
			continue
		}
		e, err := do(r.Seq, reason)
		if err != nil {
			return nil, err
		}
		out = append(out, e)
	}
	return out, nil
}
