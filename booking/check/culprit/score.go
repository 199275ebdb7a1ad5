package culprit

import (
	"math"
	"slices"

	"example.org/readback/booking/check/align"
	"example.org/readback/booking/check/completion"
	"example.org/readback/booking/check/slip"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// scales is ln(180° / 0.5″): the width of an error that could be of any size.
const scales = 14

// Errors that have nothing to do with figures (assumed): a wrong edge, a poor
// sight, a knock. Half of them stay under near times sigma, the rest falls off
// with the square of the size.
const near = 10

// free returns how likely, per second of arc, an error of this many seconds is
// when nothing is known of its cause: half of it a poor sight, half of any size.
func (f *field) free(seconds float64) float64 {
	return (f.sight(seconds) + 1/(2*math.Max(math.Abs(seconds), near*f.sigma)*scales)) / 2
}

// anyCause is free of the largest error that item a makes, per second of the common
// one.
func (f *field) anyCause(seconds float64, a item) float64 {
	if a.by == nil {
		return f.free(seconds)
	}
	most := slices.Max(a.by)
	return f.free(seconds*most) * most
}

// sight returns how likely, per second of arc, a poor sight is off by so much.
func (f *field) sight(seconds float64) float64 {
	s, d := near*f.sigma, math.Max(math.Abs(seconds), near*f.sigma)
	return s / (4 * d * d)
}

// rough weighs a hypothesis by the geometry alone, every size of error counting
// alike.
func (f *field) rough(h *hypothesis) bool {
	det, ok := f.solve(h)
	if !ok {
		return false
	}
	density := 1 / math.Sqrt(det)
	h.score = f.fit(h.ss) + float64(len(h.items))*f.unit
	for i, a := range h.items {
		h.score += f.common[a]
		density *= f.anyCause(h.delta[i]*f.sigma, f.list[a])
	}
	h.score += math.Log(density)
	return true
}

// volume is the width of the errors that fit, in seconds, as a logarithm; det is
// that of their weights.
func (f *field) volume(det float64, n int) float64 {
	return float64(n)*f.unit - math.Log(det)/2
}

// weigh weighs a hypothesis with all that is known of slips.
func (f *field) weigh(h *hypothesis) {
	det, ok := f.solve(h)
	if !ok {
		h.score = math.Inf(-1)
		return
	}
	h.score = f.fit(h.ss) + f.volume(det, len(h.items))
	for i, a := range h.items {
		h.score += f.common[a] + math.Log(f.density(h, i, f.list[a]))
	}
}

// least is the size in units of sigma from which a digit slip is looked for:
// smaller ones cannot be told from noise.
const least = 4

// pointing is the share of poor sights among the errors of a single reading.
const pointing = 0.2

// misreadTwice is how often a reading that was misread is misread alike when it is
// read again (assumed).
const misreadTwice = 0.05

// density returns how likely, per second of arc, the error of item i of h is.
func (f *field) density(h *hypothesis, i int, a item) float64 {
	free := f.anyCause(h.delta[i]*f.sigma, a)
	switch a.form {
	case oneReading:
		digits := f.misreadings(a.at).Density(f.truth(h, i, a.at))
		if f.s.Readings[a.at].Again {
			digits *= misreadTwice
		}
		return digits + pointing*f.sight(h.delta[i]*f.sigma)
	case onePair:
		return 0.5*free + 0.5*f.otherTarget(h, i, a.at)
	}
	return free
}

// search asks how reading k came to be booked, if the other readings are right.
func (f *field) search(h *hypothesis, i, k int) slip.Result {
	c := f.caseOf(k)
	c.Expected = []slip.Expectation{f.truth(h, i, k)}
	return slip.Search(c)
}

// misreadings returns what reading k can have come of.
func (f *field) misreadings(k int) *slip.Misreadings {
	if f.misread == nil {
		f.misread = map[int]*slip.Misreadings{}
	}
	m := f.misread[k]
	if m == nil {
		m = slip.MisreadingsOf(f.caseOf(k))
		f.misread[k] = m
	}
	return m
}

// caseOf describes reading k but for what the others lead one to expect of it.
func (f *field) caseOf(k int) slip.Case {
	r := f.s.Readings[k]
	return slip.Case{
		Value: r.Value.Angle(), Keyed: r.Keyed, Unit: f.s.Unit, LeastCount: f.s.LeastCount,
		Alternatives: f.alternatives(r),
		Least:        reduce.FromSeconds(least * f.sigma),
	}
}

// truth returns what the other readings leave for reading k: the reading less the
// error found.
func (f *field) truth(h *hypothesis, i, k int) slip.Expectation {
	sd := reduce.FromSeconds(h.sd[i] * f.sigma)
	centre := f.s.Readings[k].Value.Add(-reduce.FromSeconds(h.delta[i] * f.sigma))
	return slip.Expectation{Band: completion.Band{Centre: centre.Angle(), Half: 5 * sd}, Sigma: sd}
}

// alternatives lists what else could have been read in place of a reading.
func (f *field) alternatives(r Reading) []slip.Alternative {
	sd := reduce.FromSeconds(3 * f.sigma)
	around := func(kind slip.Kind, d reduce.Direction) slip.Alternative {
		return slip.Alternative{Kind: kind, Expectation: slip.Expectation{Band: completion.Band{Centre: d.Angle(), Half: 4 * sd}, Sigma: sd}}
	}
	own := f.a.Expected(r.Round, r.Target, r.Face)
	list := append(make([]slip.Alternative, 0, len(f.s.Names)+2), around(slip.FaceNotChanged, own.Opposite()))
	for t := range f.s.Names {
		if t != r.Target && f.a.Seen[t] {
			list = append(list, around(slip.WrongTarget, f.a.Expected(r.Round, t, r.Face)))
		}
	}
	level := slip.Alternative{Kind: slip.OtherCircle}
	level.Band = completion.Band{Centre: align.Level(f.s.Circle, r.Face == faces.FR), Half: align.Sloping}
	list = append(list, level)
	if r.Target != 0 {
		ro := f.a.Expected(r.Round, 0, r.Face)
		list = append(list, around(slip.Anticlockwise, ro.Add(ro.Sub(own))))
	}
	return list
}

// otherTarget returns how likely, per second of arc, the pair that begins with
// reading k is a sight of another target.
func (f *field) otherTarget(h *hypothesis, i, k int) float64 {
	r := f.s.Readings[k]
	sd, sum, n := 3*f.sigma, 0.0, 0
	for t := range f.s.Names {
		if t == r.Target || !f.a.Seen[t] {
			continue
		}
		d := r.Value.Sub(f.a.Expected(r.Round, t, r.Face)).Seconds() / sd
		sum += math.Exp(-d*d/2) / sd / math.Sqrt(2*math.Pi)
		n++
	}
	if n == 0 {
		return 0
	}
	return sum / float64(n)
}
