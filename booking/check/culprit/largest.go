package culprit

import (
	"math"

	"example.org/readback/reduce/adjust"
)

// LargestResidual returns the reading with the largest residual of the plain
// per-face model over its own standard deviation, and that ratio: over the square
// root of its redundancy in seconds where sigma is stated, over the scatter of the
// readings themselves where it is not. It is what Find is measured against.
func LargestResidual(s Station) (reading int, w float64, dof int, ok bool) {
	f, ok := Plain(s)
	if !ok {
		return 0, 0, 0, false
	}
	best, top := -1, 0.0
	for k, v := range f.Residuals {
		if f.Redundancy[k] < 1e-9 {
			continue
		}
		if w := math.Abs(v) / math.Sqrt(f.Redundancy[k]); w > top {
			best, top = k, w
		}
	}
	if s.Sigma <= 0 {
		top /= f.S0
	}
	return best, top, f.Dof, best >= 0 && f.VV > 0
}

// Plain adjusts the plain per-face model of a station; it is not ok where the
// readings do not carry it or leave nothing over.
func Plain(s Station) (f *adjust.Faces, ok bool) {
	rounds := map[int]int{}
	rs := make([]adjust.Reading, len(s.Readings))
	for k, r := range s.Readings {
		if _, seen := rounds[r.Round]; !seen {
			rounds[r.Round] = len(rounds)
		}
		rs[k] = adjust.Reading{Round: rounds[r.Round], Target: r.Target, Face: r.Face, Value: r.Value}
	}
	f, err := adjust.Readings(rs, len(rounds), len(s.Names))
	return f, err == nil && f.Dof >= 1
}
