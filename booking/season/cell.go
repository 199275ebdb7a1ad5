package season

import (
	"fmt"
	"math"
	"math/rand/v2"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/check/culprit"
	"example.org/readback/booking/observer"
	"example.org/readback/reduce"
)

// A Cell is one instrument and one programme that the verdict is tried on.
type Cell struct {
	Sigma      float64 // seconds: of one direction on both faces in one round
	LeastCount reduce.Angle
	Targets    int // the RO not counted
	Rounds     int
	Stated     bool // the crew states Sigma
}

// Cells are the instruments and programmes of the table: σ 1, 2, 5″; least count 1,
// 5, 10″ and 0.1 mgon; 3, 5, 8 targets; 2, 3, 4 rounds; σ stated and not.
func Cells() []Cell {
	var list []Cell
	for _, stated := range []bool{true, false} {
		for _, sigma := range []float64{1, 2, 5} {
			for _, lc := range []reduce.Angle{reduce.Arcsecond, 5 * reduce.Arcsecond, 10 * reduce.Arcsecond, reduce.Milligon / 10} {
				for _, targets := range []int{3, 5, 8} {
					for _, rounds := range []int{2, 3, 4} {
						list = append(list, Cell{sigma, lc, targets, rounds, stated})
					}
				}
			}
		}
	}
	return list
}

// String names the cell.
func (c Cell) String() string {
	unit := reduce.DMS
	if c.gon() {
		unit = reduce.GonUnit
	}
	stated := "stated"
	if !c.Stated {
		stated = "not stated"
	}
	return fmt.Sprintf("σ %g″ %s, least count %s, %d targets, %d rounds", c.Sigma, stated, c.LeastCount.FormatSize(unit), c.Targets, c.Rounds)
}

func (c Cell) gon() bool { return c.LeastCount%reduce.Arcsecond != 0 }

// observer returns an observer on a station of the cell.
func (c Cell) observer(rng *rand.Rand, faults ...observer.Fault) *observer.Observer {
	o := observer.Options{
		Seed: rng.Uint64(), Targets: c.Targets, Rounds: c.Rounds, LeastCount: c.LeastCount,
		Sigma: reduce.FromSeconds(c.Sigma * math.Sqrt2), CloseHalves: rng.IntN(2) == 0, Hilly: true, Faults: faults,
	}
	if !c.Stated {
		o.Stated = -1
	}
	if c.gon() {
		o.Unit = reduce.GonUnit
	}
	return observer.New(o)
}

// sound is what became of sound stations.
type sound struct {
	N, Held, Named int
	By             map[string]int // held, by the name of the check
}

// TrySound judges n sound stations of the cell.
func (c Cell) TrySound(n int, seed uint64) (sound, error) {
	rng := rand.New(rand.NewPCG(seed, 77))
	out := sound{N: n, By: map[string]int{}}
	for range n {
		s, err := c.observer(rng).Book()
		if err != nil {
			return out, err
		}
		v := check.Judge(s)
		out.Held += one(!v.Lift)
		out.Named += one(len(v.Culprits.Suspects) > 0)
		seen := map[string]bool{}
		for _, x := range v.Checks {
			if !x.Met && !seen[x.Name] {
				seen[x.Name] = true
				out.By[x.Name]++
			}
		}
	}
	return out, nil
}

// A spoiler makes one thing go wrong in a station: it returns the faults, and tells
// whether a suspect is what went wrong.
type spoiler struct {
	Name string
	make func(c Cell, rng *rand.Rand) (faults []observer.Fault, at func(s booking.Setup, x culprit.Suspect) bool)
}

