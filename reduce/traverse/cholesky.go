package traverse

import (
	"errors"
	"math"
)

// ErrUndetermined is returned by Adjust where the observations do not fix every
// point.
var ErrUndetermined = errors.New("the observations do not fix every point: an angle or a length is missing")

// normal holds the lower triangle of a symmetric matrix of order n, row by row.
type normal struct {
	n int
	a []float64
}

func newNormal(n int) *normal { return &normal{n, make([]float64, n*(n+1)/2)} }

// at returns the place of row i, column j; i must not be less than j.
func (m *normal) at(i, j int) *float64 { return &m.a[i*(i+1)/2+j] }

// factor replaces m by its Cholesky factor. A pivot that loses all but 10⁻¹² of
// its size marks an undetermined unknown.
func (m *normal) factor() error {
	for i := 0; i < m.n; i++ {
		size := *m.at(i, i)
		for j := 0; j <= i; j++ {
			sum := *m.at(i, j)
			for k := 0; k < j; k++ {
				sum -= *m.at(i, k) * *m.at(j, k)
			}
			if i != j {
				*m.at(i, j) = sum / *m.at(j, j)
				continue
			}
			if !(sum > size*1e-12) {
				return ErrUndetermined
			}
			*m.at(i, i) = math.Sqrt(sum)
		}
	}
	return nil
}

// solve replaces b by the solution, m being factored.
func (m *normal) solve(b []float64) {
	for i := 0; i < m.n; i++ {
		for k := 0; k < i; k++ {
			b[i] -= *m.at(i, k) * b[k]
		}
		b[i] /= *m.at(i, i)
	}
	for i := m.n - 1; i >= 0; i-- {
		for k := i + 1; k < m.n; k++ {
			b[i] -= *m.at(k, i) * b[k]
		}
		b[i] /= *m.at(i, i)
	}
}

// inverse returns the inverse of the matrix that m is the factor of, full.
func (m *normal) inverse() [][]float64 {
	out := make([][]float64, m.n)
	for j := range out {
		out[j] = make([]float64, m.n)
		out[j][j] = 1
		m.solve(out[j])
	}
	return out
}
