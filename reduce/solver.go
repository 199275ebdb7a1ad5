package reduce

import (
	"fmt"
	"math"
	"strings"
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
	sign          float64 // +1 face left, −1 face right, 0 mean of both
	value         Angle   // on the face-left frame
}

// solver is the least-squares adjustment of directions with one orientation per
// round, eliminated beforehand, and on request one collimation for all. Its
// slices are kept from call to call.
type solver struct {
	rounds, targets int
	unknowns        int // targets − 1, and one more with collimation
	rays            []ray
	orient, dir     []Angle   // approximations
	off             []Angle   // sum of observed − approximation per target, exact
	roundOK, tgtOK  []bool    // approximated, and so connected
	y               []float64 // seconds: observed − approximation, per ray
	n               []float64 // rays per round
	sum             []float64 // rounds × unknowns: coefficient sums of a round
	ysum            []float64 // sum of y per round
	normal          []float64 // unknowns²; after solve its Cholesky factor L, with 1/L_jj on the diagonal
	rhs             []float64 // right-hand side, the solution in seconds after solve
	shift           []float64 // seconds to add to an orientation
	fixed           bool      // the collimation could not be told from the rest
}

func (s *solver) reset(rounds, targets, unknowns int) {
	s.rounds, s.targets, s.unknowns = rounds, targets, unknowns
	s.rays, s.fixed = s.rays[:0], false
	s.orient, s.dir, s.off = sized(s.orient, rounds), sized(s.dir, targets), sized(s.off, targets)
	s.roundOK, s.tgtOK = sized(s.roundOK, rounds), sized(s.tgtOK, targets)
	s.n, s.ysum, s.shift = sized(s.n, rounds), sized(s.ysum, rounds), sized(s.shift, rounds)
	s.sum, s.normal = sized(s.sum, rounds*unknowns), sized(s.normal, unknowns*unknowns)
	s.rhs = sized(s.rhs, unknowns)
}

// sized returns a zeroed slice of length n, using the space of x where it can.
func sized[T any](x []T, n int) []T {
	if cap(x) < n {
		return make([]T, n)
	}
	x = x[:n]
	clear(x)
	return x
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
				s.dir[r.target] = (r.value - s.orient[r.round]).Normalize()
				s.tgtOK[r.target], again = true, true
			case to && !ro:
				s.orient[r.round] = (r.value - s.dir[r.target]).Normalize()
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
	s.y = sized(s.y, len(s.rays))
	for k, r := range s.rays {
		off := unwrapped(r.value - s.orient[r.round] - s.dir[r.target])
		s.off[r.target] += off
		s.y[k] = off.Seconds()
	}
	return nil
}

// unwrapped returns a turned by whole circles into (−135°, 225°]. A reading booked
// under the other face is half a circle off: all that belong together fall on one
// side, where Wrap would throw them to both.
func unwrapped(a Angle) Angle {
	const middle = QuarterTurn / 2
	return (a - middle).Wrap() + middle
}

// add takes one observation on; the value may be any number of turns out.
func (s *solver) add(r ray) {
	if r.value < 0 || r.value >= Turn {
		r.value = r.value.Normalize()
	}
	s.rays = append(s.rays, r)
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
			s.normal[j*m+j]++
			s.rhs[j] += s.y[k]
		}
		if c := s.targets - 1; c < m {
			s.sum[r.round*m+c] += r.sign
			s.rhs[c] += r.sign * s.y[k]
			s.normal[c*m+c] += r.sign * r.sign
			if j := r.target - 1; j >= 0 {
				s.normal[c*m+j] += r.sign
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
			f := a / n
			less(s.normal[j*m:j*m+j+1], row, f)
			s.rhs[j] -= f * s.ysum[i]
		}
	}
}

// solve factors the normal equations and leaves the solution in rhs and shift.
// A collimation that nothing determines is held at 0.
func (s *solver) solve() {
	m := s.unknowns
	for j := range m {
		row := s.normal[j*m : j*m+j+1]
		whole := row[j]
		for k := range j {
			other := s.normal[k*m : k*m+k+1]
			f := (row[k] - dot(row[:k], other)) * other[k]
			row[k] = f
			row[j] -= f * f
		}
		if row[j] <= 1e-10*max(whole, 1) {
			s.fixed = true
			s.rhs[j] = 0
			clear(row[:j])
			row[j] = 0 // holds the unknown and its cofactors at zero
			continue
		}
		row[j] = 1 / math.Sqrt(row[j])
	}
	s.forward(s.rhs, 0)
	s.backward(s.rhs, 0)
	for i, n := range s.n {
		if n == 0 {
			continue
		}
		s.shift[i] = (s.ysum[i] - dot(s.sum[i*m:i*m+m], s.rhs)) / n
	}
}

// forward replaces b by L⁻¹b; what stands before place from is 0.
func (s *solver) forward(b []float64, from int) {
	m := s.unknowns
	for j := from; j < m; j++ {
		row := s.normal[j*m : j*m+j+1]
		b[j] = (b[j] - dot(row[from:j], b[from:])) * row[j]
	}
}

// backward replaces the places of b from `from` on by those of L⁻ᵀb.
func (s *solver) backward(b []float64, from int) {
	m := s.unknowns
	for j := m - 1; j >= from; j-- {
		row := s.normal[j*m : j*m+j+1]
		x := b[j] * row[j]
		b[j] = x
		less(b[from:j], row[from:], x)
	}
}

// dot returns the sum of the products of a and as much of b.
func dot(a, b []float64) float64 {
	b = b[:len(a)]
	sum := 0.0
	for i, x := range a {
		sum += x * b[i]
	}
	return sum
}

// less takes f times as much of b off a.
func less(a, b []float64, f float64) {
	b = b[:len(a)]
	for i := range a {
		a[i] -= f * b[i]
	}
}

// residual returns adjusted − observed of ray k in seconds.
func (s *solver) residual(k int) float64 {
	r := s.rays[k]
	v := s.shift[r.round] - s.y[k]
	if r.target > 0 {
		v += s.rhs[r.target-1]
	}
	if c := s.targets - 1; c < s.unknowns {
		v += r.sign * s.rhs[c]
	}
	return v
}

// inverse leaves the cofactors of the unknowns in q, an m × m matrix.
func (s *solver) inverse(q []float64) {
	m := s.unknowns
	for j := range m {
		col := q[j*m : j*m+m]
		clear(col[j:])
		col[j] = 1
		s.forward(col, j)
		s.backward(col, j)
		for l := j + 1; l < m; l++ {
			q[l*m+j] = col[l]
		}
	}
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