// Spoilers are the slips of the table.
func Spoilers() []spoiler {
	var list []spoiler
	for _, size := range []float64{10, 15, 20, 30, 60} {
		list = append(list, spoiler{fmt.Sprintf("one reading %g″ off", size), oneOff(size)})
	}
	return append(list,
		spoiler{"digits exchanged", func(c Cell, rng *rand.Rand) ([]observer.Fault, func(booking.Setup, culprit.Suspect) bool) {
			f := c.place(rng)
			f.Exchanged = true
			return []observer.Fault{f}, at(f)
		}},
		spoiler{"wrong target, one face", func(c Cell, rng *rand.Rand) ([]observer.Fault, func(booking.Setup, culprit.Suspect) bool) {
			f := c.place(rng)
			f.Sighted = c.other(rng, f.Target)
			return []observer.Fault{f}, at(f)
		}},
		spoiler{"wrong target, both faces", func(c Cell, rng *rand.Rand) ([]observer.Fault, func(booking.Setup, culprit.Suspect) bool) {
			f := c.place(rng)
			f.Face, f.Sighted = booking.NoFace, c.other(rng, f.Target)
			return []observer.Fault{f}, at(f)
		}},
		spoiler{"a pair 14 σ off", func(c Cell, rng *rand.Rand) ([]observer.Fault, func(booking.Setup, culprit.Suspect) bool) {
			f := c.place(rng)
			f.Face, f.By = booking.NoFace, c.size(rng, 14*math.Sqrt2*c.Sigma)
			return []observer.Fault{f}, at(f)
		}},
		spoiler{"a half shifted 14 σ", func(c Cell, rng *rand.Rand) ([]observer.Fault, func(booking.Setup, culprit.Suspect) bool) {
			f := observer.Fault{Round: 1 + rng.IntN(c.Rounds), Face: face(rng), By: c.size(rng, 14*math.Sqrt2*c.Sigma)}
			return []observer.Fault{f}, inRound(f.Round)
		}},
		spoiler{"a kick of 14 σ", func(c Cell, rng *rand.Rand) ([]observer.Fault, func(booking.Setup, culprit.Suspect) bool) {
			f := observer.Fault{Round: 1 + rng.IntN(c.Rounds), Face: face(rng), From: 2 + rng.IntN(c.Targets-1), By: c.size(rng, 14*math.Sqrt2*c.Sigma)}
			faults := []observer.Fault{f}
			if f.Face == booking.FL { // what turned on face left stays turned on face right
				faults = append(faults, observer.Fault{Round: f.Round, Face: booking.FR, By: f.By})
			}
			return faults, inRound(f.Round)
		}},
		spoiler{"a drift of 2 σ a sight", func(c Cell, rng *rand.Rand) ([]observer.Fault, func(booking.Setup, culprit.Suspect) bool) {
			return []observer.Fault{{Each: c.size(rng, 2*math.Sqrt2*c.Sigma)}}, func(booking.Setup, culprit.Suspect) bool { return true }
		}},
		spoiler{"the RO alone 30″ off", func(c Cell, rng *rand.Rand) ([]observer.Fault, func(booking.Setup, culprit.Suspect) bool) {
			f := observer.Fault{Round: 1 + rng.IntN(c.Rounds), Face: face(rng), Target: c.names(rng)[0], By: c.size(rng, 30)}
			return []observer.Fault{f}, at(f)
		}},
		spoiler{"two readings 30″ off", func(c Cell, rng *rand.Rand) ([]observer.Fault, func(booking.Setup, culprit.Suspect) bool) {
			f, g := c.place(rng), c.place(rng)
			f.By, g.By = c.size(rng, 30), c.size(rng, 30)
			return []observer.Fault{f, g}, func(s booking.Setup, x culprit.Suspect) bool { return at(f)(s, x) || at(g)(s, x) }
		}},
	)
}

func oneOff(size float64) func(c Cell, rng *rand.Rand) ([]observer.Fault, func(booking.Setup, culprit.Suspect) bool) {
	return func(c Cell, rng *rand.Rand) ([]observer.Fault, func(booking.Setup, culprit.Suspect) bool) {
		f := c.place(rng)
		f.By = c.size(rng, size)
		return []observer.Fault{f}, at(f)
	}
}

