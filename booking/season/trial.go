package season

import (
	"math"
	"math/rand/v2"
	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/check/culprit"
	"example.org/readback/reduce"
	"example.org/readback/reduce/precision"
)

// sound is what became of the sound stations of a cell.
type sound struct {
	N, Held, Named int
	PlainHeld      int            // by the plain rule at its nominal risk
	By             map[string]int // held, by the name of the check
}

// spoiled is what became of stations in which one thing went wrong. Beside the
// verdict stand the plain rule, which is the largest normalised residual of the
// per-face model, Pope's where σ is not stated, at two in a hundred a station;
// the same at the risk at which the verdict held sound stations of the cell; and
// the optimum at that risk.
type spoiled struct {
	N, Held, Named, WrongAlone int
	PlainHeld, PlainNamed      int
	PlainAlike                 int // held by the plain rule at the verdict's own risk
	Optimum                    int // held by the optimum; of those tried
	LiftedAlone                int // lifted here, held by the plain rule
}

// An outcome is what became of the stations of a cell.
type outcome struct {
	Cell    Cell
	Sound   sound
	Spoiled []spoiled // by the places of the spoilers
}

// Try judges sound stations of the cell, and spoiled ones of every spoiler, so many
// from each of the seeds.
func (c Cell) Try(spoilers []spoiler, clean, wrong int, seeds []uint64) (outcome, error) {
	t := outcome{Cell: c, Sound: sound{By: map[string]int{}}, Spoiled: make([]spoiled, len(spoilers))}
	limits := newLimits(len(spoilers))
	for _, seed := range seeds {
		if err := c.trySound(&t.Sound, limits, spoilers, clean, seed); err != nil {
			return t, err
		}
	}
	limits.take(t.Sound)
	for i, x := range spoilers {
		for _, seed := range seeds {
			if err := c.trySpoiled(&t.Spoiled[i], x, limits.plain, limits.optimum[i], wrong, seed); err != nil {
				return t, err
			}
		}
	}
	return t, nil
}

// limits are what the sound stations of a cell stay inside as often as the verdict
// lifts them.
type limits struct {
	plains  []float64
	ratios  [][]float64 // by spoiler
	plain   float64
	optimum []float64
}

func newLimits(n int) *limits {
	return &limits{ratios: make([][]float64, n), optimum: make([]float64, n)}
}

// take sets the limits at the verdict's own risk.
func (l *limits) take(s sound) {
	l.plain = beyond(l.plains, s.Held)
	for i := range l.ratios {
		l.optimum[i] = beyond(l.ratios[i], s.Held)
	}
}

// beyond returns the value that n of the values exceed.
func beyond(values []float64, n int) float64 {
	if len(values) == 0 {
		return math.Inf(1)
	}
	slices.Sort(values)
	return values[max(len(values)-1-n, 0)]
}

func (c Cell) trySound(out *sound, l *limits, spoilers []spoiler, n int, seed uint64) error {
	rng := rand.New(rand.NewPCG(seed, 77))
	for range n {
		s, err := c.observer(rng).Book()
		if err != nil {
			return err
		}
		v := check.Judge(s)
		out.N++
		out.Held += one(!v.Lift)
		out.Named += one(len(v.Culprits.Suspects) > 0)
		out.count(v)
		m, ok := misfitOf(check.FaceReadings(s))
		if !ok {
			continue
		}
		p := m.plain()
		out.PlainHeld += one(p.ratio > 1)
		l.plains = append(l.plains, p.ratio)
		for i, x := range spoilers {
			if x.patterns != nil {
				l.ratios[i] = append(l.ratios[i], m.ratio(x.structure, c))
			}
		}
	}
	return nil
}

// count counts the checks that hold the tripod.
func (s *sound) count(v check.Verdict) {
	seen := map[string]bool{}
	for _, x := range v.Checks {
		if !x.Met && !seen[x.Name] {
			seen[x.Name] = true
			s.By[x.Name]++
		}
	}
}

func (c Cell) trySpoiled(out *spoiled, x spoiler, plainLimit, optimum float64, n int, seed uint64) error {
	rng := rand.New(rand.NewPCG(seed, 78))
	for range n {
		faults, is := x.make(c, rng)
		s, err := c.observer(rng, faults...).Book()
		if err != nil {
			return err
		}
		v := check.Judge(s)
		right := slices.ContainsFunc(v.Culprits.Suspects, is)
		out.N++
		out.Held += one(!v.Lift)
		out.Named += one(right)
		out.WrongAlone += one(len(v.Culprits.Suspects) == 1 && !right)
		m, ok := misfitOf(check.FaceReadings(s))
		if !ok {
			continue
		}
		p := m.plain()
		out.PlainHeld += one(p.ratio > 1)
		out.PlainNamed += one(p.ratio > 1 && slices.ContainsFunc(p.named(s), is))
		out.PlainAlike += one(p.ratio > plainLimit)
		out.LiftedAlone += one(v.Lift && p.ratio > 1)
		if x.patterns != nil {
			out.Optimum += one(m.ratio(x.structure, c) > optimum)
		}
	}
	return nil
}

// plainly is what the plain rule says of a station.
type plainly struct {
	ratio   float64 // the largest normalised residual over its limit
	alike   []int   // the reading it names, and those within 1.0 of it
	station culprit.Station
}

// plainRisk is the risk of the plain rule a station.
const plainRisk = 0.02

func (m misfit) plain() plainly {
	p := plainly{station: m.station}
	n := len(m.station.Readings)
	sd, limit := m.station.Noise(), precision.NormalLimit(plainRisk/float64(n))
	if m.station.Sigma <= 0 {
		sd, limit = m.f.S0, precision.TauLimit(plainRisk, n, m.f.Dof)
	}
	if !(sd > 0) {
		return p
	}
	w := make([]float64, n)
	for k, v := range m.f.Residuals {
		if r := m.f.Redundancy[k]; r > 1e-9 {
			w[k] = math.Abs(v) / math.Sqrt(r) / sd
		}
	}
	most := slices.Max(w)
	for k := range w {
		if w[k] > most-1 {
			p.alike = append(p.alike, k)
		}
	}
	p.ratio = most / limit
	return p
}

// named returns what the plain rule tells as suspects.
func (p plainly) named(s booking.Setup) []culprit.Suspect {
	var list []culprit.Suspect
	for _, k := range p.alike {
		q := p.station.Readings[k]
		face := reduce.FL
		if q.Face == reduce.FR {
			face = reduce.FR
		}
		list = append(list, culprit.Suspect{Round: q.Round, Target: s.Spec.Names()[q.Target], Face: face, Closing: q.Closing})
	}
	return list
}
