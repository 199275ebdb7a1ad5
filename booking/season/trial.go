package season

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/check/culprit"
	"example.org/readback/reduce/faces"
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
	Plain, Alike               rival // the plain rule at its own risk, and at the verdict's
	Optimum                    int   // held by the optimum; of those tried
}

// A rival is another rule on the same stations: what it holds and names, and how the
// stations go on which the two part.
type rival struct {
	Held, Named           int
	HeldAlone, LiftsAlone int // held by it and lifted here, and the other way round
	NamedAlone, Unnamed   int // named by it and not here, and the other way round
}

func (r *rival) see(held, named, here, namedHere bool) {
	r.Held += one(held)
	r.Named += one(named)
	r.HeldAlone += one(held && !here)
	r.LiftsAlone += one(here && !held)
	r.NamedAlone += one(named && !namedHere)
	r.Unnamed += one(namedHere && !named)
}

func (r rival) plus(o rival) rival {
	return rival{r.Held + o.Held, r.Named + o.Named, r.HeldAlone + o.HeldAlone, r.LiftsAlone + o.LiftsAlone, r.NamedAlone + o.NamedAlone, r.Unnamed + o.Unnamed}
}

// parts tells whether the rules have parted on any station.
func (r rival) parts() bool { return r.HeldAlone+r.LiftsAlone+r.NamedAlone+r.Unnamed > 0 }

// behind returns by how many stations of a hundred the verdict holds (names) fewer
// than the rival, and the standard error of that: the stations are the same, so that
// only those count on which the two part.
func behind(rival, here, n int) (points, se float64) {
	d, m := float64(rival-here), float64(max(n, 1))
	return 100 * d / m, 100 * math.Sqrt(math.Max(float64(rival+here)-d*d/m, 0)) / m
}

// An outcome is what became of the stations of a cell.
type outcome struct {
	Cell    Cell
	Sound   sound
	Spoiled []spoiled // by the places of the spoilers
}

// Try judges sound stations of the cell, and spoiled ones of every spoiler, so many
// from each of the seeds. Where the first quarter of the spoiled ones shows no
// station on which the verdict and the plain rule part, no more are tried.
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
		for _, part := range [][2]int{{0, (wrong + 3) / 4}, {(wrong + 3) / 4, wrong}} {
			for _, seed := range seeds {
				if err := c.trySpoiled(&t.Spoiled[i], x, limits.plain, limits.optimum[i], part, seed); err != nil {
					return t, err
				}
			}
			if !t.rival(i).parts() {
				break
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
	risk := float64(s.Held) / float64(max(s.N, 1))
	l.plain = beyond(l.plains, risk)
	for i := range l.ratios {
		l.optimum[i] = beyond(l.ratios[i], risk)
	}
}

// beyond returns the value that this share of the values exceeds.
func beyond(values []float64, share float64) float64 {
	if len(values) == 0 {
		return math.Inf(1)
	}
	slices.Sort(values)
	return values[max(len(values)-1-int(math.Round(share*float64(len(values)))), 0)]
}

// random returns the random numbers of the cell for one purpose: no cell has those
// of another.
func (c Cell) random(seed uint64, purpose string) *rand.Rand {
	h := fnv.New64a()
	fmt.Fprint(h, c, purpose)
	return rand.New(rand.NewPCG(seed, h.Sum64()))
}

// optimumSees is of how many sound stations of a seed the optimum takes its limit.
const optimumSees = 500

func (c Cell) trySound(out *sound, l *limits, spoilers []spoiler, n int, seed uint64) error {
	rng := c.random(seed, "sound")
	for k := range n {
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
			if x.patterns != nil && k < optimumSees {
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

// trySpoiled tries the stations of a seed from one number to another.
func (c Cell) trySpoiled(out *spoiled, x spoiler, plainLimit, optimum float64, part [2]int, seed uint64) error {
	for k := part[0]; k < part[1]; k++ {
		rng := c.random(seed, fmt.Sprint(x.Name, k))
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
		told := slices.ContainsFunc(p.named(s), is)
		out.Plain.see(p.ratio > 1, p.ratio > 1 && told, !v.Lift, right)
		out.Alike.see(p.ratio > plainLimit, p.ratio > plainLimit && told, !v.Lift, right)
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
		face := faces.FL
		if q.Face == faces.FR {
			face = faces.FR
		}
		list = append(list, culprit.Suspect{Round: q.Round, Target: s.Spec.Names()[q.Target], Face: face, Closing: q.Closing})
	}
	return list
}
