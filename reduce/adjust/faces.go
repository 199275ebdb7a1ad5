package adjust

import (
	"fmt"
	"math"

	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// A FaceReading is one horizontal circle reading on one face. Rounds and targets
// are numbered from 0; target 0 is the reference object. A pointing observed again
// (the RO closing a half) is one more reading with the same numbers.
type Reading struct {
	Round, Target int
	Face          faces.Face // FL or FR
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
	Q                Cofactors          // of the residuals: an error e″ in reading l changes residual k by −Q_kl·e
}

// AdjustFaces adjusts single readings by least squares. Any of them may be
// missing. It returns a *DisconnectedError that names the targets that no chain
// of rounds ties to the RO, or an error wrapping errSight.
func Readings(rs []Reading, rounds, targets int) (*Faces, error) {
	if rounds < 1 || targets < 1 {
		return nil, fmt.Errorf("%w: %d rounds on %d targets", errSight, rounds, targets)
	}
	s := newSolver(rounds, targets, targets, len(rs))
	for _, x := range rs {
		if x.Round < 0 || x.Round >= rounds || x.Target < 0 || x.Target >= targets {
			return nil, fmt.Errorf("%w: round %d, target %d is outside %d rounds on %d targets", errSight, x.Round, x.Target, rounds, targets)
		}
		r := ray{round: x.Round, target: x.Target, sign: 1, value: x.Value}
		if x.Face == faces.FR {
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
	f := &Faces{Dof: s.freedom(), Collimation: s.rhs[m-1], CollimationKnown: !s.fixed,
		Directions: make([]reduce.Direction, t), Orientations: make([]reduce.Direction, s.rounds),
		Residuals: make([]float64, n), Redundancy: make([]float64, n)}
	for j := 1; j < t; j++ {
		f.Directions[j] = s.dir[j].Add(reduce.FromSeconds(s.rhs[j-1]))
	}
	for i := range f.Orientations {
		f.Orientations[i] = s.orient[i].Add(reduce.FromSeconds(s.shift[i]))
	}
	f.Q = s.cofactors()
	for k := range s.rays {
		f.Residuals[k] = s.residual(k)
		f.VV += float64(f.Residuals[k] * f.Residuals[k])
		f.Redundancy[k] = max(0, f.Q.At(k, k))
	}
	if f.Dof > 0 {
		f.S0 = math.Sqrt(f.VV / float64(f.Dof))
	}
	return f
}
