package check

import (
	"fmt"
	"math"

	"example.org/readback/booking"
	"example.org/readback/booking/check/align"
	"example.org/readback/booking/check/culprit"
	"example.org/readback/booking/reduction"
	"example.org/readback/reduce"
	"example.org/readback/reduce/precision"
)

// A Suspect is a reading, or a group of readings, that explains why the readings
// of a setup do not fit each other, as far as it can be told. Round is 0 and
// Face empty where that cannot be told.
type Suspect = culprit.Suspect

// A Reader is one of the readings that a suspect may be.
type Reader = culprit.Reader

// Suspects names the readings at fault, the most likely first, those of the
// vertical circle last; none where nothing stands out. Where several fit alike,
// Alike is set on each.
func Suspects(s booking.Setup) []Suspect { return Culprits(s).Suspects }

// Culprits searches the rounds that are used, and the vertical pairs, for the
// reading at fault and says what to observe to settle the matter.
func Culprits(s booking.Setup) culprit.Finding {
	r := reduction.Of(s)
	return culpritsOf(s, r, workTwoC(s, r))
}

// culpritsOf is Culprits where the setup is reduced already.
func culpritsOf(s booking.Setup, r reduction.Reduction, twoC twoCWork) culprit.Finding {
	f := levelCulprits(s, r, exceeds(r, twoC))
	upright := uprightSuspects(s, r)
	if len(upright) > 0 && f.Remedy.Text == "" {
		f.Remedy = culprit.Remedy{
			Target: upright[0].Target,
			Text:   fmt.Sprintf("Read the vertical circle on %s again, on both faces.", upright[0].Target),
		}
	}
	last := 0
	for _, x := range f.Suspects {
		last = max(last, x.Group)
	}
	for i := range upright {
		if upright[i].Group = last + 1; !upright[i].Alike {
			last++
		}
	}
	f.Suspects = append(f.Suspects, upright...)
	return f
}

// levelCulprits searches the horizontal readings.
func levelCulprits(s booking.Setup, r reduction.Reduction, exceeded bool) culprit.Finding {
	st := faceStation(&s)
	if len(st.Readings) == 0 {
		return culprit.Finding{}
	}
	st.HasAlt = make([]bool, len(st.Names))
	st.Altitudes = make([]reduce.Angle, len(st.Names))
	for i, n := range st.Names {
		st.Altitudes[i], st.HasAlt[i] = s.Spec.Before.Altitudes[n]
	}
	if b := s.Spec.Before.Spread(); st.Sigma <= 0 && b.Dof > 0 {
		st.Before = precision.Spread{S: math.Sqrt2 * b.S, Dof: b.Dof}
	}
	for _, v := range r.Verticals {
		for i, n := range st.Names {
			if n == v.Target && v.HasPair {
				st.HasAlt[i], st.Altitudes[i] = true, v.Altitude
			}
		}
	}
	return culprit.Find(st, exceeded)
}

// exceeds tells whether the rounds disagree, a half does not close or 2c spreads
// too far.
func exceeds(r reduction.Reduction, twoC twoCWork) bool {
	c := r.Comparison
	if !c.Agrees {
		return true
	}
	for _, w := range c.Rounds {
		for _, x := range w.Closings {
			if x.Misclosure.Abs() > c.Limits.ROMisclosure.Value {
				return true
			}
		}
	}
	return twoC.beyond(c.Limits.TwoC.Value)
}

// FaceReadings gives the standing horizontal readings of the used rounds, face by
// face in the order booked, to the search for the reading at fault.
func FaceReadings(s booking.Setup) align.Station { return faceStation(&s) }