// names returns the names of the cell's stations, the RO first: they are the same
// for every seed.
func (c Cell) names(*rand.Rand) []string {
	return observer.New(observer.Options{Targets: c.Targets}).Spec.Names()
}

// place draws one reading.
func (c Cell) place(rng *rand.Rand) observer.Fault {
	ns := c.names(rng)
	return observer.Fault{Round: 1 + rng.IntN(c.Rounds), Face: face(rng), Target: ns[1+rng.IntN(len(ns)-1)]}
}

func (c Cell) other(rng *rand.Rand, target string) string {
	for ns := c.names(rng); ; {
		if n := ns[rng.IntN(len(ns))]; n != target {
			return n
		}
	}
}

func (c Cell) size(rng *rand.Rand, seconds float64) reduce.Angle {
	if rng.IntN(2) == 0 {
		seconds = -seconds
	}
	return reduce.FromSeconds(seconds)
}

func face(rng *rand.Rand) booking.Face {
	if rng.IntN(2) == 0 {
		return booking.FL
	}
	return booking.FR
}

// at tells whether a suspect is the reading of a fault, as far as it is told.
func at(f observer.Fault) func(booking.Setup, culprit.Suspect) bool {
	return func(s booking.Setup, x culprit.Suspect) bool {
		return x.Target == f.Target && (x.Round == 0 || x.Round == f.Round) && (f.Face == booking.NoFace || x.Face == "" || string(x.Face) == f.Face.String())
	}
}

func inRound(round int) func(booking.Setup, culprit.Suspect) bool {
	return func(s booking.Setup, x culprit.Suspect) bool { return x.Round == 0 || x.Round == round }
}

// spoiled is what became of spoiled stations, beside the plain rule: the largest
// normalised residual of the per-face model, Pope's where σ is not stated, at two
// in a hundred a station.
type spoiled struct {
	N, Held, Named, WrongAlone int
	PlainHeld, PlainNamed      int
	LiftedAlone                int // lifted here, held by the plain rule
}

// TrySpoiled judges n stations of the cell in which one thing went wrong.
func (c Cell) TrySpoiled(x spoiler, n int, seed uint64) (spoiled, error) {
	rng := rand.New(rand.NewPCG(seed, 78))
	out := spoiled{N: n}
	for range n {
		faults, isIt := x.make(c, rng)
		s, err := c.observer(rng, faults...).Book()
		if err != nil {
			return out, err
		}
		v := check.Judge(s)
		right := false
		for _, q := range v.Culprits.Suspects {
			right = right || isIt(s, q)
		}
		out.Held += one(!v.Lift)
		out.Named += one(right)
		out.WrongAlone += one(len(v.Culprits.Suspects) > 0 && !right)
		held, k := plain(check.FaceReadings(s), s.Spec.Instrument)
		out.PlainHeld += one(held)
		if held {
			q := check.FaceReadings(s).Readings[k]
			out.PlainNamed += one(isIt(s, culprit.Suspect{Round: q.Round, Target: s.Spec.Names()[q.Target], Face: faceOf(q.Right), Closing: q.Closing}))
		}
		out.LiftedAlone += one(v.Lift && held)
	}
	return out, nil
}

func faceOf(right bool) culprit.Face {
	if right {
		return culprit.FaceRight
	}
	return culprit.FaceLeft
}

// plain is the plain rule.
func plain(st culprit.Station, i booking.Instrument) (held bool, reading int) {
	k, w, dof, ok := culprit.LargestResidual(st)
	if !ok {
		return false, 0
	}
	const risk = 0.02
	n := len(st.Readings)
	if st.Sigma > 0 {
		return w/st.Noise() > reduce.NormalLimit(risk/float64(n)), k
	}
	return w > reduce.TauLimit(risk, n, dof), k
}
