package adjust

import (
	"fmt"
	"math"
	"slices"

	"example.org/readback/reduce"
)

// A FaceReading is one horizontal circle reading on one face. Rounds and targets
// are numbered from 0; target 0 is the reference object. A pointing observed again
// (the RO closing a half) is one more reading with the same numbers.
type Reading struct {
	Round, Target int
	Face          reduce.Face // FL or FR
	Value         reduce.Direction
}

// Faces holds the adjustment of single readings: FL = ω_i + D_j + c and
// FR = ω_i + D_j ± 180° − c, one orientation ω per round, one collimation c for
// the setup, D_0 = 0, equal weights. It serves the search for a faulty reading:
// the residuals are v = −Q·e for errors e of the readings, with Q the cofactors
// of the residuals. [TRADE]
type Faces struct {
	Directions       []reduce.Direction // to the reference object, [0°, 360°); the first is 0
	Orientations     []reduce.Direction // of each round, [0°, 360°); 0 for a round without readings
	Collimation      float64            // seconds; positive: face left reads high
	CollimationKnown bool               // false where no reading tells c from the rest; then it is taken as 0
	Residuals        []float64          // seconds, adjusted − observed, in the order of the readings
	Redundancy       []float64          // of each reading, 0 to 1: the part of a slip in it that its own residual shows; the diagonal of Q
	VV               float64            // seconds²: sum of the squared residuals
	Dof              int                // complete: 2nt − n − (t−1) − 1
	S0               float64            // seconds: standard deviation of one reading on one face; 0 where Dof is 0

	solver *solver
	class  []int     // of each reading: those of one target and face in rounds that see alike have one
	shared []float64 // classes × classes: aᵀN⁻¹a′ of two classes, a less S/n
	n      int       // classes
}

// AdjustFaces adjusts single readings by least squares. Any of them may be
// missing. It returns a *DisconnectedError that names the targets that no chain
// of rounds ties to the RO, or an error wrapping errSight.
func Readings(rs []Reading, rounds, targets int) (*Faces, error) {
	if rounds < 1 || targets < 1 {
		return nil, fmt.Errorf("%w: %d rounds on %d targets", errSight, rounds, targets)
	}
	s := newSolver(rounds, targets, targets)
	for _, x := range rs {
		if x.Round < 0 || x.Round >= rounds || x.Target < 0 || x.Target >= targets {
			return nil, fmt.Errorf("%w: round %d, target %d is outside %d rounds on %d targets", errSight, x.Round, x.Target, rounds, targets)
		}
		r := ray{round: x.Round, target: x.Target, sign: 1, value: x.Value}
		if x.Face == reduce.FR {
			r.sign, r.value = -1, x.Value.Opposite()
		}
		s.rays = append(s.rays, r)
	}
	if err := s.approximate(); err != nil {
		return nil, err
	}
	s.assemble()
	s.solve()
	return s.faces(), nil
}

// faces returns the faces of a solved system.
func (s *solver) faces() *Faces {
	t, m, n := s.targets, s.unknowns, len(s.rays)
	f := &Faces{solver: s, Dof: s.freedom(), Collimation: s.rhs[m-1], CollimationKnown: !s.fixed,
		Directions: make([]reduce.Direction, t), Orientations: make([]reduce.Direction, s.rounds),
		Residuals: make([]float64, n), Redundancy: make([]float64, n)}
	for j := 1; j < t; j++ {
		f.Directions[j] = s.dir[j].Add(reduce.FromSeconds(s.rhs[j-1]))
	}
	for i := range f.Orientations {
		f.Orientations[i] = s.orient[i].Add(reduce.FromSeconds(s.shift[i]))
	}
	f.share()
	for k := range s.rays {
		f.Residuals[k] = s.residual(k)
		f.VV += float64(f.Residuals[k] * f.Residuals[k])
		f.Redundancy[k] = max(0, f.ResidualCofactor(k, k))
	}
	if f.Dof > 0 {
		f.S0 = math.Sqrt(f.VV / float64(f.Dof))
	}
	return f
}

// share finds the classes of the readings and what every two of them have in
// common, by way of L⁻¹(a − S/n) of each.
func (f *Faces) share() {
	s := f.solver
	m := s.unknowns
	pattern := make([]int, s.rounds) // the first round that sees alike
	for i := range pattern {
		for s.n[pattern[i]] != s.n[i] || !slices.Equal(s.sum[pattern[i]*m:pattern[i]*m+m], s.sum[i*m:i*m+m]) {
			pattern[i]++
		}
	}
	number := make([]int, 2*s.rounds*s.targets)
	f.class = make([]int, len(s.rays))
	var whiten []float64
	for k, r := range s.rays {
		at := &number[2*(pattern[r.round]*s.targets+r.target)]
		if r.sign < 0 {
			at = &number[2*(pattern[r.round]*s.targets+r.target)+1]
		}
		if *at == 0 {
			f.n++
			*at = f.n
			whiten = append(whiten, make([]float64, m)...)
			s.whiten(whiten[len(whiten)-m:], r)
		}
		f.class[k] = *at - 1
	}
	f.shared = make([]float64, f.n*f.n)
	for a := range f.n {
		for b := range a + 1 {
			x := product(whiten[a*m:a*m+m], whiten[b*m:b*m+m])
			f.shared[a*f.n+b], f.shared[b*f.n+a] = x, x
		}
	}
}

// whiten puts L⁻¹(a − S/n) of a ray into b.
func (s *solver) whiten(b []float64, r ray) {
	m := s.unknowns
	for j, a := range s.sum[r.round*m : r.round*m+m] {
		b[j] = -a / s.n[r.round]
	}
	if r.target > 0 {
		b[r.target-1]++
	}
	b[m-1] += r.sign
	s.normal.Forward(b)
}

// ResidualCofactor returns element k, l of Q = I − A N⁻¹ Aᵀ, the cofactors of the
// residuals. An error e″ in reading l changes residual k by −Q_kl·e. k and l are
// places in the list of readings. [M12]
func (f *Faces) ResidualCofactor(k, l int) float64 {
	s := f.solver
	q := 0.0
	if k == l {
		q = 1
	}
	if i := s.rays[k].round; i == s.rays[l].round {
		q -= 1 / s.n[i]
	}
	return q - f.shared[f.class[k]*f.n+f.class[l]]
}

// ResidualCofactors puts row k of Q into row: see ResidualCofactor.
func (f *Faces) ResidualCofactors(k int, row []float64) {
	s := f.solver
	shared, round := f.shared[f.class[k]*f.n:f.class[k]*f.n+f.n], s.rays[k].round
	for l, c := range f.class {
		row[l] = 0 - shared[c]
		if s.rays[l].round == round {
			row[l] = f.ResidualCofactor(k, l)
		}
	}
}
