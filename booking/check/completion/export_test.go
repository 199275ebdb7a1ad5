package completion

// At returns the i-th interval, 0 ≤ i < Intervals().
func (s *Set) At(i int) interval { return s.in[i] }
