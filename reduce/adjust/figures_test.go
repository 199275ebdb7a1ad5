package adjust

import "math"

// What handbooks print of a station and no command does, for the tests.

// MeanSD returns S0/√n in seconds, n being the rounds target j was seen in: the
// published standard deviation of a mean direction, which is not that of the
// angle to the RO (SD). 0 where Dof is 0 or j is no target. [TRADE]
func (st *Station) MeanSD(j int) float64 {
	n := 0.0
	for _, r := range st.solver.rays {
		if r.target == j {
			n++
		}
	}
	if n == 0 {
		return 0
	}
	return st.S0 / math.Sqrt(n)
}

// Redundancy returns the redundancy number of sight k, between 0 and 1: the part
// of a slip in it that shows in its own residual. It is also the cofactor of that
// residual; in n complete rounds on t targets (n−1)(t−1)/(n·t). [M12]
func (st *Station) Redundancy(k int) float64 {
	s := st.solver
	r := s.rays[k]
	n, m := s.n[r.round], s.unknowns
	part := s.sum[r.round*m : r.round*m+m]
	h := 1 / n
	for a := range m {
		x := -part[a] / n
		if a == r.target-1 {
			x++
		}
		if x == 0 {
			continue
		}
		for b := range m {
			y := -part[b] / n
			if b == r.target-1 {
				y++
			}
			h += float64(x * y * st.cofactors.At(a, b))
		}
	}
	return max(0, 1-h)
}
