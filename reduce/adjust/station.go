package adjust

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"example.org/readback/reduce"
	"example.org/readback/reduce/normal"
)

// errSight is wrapped by the errors about sights that no adjustment can take: a
// number out of range, one pointing given twice.
var errSight = errors.New("sights do not make a station")

// A Sight is the mean of both faces on one target in one round. Rounds and
// targets are numbered from 0; target 0 is the reference object, whose opening
// and closing pointings count as one (see ReduceRound).
type Sight struct {
	Round, Target int
	Mean          reduce.Direction
}

// A Station holds adjusted directions and what is known about them. The model is
// m_ij = ω_i + D_j + v_ij with one orientation ω per round, D_0 = 0 and equal
// weights. [TRADE] [ISO]
type Station struct {
	Directions   []reduce.Direction // to the reference object, clockwise, [0°, 360°); the first is 0
	Orientations []reduce.Direction // of each round: the adjusted circle reading of the RO; 0 for a round without sights
	Residuals    []float64          // seconds, adjusted − observed, in the order of the sights
	Dof          int                // sights − rounds − (targets − 1)
	S0           float64            // seconds: standard deviation of one direction, both faces, one round; 0 where Dof is 0

	cofactors *normal.Matrix
	solver    *solver
}

// AdjustStation adjusts the sights of a station by least squares. Any pointing
// may be missing, the reference object's too. Complete rounds give the plain means of
// the reduced directions exactly, rounded half away from zero to one
// micro-arcsecond; for others the orientations are eliminated and the directions
// solved. Residuals are taken about the full circle. It returns a
// *DisconnectedError that names the targets that no chain of rounds ties to the
// RO, or an error wrapping errSight. [F16] [F24] [S1] [S2] [S13]
func Sights(sights []Sight, rounds, targets int) (*Station, error) {
	if rounds < 1 || targets < 1 {
		return nil, fmt.Errorf("%w: %d rounds on %d targets", errSight, rounds, targets)
	}
	s := newSolver(rounds, targets, targets-1, len(sights))
	for _, x := range sights {
		if x.Round < 0 || x.Round >= rounds || x.Target < 0 || x.Target >= targets {
			return nil, fmt.Errorf("%w: round %d, target %d is outside %d rounds on %d targets", errSight, x.Round, x.Target, rounds, targets)
		}
		s.rays = append(s.rays, ray{round: x.Round, target: x.Target, value: x.Mean})
	}
	if err := s.approximate(); err != nil {
		return nil, err
	}
	s.assemble()
	if err := s.oncePerRound(); err != nil {
		return nil, err
	}
	s.solve()
	return s.station(), nil
}

// station returns the station of a solved system.
func (s *solver) station() *Station {
	t := s.targets
	st := &Station{solver: s, cofactors: s.normal.Inverse(), Dof: s.freedom(), Directions: make([]reduce.Direction, t),
		Orientations: make([]reduce.Direction, s.rounds), Residuals: make([]float64, len(s.rays))}
	n, complete := s.completeRounds()
	for j := 1; j < t; j++ {
		if complete {
			st.Directions[j] = s.dir[j].MeanAbout(s.off[j]-s.off[0], int64(n))
			continue
		}
		st.Directions[j] = s.dir[j].Add(reduce.FromSeconds(s.rhs[j-1]))
	}
	for i := range st.Orientations {
		st.Orientations[i] = s.orient[i].Add(reduce.FromSeconds(s.shift[i]))
	}
	vv := 0.0
	for k := range st.Residuals {
		v := s.residual(k)
		st.Residuals[k] = v
		vv += float64(v * v)
	}
	if st.Dof > 0 {
		st.S0 = math.Sqrt(vv / float64(st.Dof)) // s₀² = [vv]/dof [TRADE] [ISO]
	}
	return st
}

// oncePerRound refuses a pointing that is given twice.
func (s *solver) oncePerRound() error {
	m := s.unknowns
	for i, n := range s.n {
		ro := n
		for j, a := range s.sum[i*m : i*m+m] {
			if a > 1 {
				return fmt.Errorf("%w: target %d is given %g times in round %d; give its mean", errSight, j+1, a, i)
			}
			ro -= a
		}
		if ro > 1 {
			return fmt.Errorf("%w: the reference object is given %g times in round %d; give its mean", errSight, ro, i)
		}
	}
	return nil
}

// completeRounds tells how many rounds were observed and whether each of them
// has every target.
func (s *solver) completeRounds() (n int, complete bool) {
	for _, got := range s.n {
		if got == 0 {
			continue
		}
		if got != float64(s.targets) {
			return 0, false
		}
		n++
	}
	return n, true
}

// cofactor returns the cofactor of directions j and k, in units of S0². The
// reference object's direction is 0 by definition and so are its cofactors; with
// n complete rounds Cofactor(j, j) is 2/n and Cofactor(j, k) is 1/n. A number
// that is no target gives 0.
func (st *Station) cofactor(j, k int) float64 {
	m := len(st.Directions) - 1
	if j < 1 || k < 1 || j > m || k > m {
		return 0
	}
	return st.cofactors.At(j-1, k-1)
}

// angleCofactor returns the cofactor of the angle from target j to target k, in
// units of S0²: q_jj + q_kk − 2 q_jk; 2/n with n complete rounds. [TRADE]
func (st *Station) angleCofactor(j, k int) float64 {
	return max(0, st.cofactor(j, j)+st.cofactor(k, k)-float64(2*st.cofactor(j, k)))
}

// SD returns the standard deviation in seconds of the angle from target j to
// target k, S0·√angleCofactor; SD(0, k) is that of direction k. 0 where Dof is 0.
func (st *Station) SD(j, k int) float64 { return st.S0 * math.Sqrt(st.angleCofactor(j, k)) }

// LeastRedundancy returns the smallest redundancy number of all sights, 1 where there
// is none: xᵀQx of each sight by way of Qp, with p what its round has in common.
func (st *Station) LeastRedundancy() float64 {
	s := st.solver
	m, least := s.unknowns, 1.0
	of, part := -1, []float64(nil)
	qp, pqp := make([]float64, m), 0.0
	for _, r := range s.rays {
		n := s.n[r.round]
		if p := s.sum[r.round*m : r.round*m+m]; r.round != of && !slices.Equal(p, part) { // rounds that see every target have the same
			part, pqp = p, st.common(p, qp)
		}
		of = r.round
		h := 1/n + pqp/(n*n)
		if a := r.target - 1; a >= 0 {
			h += st.cofactors.At(a, a) - 2*qp[a]/n
		}
		least = min(least, max(0, 1-h))
	}
	return least
}

// common puts Qp into qp and returns pᵀQp.
func (st *Station) common(p, qp []float64) (pqp float64) {
	for a := range p {
		qp[a] = 0
		for b := range p {
			qp[a] += float64(st.cofactors.At(a, b) * p[b])
		}
		pqp += float64(p[a] * qp[a])
	}
	return pqp
}
