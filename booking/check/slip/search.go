package slip

import (
	"math"
	"sort"

	"example.org/readback/booking/check/completion"
	"example.org/readback/reduce"
)

// An Expectation is a band a reading is expected in and how it lies there:
// normally, with the standard deviation Sigma round the centre, or evenly over
// the band when Sigma is 0 (a circle setting of 0° to 1°).
type Expectation struct {
	completion.Band
	Sigma  reduce.Angle
	Weight float64 // of several bands; 0 counts as 1
}

// An Alternative is what would have been read had the pointing gone wrong in a
// way that has nothing to do with digits: another target sighted, the face not
// changed, the circle not set.
type Alternative struct {
	Kind Kind
	Expectation
}

// A Case is a reading and what was expected in its place.
type Case struct {
	Value        reduce.Angle // what was keyed
	Keyed        string       // as it was keyed, where that is known
	Unit         reduce.Unit
	LeastCount   reduce.Angle
	Expected     []Expectation // none: nothing can be said
	Alternatives []Alternative
	Least        reduce.Angle // changes smaller than this are not counted as slips; 0: all are
	Gradient     float64      // for a vertical reading: 100·tan of the altitude expected, in percent; 0: none
}

// A Way is one explanation: a kind and a place, and its share of the whole.
type Way struct {
	Kind  Kind
	Part  Part
	Share float64
}

// A Result is what a search found.
type Result struct {
	Ways     []Way   // by share, the unknown among them; the shares make 1
	Kind     Kind    // the kind that clearly leads, or Unknown
	Part     Part    // the part that clearly shows the slip, also where its kind is open
	Text     string  // one sentence for calling out, without a figure
	Evidence float64 // how probable the keyed reading is if it is a slip, all ways together
	Density  float64 // Evidence per second of arc
}

// lead is the share of the whole from which an explanation is named.
const lead = 0.75

// Search weighs the ways that lead from the expectation to the keyed reading.
func Search(c Case) Result {
	s := newSearch(c)
	s.unknown = s.unknownAmong(c.Expected...)
	s.digits()
	s.alternatives()
	s.percent()
	return s.result()
}

// Misreadings are what the digits of a keyed reading can have come of, and what else
// could have been read: worked out once, held against one expectation after another.
type Misreadings struct {
	s       *search
	instead float64
}

// MisreadingsOf works out those of a case, whose Expected is not looked at.
func MisreadingsOf(c Case) *Misreadings {
	s := newSearch(c)
	s.collect = true
	s.digits()
	m := &Misreadings{s: s}
	s.alternatives()
	s.percent()
	for _, g := range s.found {
		m.instead += g.weight
	}
	return m
}

// Density is what Search has as Density where this is expected.
func (m *Misreadings) Density(e Expectation) float64 {
	sum := m.s.unknownAmong(e) + m.instead
	for _, w := range m.s.ways {
		if c := e.chance(w.truth, m.s.step); c > 0 {
			sum += w.weight * c
		}
	}
	return sum / m.s.step.Seconds()
}

// search collects explanations.
type search struct {
	c       Case
	step    reduce.Angle
	f       figures
	found   []found
	unknown float64

	collect bool    // keep the ways whatever is expected
	ways    []found // their weights are their shares
}

// found is the explanation that the reading was truth, or (for an alternative)
// that the pointing was wrong; weight is its probability.
type found struct {
	truth  reduce.Angle
	kind   Kind
	part   Part
	weight float64
}

func newSearch(c Case) *search {
	s := &search{c: c, step: c.LeastCount}
	if s.step <= 0 || c.Value%s.step != 0 {
		s.step = c.Unit.FineStep()
	}
	if c.Value%s.step != 0 {
		s.step = 1
	}
	s.f = figuresOf(c.Value.Normalize(), c.Unit, reduce.Places(c.Unit, s.step))
	return s
}

// unknownAmong is how probable the reading is by no way that is known.
func (s *search) unknownAmong(expected ...Expectation) float64 {
	nearest := reduce.HalfTurn
	for _, e := range expected {
		nearest = min(nearest, max((s.c.Value-e.Centre).Wrap().Abs(), e.Sigma, s.step))
	}
	return shareUnknown * float64(s.step) / (2 * float64(nearest) * scales)
}

// scales is ln(180° / 0.5″), the width of an error whose size could be anything.
const scales = 14

// chance returns how probable the reading a is under the expectation.
func (e Expectation) chance(a, step reduce.Angle) float64 {
	d := (a - e.Centre).Wrap().Abs()
	if d > e.Half {
		return 0
	}
	if e.Sigma == 0 {
		return float64(step) / float64(2*e.Half+step)
	}
	sigma := math.Max(float64(e.Sigma), float64(step)/4)
	t := float64(d) / sigma
	return math.Min(1, float64(step)/sigma/math.Sqrt(2*math.Pi)*math.Exp(-t*t/2))
}

