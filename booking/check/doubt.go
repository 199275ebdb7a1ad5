package check

import (
	"example.org/readback/booking"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/reduction"
)

// Doubt says why a setup should not speak for its instrument: it is on Hold, was
// lifted on Hold, or a reading in it is suspect. Empty: nothing is against it, or it
// is still being observed and nothing is suspect yet.
func Doubt(s booking.Setup, r reduction.Reduction) string {
	if s.Void != nil || len(s.Readings) == 0 {
		return ""
	}
	if s.Lift != nil && s.Lift.Despite != "" {
		return "it was lifted on Hold"
	}
	v := JudgeReduction(s, r)
	switch {
	case len(v.Culprits.Suspects) > 0:
		return "a reading in it is suspect"
	case !v.Lift && (s.Lift != nil || programme.Expect(s).Phase == programme.AtVerdict):
		return "it is on Hold"
	}
	return ""
}
