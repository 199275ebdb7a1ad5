package culprit

import (
	"errors"
	"math"
	"slices"

	"example.org/readback/booking/check/align"
	"example.org/readback/reduce"
)

// field is the misfit of a station in units of the standard deviation of a
// reading: g = Q·y, with Q the cofactors of the residuals.
type field struct {
	s     Station
	a     align.Alignment
	sigma float64 // seconds
	n     int
	g     []float64
	q     []float64 // n × n
	ss    float64   // yᵀQy
	dof   int
	nu0   float64 // degrees of freedom that sigma is worth

	freedom float64 // degrees of freedom that are left when altitudes have taken their part

	table
}

// shrink is what deviations are divided by before they are adjusted, so that no
// difference of two gross ones passes half a turn. The model is linear.
const shrink = 4

// newField adjusts the station; ok is false where the readings check nothing.
func newField(s Station) (*field, bool) {
	f := &field{s: s, a: align.Align(s), sigma: s.Noise(), n: len(s.Readings)}
	f.s.LeastCount = s.Step()
	f.nu0 = nuStated
	if s.Sigma <= 0 {
		f.nu0 = nuTaken
	}
	rs := make([]reduce.FaceReading, f.n)
	for k, r := range s.Readings {
		dev := r.Value.Sub(f.a.Expected(r.Round, r.Target, r.Right))
		v := reduce.DirectionAt(dev.Div(shrink))
		if r.Right {
			v = v.Opposite()
		}
		rs[k] = reduce.FaceReading{Round: f.a.Round(r.Round), Target: r.Target, Right: r.Right, Value: v}
	}
	dense, number := denseTargets(rs, len(s.Names))
	adjusted, err := reduce.AdjustFaces(dense, len(f.a.Rounds), len(number))
	var loose *reduce.DisconnectedError
	if errors.As(err, &loose) {
		return newField(without(s, number, loose.Targets))
	}
	if err != nil || adjusted.Dof < 1 {
		return nil, false
	}
	f.take(adjusted)
	f.loosen()
	f.tabulate()
	return f, true
}

// denseTargets numbers the targets that are seen; number gives the old number of
// each.
func denseTargets(rs []reduce.FaceReading, names int) (dense []reduce.FaceReading, number []int) {
	at := make([]int, names)
	for i := range at {
		at[i] = -1
	}
	for _, r := range rs {
		at[r.Target] = 0
	}
	for t := range at {
		if at[t] == 0 {
			at[t] = len(number)
			number = append(number, t)
		}
	}
	dense = make([]reduce.FaceReading, len(rs))
	for k, r := range rs {
		r.Target = at[r.Target]
		dense[k] = r
	}
	return dense, number
}

// without returns the station without the readings of some targets, which no
// round ties to the rest.
func without(s Station, number, loose []int) Station {
	var kept []Reading
	for _, r := range s.Readings {
		if i := slices.Index(number, r.Target); !slices.Contains(loose, i) {
			kept = append(kept, r)
		}
	}
	s.Readings = kept
	return s
}

func (f *field) take(a *reduce.Faces) {
	f.g, f.q = make([]float64, f.n), make([]float64, f.n*f.n)
	for k := range f.g {
		f.g[k] = -shrink * a.Residuals[k] / f.sigma
		for l := range f.g {
			f.q[k*f.n+l] = a.ResidualCofactor(k, l)
		}
	}
	f.ss, f.dof = shrink*shrink*a.VV/f.sigma/f.sigma, a.Dof
	f.freedom = float64(a.Dof)
}

// Standard deviations of what the model of one collimation leaves out, in
// seconds: the tilt of the trunnion axis, the collimation that 1/cos h enlarges,
// and, for a target whose altitude is not known, both together.
const (
	tiltSD    = 15
	cosineSD  = 60
	unknownSD = 0.3
)

// loosen lets the collimation of each target differ as altitude makes it.
func (f *field) loosen() {
	tilt, cosine := make([]float64, f.n), make([]float64, f.n)
	any := false
	for k, r := range f.s.Readings {
		if r.Target >= len(f.s.HasAlt) || !f.s.HasAlt[r.Target] {
			continue
		}
		h := f.s.Altitudes[r.Target].Radians()
		if math.Cos(h) < 0.05 {
			continue
		}
		tilt[k], cosine[k] = sign(r)*math.Tan(h), sign(r)*(1/math.Cos(h)-1)
		any = true
	}
	if any {
		f.absorb(tilt, tiltSD/f.sigma)
		f.absorb(cosine, cosineSD/f.sigma)
	}
	for t := range f.s.Names {
		if t < len(f.s.HasAlt) && f.s.HasAlt[t] {
			continue
		}
		z := make([]float64, f.n)
		for k, r := range f.s.Readings {
			if r.Target == t {
				z[k] = sign(r)
			}
		}
		f.absorb(z, unknownSD/f.sigma)
	}
}

func sign(r Reading) float64 {
	if r.Right {
		return -1
	}
	return 1
}

// absorb lets an effect with pattern z and standard deviation sd take its part of
// the misfit: Q − Qz·zᵀQ/(1/sd² + zᵀQz).
func (f *field) absorb(z []float64, sd float64) {
	qz := make([]float64, f.n)
	den, zg := 1/(sd*sd), 0.0
	prior := den
	for k := range qz {
		for l, w := range z {
			qz[k] += f.q[k*f.n+l] * w
		}
		den += z[k] * qz[k]
		zg += z[k] * f.g[k]
	}
	for k := range qz {
		f.g[k] -= qz[k] * zg / den
		for l := range qz {
			f.q[k*f.n+l] -= qz[k] * qz[l] / den
		}
	}
	f.ss = math.Max(0, f.ss-zg*zg/den)
	f.freedom -= (den - prior) / den
}