// expected returns how probable the reading a is under all expectations.
func (s *search) expected(a reduce.Angle) float64 {
	sum, weights := 0.0, 0.0
	for _, e := range s.c.Expected {
		w := e.Weight
		if w == 0 {
			w = 1
		}
		sum += w * e.chance(a, s.step)
		weights += w
	}
	if weights == 0 {
		return 0
	}
	return sum / weights
}

// try puts the explanation down that truth was read and the keyed reading came
// of it by a way of the given share. Two ways from one reading are one
// explanation: the more particular kind gives it its name.
func (s *search) try(truth reduce.Angle, kind Kind, part Part, share float64) {
	if d := (truth - s.c.Value).Wrap().Abs(); d == 0 || d < s.c.Least || truth%s.step != 0 {
		return
	}
	if s.collect {
		s.ways = append(s.ways, found{truth, kind, part, share})
		return
	}
	w := share * s.expected(truth)
	if w == 0 {
		return
	}
	for i := range s.found {
		if g := &s.found[i]; g.truth == truth {
			g.weight += w
			if rank(kind) < rank(g.kind) {
				g.kind, g.part = kind, part
			}
			return
		}
	}
	s.found = append(s.found, found{truth, kind, part, w})
}

// rank orders the kinds of digit slips from the most to the least particular.
func rank(k Kind) int {
	switch k {
	case WholeDegree, TenMinutes, OneMinute:
		return 0
	case Misheard:
		return 1
	case DigitsExchanged:
		return 2
	case DigitDoubled:
		return 3
	case DigitDropped:
		return 4
	case NeighbouringKey:
		return 5
	case DigitMisread:
		return 6
	case PartsExchanged:
		return 7
	}
	return 8
}

// alternatives weighs the pointings that could have been made instead.
func (s *search) alternatives() {
	for i, a := range s.c.Alternatives {
		chance := a.chance(s.c.Value, s.step)
		if chance == 0 {
			continue
		}
		alike := 1.0
		for j, b := range s.c.Alternatives {
			if b.Kind == a.Kind && j != i {
				alike++
			}
		}
		s.found = append(s.found, found{-1, a.Kind, NoPart, instead[a.Kind] / alike * chance})
	}
}

// instead is the share of each kind of pointing that could have been made instead, all
// of the kind together.
var instead = map[Kind]float64{WrongTarget: shareTarget, FaceNotChanged: shareFace, OtherCircle: shareCircles, CircleNotSet: shareCircle, Anticlockwise: shareAnti}

// percent weighs whether the figures are the gradient the altitude would show.
func (s *search) percent() {
	want := math.Abs(s.c.Gradient)
	if want < 0.5 {
		return
	}
	n := float64(s.f.number(0, min(s.f.n, s.f.run())))
	if u := s.c.Unit; u.Decimal() {
		n = float64(s.c.Value) / float64(u.Whole())
	}
	for scale := 1.0; scale <= 10000; scale *= 10 {
		if math.Abs(n/scale-want) <= 0.05+0.6/scale {
			s.found = append(s.found, found{-1, PercentDisplay, NoPart, sharePercent / 5})
			return
		}
	}
}

// result adds the explanations up by kind and part.
func (s *search) result() Result {
	r := Result{Evidence: s.unknown}
	sums := make([]Way, 0, 8)
	for _, g := range s.found {
		r.Evidence += g.weight
		sums = gather(sums, Way{g.kind, g.part, g.weight})
	}
	sums = gather(sums, Way{Unknown, NoPart, s.unknown})
	r.Density = r.Evidence / s.step.Seconds()
	sort.SliceStable(sums, func(i, j int) bool { return sums[i].Share > sums[j].Share })
	parts := map[Part]float64{}
	for i := range sums {
		if r.Evidence > 0 {
			sums[i].Share /= r.Evidence
		}
		parts[sums[i].Part] += sums[i].Share
	}
	r.Ways = sums
	if top := sums[0]; top.Share >= lead && len(s.c.Expected) > 0 {
		r.Kind, r.Part = top.Kind, top.Part
	}
	if r.Kind == Unknown {
		for p, share := range parts {
			if p != NoPart && share >= lead {
				r.Part = p
			}
		}
	}
	r.Text = Sentence(r.Kind, r.Part, s.c.Unit)
	return r
}

func gather(sums []Way, w Way) []Way {
	for i := range sums {
		if sums[i].Kind == w.Kind && sums[i].Part == w.Part {
			sums[i].Share += w.Share
			return sums
		}
	}
	return append(sums, w)
}

// Pattern returns the kind and the part that the change from one reading to
// another shows, by its figures alone: the most particular kind there is.
func Pattern(truth, keyed reduce.Angle, u reduce.Unit, leastCount reduce.Angle) (Kind, Part) {
	s := newSearch(Case{Value: keyed, Unit: u, LeastCount: leastCount, Expected: []Expectation{{Band: completion.Band{Centre: truth}}}})
	s.digits()
	if len(s.found) == 0 {
		return Unknown, NoPart
	}
	return s.found[0].kind, s.found[0].part
}
