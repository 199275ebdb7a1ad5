package booking

import (
	"slices"
	"time"

	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// HalfAsked asks for one half of a round again as a check, without striking the
// first: its pointings are called once more, each with this Repeat.
type HalfAsked struct {
	Round  int        `json:"round"`
	Face   faces.Face `json:"face"`
	Repeat int        `json:"repeat"` // 1: the second time
	By     string     `json:"by"`
}

func (HalfAsked) kind() Kind { return kindHalfAsked }

// A HalfRepeat is a half that was asked for again.
type HalfRepeat struct {
	HalfAsked
	At time.Time
}

// AgainHalf asks for a half again, the circle being as it was. Only a half that
// is observed, of the round whose circle setting still stands, can be.
func (s Setup) AgainHalf(round int, face faces.Face) (HalfAsked, error) {
	r, begun := s.Round(round)
	latest := s.latestRound()
	switch {
	case s.Void != nil:
		return HalfAsked{}, Refuse(setupIsVoid, "the setup was struck")
	case s.Lift != nil:
		return HalfAsked{}, Refuse(TripodLifted, "the tripod was lifted: only what was struck can be read again")
	case !begun || face == faces.NoFace:
		return HalfAsked{}, Refuse(noSuchRound, "round %d was not begun", round)
	case r.Void != nil:
		return HalfAsked{}, Refuse(roundIsVoid, "round %d is void", round)
	case latest != nil && latest.Number != round && s.Spec.Plan != FreePlan:
		return HalfAsked{}, Refuse(noSuchRound, "the circle was set anew after round %d: ask for another round", round)
	}
	if _, _, open := s.nextOpen(calledIn(r, s.Spec.HalfSlots(r.Number, face))); open || !s.anyInHalf(round, face, 0) {
		return HalfAsked{}, Refuse(noSuchRound, "%s of round %d is not observed yet", face.Words(), round)
	}
	if _, _, open := s.expectHalf(); open {
		return HalfAsked{}, Refuse(placeTaken, "a half is being observed again: finish it first, or pass over what is left of it")
	}
	for n := 1; n <= MaxRepeats; n++ {
		asked := slices.ContainsFunc(s.Halves, func(h HalfRepeat) bool { return h.Round == round && h.Face == face && h.Repeat == n })
		if !asked && !s.anyInHalf(round, face, n) {
			return HalfAsked{Round: round, Face: face, Repeat: n, By: s.Spec.Booker}, nil
		}
	}
	return HalfAsked{}, Refuse(placeTaken, "it was observed %d times over: that is enough", MaxRepeats)
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

// expectHalf returns what is called of a half that was asked for again.
func (s Setup) expectHalf() (slot Slot, back, ok bool) {
	for _, h := range s.Halves {
		r, _ := s.Round(h.Round)
		if !r.Used() {
			continue
		}
		slots := calledIn(r, s.Spec.HalfSlots(r.Number, h.Face))
		for i := range slots {
			slots[i].Repeat = h.Repeat
		}
		if slot, back, ok = s.nextOpen(slots); ok {
			return slot, back, ok
		}
	}
	return Slot{}, false, false
}

func (s *Setup) foldHalf(e Entry, v HalfAsked) string {
	r, begun := s.Round(v.Round)
	switch {
	case !begun || r.Void != nil || v.Face != faces.FL && v.Face != faces.FR:
		return "it asks again for a half that cannot be"
	case v.Repeat < 1 || v.Repeat > MaxRepeats:
		return "it asks for a half too often"
	}
	s.Halves = append(s.Halves, HalfRepeat{HalfAsked: v, At: e.At})
	return ""
}

// LeaveOutHalf keeps the readings of a half, observed for the first time or again,
// from the means. The reason must be written.
func (s Setup) LeaveOutHalf(round int, face faces.Face, repeat int, reason string) ([]ReadingLeftOut, error) {
	out, err := eachOf(s.HalfReadings(round, face, repeat), false, reason, s.LeaveOutReading)
	if err == nil && len(out) == 0 {
		return nil, Refuse(leftOutAlready, "no reading of this half counts")
	}
	return out, err
}

// TakeBackHalf takes the readings of a half that were left out into the means again.
func (s Setup) TakeBackHalf(round int, face faces.Face, repeat int, reason string) ([]ReadingTakenBack, error) {
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

// RepeatedHalves are the halves, of rounds that are used, in which sights of one
// face count several times.
func (s Setup) RepeatedHalves() []RepeatedHalf {
	if !s.repeated {
		return nil
	}
	var out []RepeatedHalf
	for _, r := range s.Rounds {
		if !r.Used() {
			continue
		}
		for _, face := range []faces.Face{faces.FL, faces.FR} {
			h := RepeatedHalf{Round: r.Number, Face: face}
			for _, slot := range s.Spec.HalfSlots(r.Number, face) {
				if rs := s.repeats(slot); len(rs) > 1 {
					h.Sights = append(h.Sights, repeatedSight(slot, rs))
				}
			}
			if len(h.Sights) > 0 {
				out = append(out, h)
			}
		}
	}
	return out
}

// A RepeatedHalf is a half, or single sights of it, observed several times.
type RepeatedHalf struct {
	Round  int
	Face   faces.Face
	Sights []RepeatedSight
}

// A RepeatedSight is one sight on one face, read several times at one setting of
// the circle: its mean, and how far the readings lie apart.
type RepeatedSight struct {
	Slot     Slot // of the first
	Readings []Reading
	Mean     reduce.Direction
	Spread   reduce.Angle // largest less smallest, across north too
}

// Widest returns the sight whose readings lie furthest apart, the first of equals.
func (h RepeatedHalf) Widest() RepeatedSight {
	widest := h.Sights[0]
	for _, x := range h.Sights[1:] {
		if x.Spread > widest.Spread {
			widest = x
		}
	}
	return widest
}

func repeatedSight(slot Slot, rs []Reading) RepeatedSight {
	x := RepeatedSight{Slot: slot, Readings: rs}
	var lo, hi reduce.Angle
	ds := make([]reduce.Direction, len(rs))
	for i, r := range rs {
		ds[i] = r.Direction()
		off := ds[i].Sub(ds[0])
		lo, hi = min(lo, off), max(hi, off)
	}
	x.Mean, x.Spread = sightMean(ds), hi-lo
	return x
}

// sightMean is the mean of readings of one sight: counted from the first of them,
// for they may lie on both sides of north, or apart by a slip.
func sightMean(ds []reduce.Direction) reduce.Direction {
	var sum reduce.Angle
	for _, d := range ds[1:] {
		sum += d.Sub(ds[0])
	}
	return ds[0].Add(sum.Div(int64(len(ds))))
}
