package completion

// At returns the i-th interval, 0 ≤ i < Intervals().
func (s *Set) At(i int) Interval { return s.in[i] }
