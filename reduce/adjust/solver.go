package adjust

import (
	"fmt"
	"strings"

	"example.org/readback/reduce"
	"example.org/readback/reduce/normal"
)

// A DisconnectedError says that targets were never seen in the same round as the
// group of the reference object, directly or through other rounds, so that no
// direction to them follows from the readings.
type DisconnectedError struct {
	Targets []int // their numbers, ascending; 0 is the reference object
}

// Error names the targets by number.
func (e *DisconnectedError) Error() string {
	names := make([]string, len(e.Targets))
	for i, t := range e.Targets {
		names[i] = fmt.Sprint(t)
	}
	return "no round ties target " + strings.Join(names, ", ") +
		" to the reference object: observe them in one round with it, or leave them out"
}

// ray is one observed direction: value = orientation + direction + sign · c.
type ray struct {
	round, target int
	sign          float64          // +1 face left, −1 face right, 0 mean of both
	value         reduce.Direction // on the face-left frame
}

// solver is the least-squares adjustment of directions with one orientation per
// round, eliminated beforehand, and on request one collimation for all.
type solver struct {
	rounds, targets int
	unknowns        int // targets − 1, and one more with collimation
	rays            []ray
	orient, dir     []reduce.Direction // approximations
	off             []reduce.Angle     // sum of observed − approximation per target, exact
	roundOK, tgtOK  []bool             // approximated, and so connected
	y               []float64          // seconds: observed − approximation, per ray
	n               []float64          // rays per round
	sum             []float64          // rounds × unknowns: coefficient sums of a round
	ysum            []float64          // sum of y per round
	normal          *normal.Matrix     // of the unknowns; factored by solve
	rhs             []float64          // right-hand side, the solution in seconds after solve
	shift           []float64          // seconds to add to an orientation
	fixed           bool               // the collimation could not be told from the rest
}

// newSolver has room for so many rays. Its numbers stand in one room: a file of readings
// has two systems for each setup.
func newSolver(rounds, targets, unknowns, rays int) *solver {
	room := make([]float64, 3*rounds+rounds*unknowns+unknowns)
	take := func(n int) (part []float64) {
		part, room = room[:n:n], room[n:]
		return part
	}
	return &solver{rounds: rounds, targets: targets, unknowns: unknowns, rays: make([]ray, 0, rays),
		orient: make([]reduce.Direction, rounds), dir: make([]reduce.Direction, targets), off: make([]reduce.Angle, targets),
		roundOK: make([]bool, rounds), tgtOK: make([]bool, targets),
		n: take(rounds), ysum: take(rounds), shift: take(rounds), sum: take(rounds * unknowns), rhs: take(unknowns), normal: normal.New(unknowns)}
}

// approximate walks from the reference object over the rounds to every target,
// and leaves in y what remains of each reading, wrapped about the full circle.
func (s *solver) approximate() error {
	s.tgtOK[0] = true
	for again := true; again; {
		again = false
		for _, r := range s.rays {
			switch ro, to := s.roundOK[r.round], s.tgtOK[r.target]; {
			case ro && !to:
				s.dir[r.target] = reduce.DirectionAt(r.value.Sub(s.orient[r.round]))
				s.tgtOK[r.target], again = true, true
			case to && !ro:
				s.orient[r.round] = reduce.DirectionAt(r.value.Sub(s.dir[r.target]))
				s.roundOK[r.round], again = true, true
			}
		}
	}
	var lost []int
	for j, ok := range s.tgtOK {
		if !ok {
			lost = append(lost, j)
		}
	}
	if lost != nil {
		return &DisconnectedError{Targets: lost}
	}
	s.y = make([]float64, len(s.rays))
	for k, r := range s.rays {
		off := unwrapped(r.value.Angle() - s.orient[r.round].Angle() - s.dir[r.target].Angle())
		s.off[r.target] += off
		s.y[k] = off.Seconds()
	}
	return nil
}

// unwrapped returns a turned by whole circles into (−135°, 225°]. A reading booked
// under the other face is half a circle off: all that belong together fall on one
// side, where Wrap would throw them to both.
func unwrapped(a reduce.Angle) reduce.Angle {
	const middle = reduce.QuarterTurn / 2
	return (a - middle).Wrap() + middle
}

// assemble builds the normal equations of the directions (and the collimation),
// the orientations eliminated: N = Σ a aᵀ − Σ over rounds S Sᵀ/n.
func (s *solver) assemble() {
	m := s.unknowns
	for k, r := range s.rays {
		s.n[r.round]++
		s.ysum[r.round] += s.y[k]
		if j := r.target - 1; j >= 0 {
			s.sum[r.round*m+j]++
			s.normal.Add(j, j, 1)
			s.rhs[j] += s.y[k]
		}
		if c := s.targets - 1; c < m {
			s.sum[r.round*m+c] += r.sign
			s.rhs[c] += float64(r.sign * s.y[k])
			s.normal.Add(c, c, r.sign*r.sign)
			if j := r.target - 1; j >= 0 {
				s.normal.Add(c, j, r.sign)
			}
		}
	}
	for i, n := range s.n {
		if n == 0 {
			continue
		}
		row := s.sum[i*m : i*m+m]
		for j, a := range row {
			if a == 0 {
				continue
			}
			s.normal.AddRow(j, row, -a/n)
			s.rhs[j] -= float64(a / n * s.ysum[i])
		}
	}
}

// undetermined is the part of its diagonal that the pivot of an unknown must keep.
const undetermined = 1e-10

// solve factors the normal equations and leaves the solution in rhs and shift.
// A collimation that nothing determines is held at 0.
func (s *solver) solve() {
	m := s.unknowns
	s.fixed = len(s.normal.Factor(undetermined)) > 0
	s.normal.Solve(s.rhs)
	for i, n := range s.n {
		if n == 0 {
			continue
		}
		s.shift[i] = (s.ysum[i] - product(s.sum[i*m:i*m+m], s.rhs)) / n
	}
}

// product returns the sum of the products of a and as much of b.
func product(a, b []float64) float64 {
	sum := 0.0
	for i, x := range a {
		sum += float64(x * b[i])
	}
	return sum
}

// residual returns adjusted − observed of ray k in seconds.
func (s *solver) residual(k int) float64 {
	r := s.rays[k]
	v := s.shift[r.round] - s.y[k]
	if r.target > 0 {
		v += s.rhs[r.target-1]
	}
	if c := s.targets - 1; c < s.unknowns {
		v += float64(r.sign * s.rhs[c])
	}
	return v
}

// freedom returns the degrees of freedom.
func (s *solver) freedom() int {
	dof := len(s.rays) - s.unknowns
	if s.fixed {
		dof++
	}
	for _, n := range s.n {
		if n > 0 {
			dof--
		}
	}
	return dof
}
