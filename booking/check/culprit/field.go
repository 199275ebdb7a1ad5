package culprit

import (
	"errors"
	"math"
	"slices"

	"example.org/readback/booking/check/align"
	"example.org/readback/booking/check/slip"
	"example.org/readback/reduce"
	"example.org/readback/reduce/adjust"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/precision"
)

// field is the misfit of a station in units of the standard deviation of a
// reading: g = Q·y, with Q the cofactors of the residuals.
type field struct {
	s     Station
	a     align.Alignment
	sigma float64 // seconds
	n     int
	g     []float64
	q     *adjust.Cofactors
	ss    float64 // yᵀQy
	dof   int
	nu0   float64 // degrees of freedom that sigma is worth

	freedom float64 // degrees of freedom that are left when altitudes have taken their part

	misread map[int]*slip.Misreadings // of the readings that were asked for

	table
}

// shrink is what deviations are divided by before they are adjusted, so that no
// difference of two gross ones passes half a turn. The model is linear.
const shrink = 4

// newField adjusts the station, which a aligns; ok is false where the readings check
// nothing.
func newField(s Station, a align.Alignment) (*field, bool) {
	f := &field{s: s, a: a, sigma: s.Noise(), n: len(s.Readings)}
	f.s.LeastCount = s.Step()
	f.nu0 = nuStated
	if s.Sigma <= 0 {
		f.nu0 = nuTaken
	}
	rs := make([]adjust.Reading, f.n)
	for k, r := range s.Readings {
		dev := r.Value.Sub(f.a.Expected(r.Round, r.Target, r.Face))
		v := reduce.DirectionAt(dev.Div(shrink))
		if r.Face == faces.FR {
			v = v.Opposite()
		}
		rs[k] = adjust.Reading{Round: f.a.Round(r.Round), Target: r.Target, Face: r.Face, Value: v}
	}
	dense, number := denseTargets(rs, len(s.Names))
	adjusted, err := adjust.Readings(dense, len(f.a.Rounds), len(number))
	var loose *adjust.DisconnectedError
	if errors.As(err, &loose) {
		rest := without(s, number, loose.Targets)
		return newField(rest, align.Align(rest))
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
func denseTargets(rs []adjust.Reading, names int) (dense []adjust.Reading, number []int) {
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
	dense = make([]adjust.Reading, len(rs))
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

func (f *field) take(a *adjust.Faces) {
	f.g, f.q = make([]float64, f.n), &a.Q
	for k := range f.g {
		f.g[k] = -shrink * a.Residuals[k] / f.sigma
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

// matters is the part of the standard deviation of a reading from which on what
// the altitudes can do is let into the model: a smaller effect would cost a degree
// of freedom and tell nothing.
const matters = 0.4

// scale returns the standard deviation of a reading in seconds: the stated one,
// else what the plain model shows where that is more than was assumed.
func (f *field) scale() float64 {
	if f.s.Sigma > 0 {
		return f.sigma
	}
	return f.sigma * math.Sqrt(math.Max(1, f.ss/float64(f.dof)))
}

// loosen lets the collimation of each target differ as altitude makes it.
func (f *field) loosen() {
	tan, sec := make([]float64, f.n), make([]float64, f.n)
	for k, r := range f.s.Readings {
		if f.altitudeKnown(r.Target) {
			h := f.s.Altitudes[r.Target].Radians()
			tan[k], sec[k] = math.Tan(h), 1/math.Cos(h)-1
		}
	}
	scale := f.scale()
	for _, x := range []struct {
		z  []float64
		sd float64
	}{{tan, tiltSD}, {sec, cosineSD}} {
		if _, spread := precision.SampleSpread(x.z); x.sd*spread.S > matters*scale {
			for k, r := range f.s.Readings {
				x.z[k] *= sign(r)
			}
			f.absorb(x.z, x.sd/f.sigma)
		}
	}
	f.loosenUnknown(scale)
}

// gathered sorts the places of the readings into so many groups, as place has them.
func gathered(rs []Reading, groups int, place func(Reading) int) [][]int {
	return align.Sorted(rs, groups, place, func(k int) int { return k })
}

func (f *field) altitudeKnown(target int) bool {
	return target < len(f.s.HasAlt) && f.s.HasAlt[target] && math.Cos(f.s.Altitudes[target].Radians()) > 0.05
}

// Of a target whose altitude is not known: from which deviate on its collimation
// is taken to differ, where it was seen on both faces in two rounds or more, and
// the standard deviation of what a steep sight can make of it, in seconds
// (assumed: a tilt of 15″ at 45°).
const steepShows, steepSD = 2.5, 15.0

// loosenUnknown lets the collimation differ at the targets whose altitude is not
// known. What repeats there from round to round is no slip.
func (f *field) loosenUnknown(scale float64) {
	of := gathered(f.s.Readings, len(f.s.Names), func(r Reading) int { return r.Target })
	z := make([]float64, f.n)
	for t, readings := range of {
		if len(readings) == 0 || f.altitudeKnown(t) {
			continue
		}
		first, several := f.s.Readings[readings[0]].Round, false
		for _, k := range readings {
			z[k] = sign(f.s.Readings[k])
			several = several || f.s.Readings[k].Round != first
		}
		switch {
		case several && f.repeats(z, steepShows*scale/f.sigma):
			f.absorb(z, steepSD/f.sigma)
		case unknownSD > matters*scale:
			f.absorb(z, unknownSD/f.sigma)
		}
		for _, k := range readings {
			z[k] = 0
		}
	}
}

// repeats tells whether pattern z, the collimation of a target, stands out by this
// deviate, and explains more than any single reading of the target does, and more
// than a drift.
func (f *field) repeats(z []float64, deviate float64) bool {
	single := 0.0
	for k, a := range z {
		if q := f.q.At(k, k); a != 0 && q > leastRedundancy {
			single = math.Max(single, f.g[k]*f.g[k]/q)
		}
	}
	most := f.explained(z)
	if most <= deviate*deviate || most <= single {
		return false
	}
	return f.n < leastDrift || most > f.explained(f.drift().by)
}

// explained returns what of the misfit a pattern explains: (zᵀg)²/zᵀQz.
func (f *field) explained(z []float64) float64 {
	pull := dot(z, f.g)
	return pull * pull / math.Max(f.q.Square(z), leastRedundancy)
}

// dot returns the sum of the products of a and b.
func dot(a, b []float64) float64 {
	sum := 0.0
	for k, x := range a {
		sum += float64(x * b[k])
	}
	return sum
}

func sign(r Reading) float64 {
	if r.Face == faces.FR {
		return -1
	}
	return 1
}

// absorb lets an effect with pattern z and standard deviation sd take its part of
// the misfit: Q − Qz·zᵀQ/(1/sd² + zᵀQz).
func (f *field) absorb(z []float64, sd float64) {
	qz := f.q.Times(z)
	prior := 1 / (sd * sd)
	den, zg := prior+dot(z, qz), dot(z, f.g)
	for k := range qz {
		f.g[k] -= float64(qz[k] * zg / den)
	}
	f.q.Absorb(qz, den)
	f.ss = math.Max(0, f.ss-zg*zg/den)
	f.freedom -= (den - prior) / den
}
