package normal

import "math"

// A Matrix holds the lower triangle of a symmetric matrix, and after Factor its
// Cholesky factor L, with 1/L_jj on the diagonal.
type Matrix struct {
	n     int
	first []int // per row: its first column kept; nil: all of them are 0
	start []int // per row: where column 0 would stand in a; nil with first
	a     []float64
}

// New returns a zero matrix of order n that keeps its whole lower triangle.
func New(n int) *Matrix { return &Matrix{n: n, a: make([]float64, n*(n+1)/2)} }

// Envelope returns a zero matrix with one row for each of first: row i keeps the
// columns first[i] to i. first is kept, not copied.
func Envelope(first []int) *Matrix {
	m := &Matrix{n: len(first), first: first, start: make([]int, len(first))}
	size := 0
	for i, f := range first {
		m.start[i] = size - f
		size += i + 1 - f
	}
	m.a = make([]float64, size)
	return m
}

// row returns the first column kept of row i, and its numbers from there to the
// diagonal.
func (m *Matrix) row(i int) (first int, a []float64) {
	if m.first == nil {
		at := i * (i + 1) / 2
		return 0, m.a[at : at+i+1]
	}
	first = m.first[i]
	return first, m.a[m.start[i]+first : m.start[i]+i+1]
}

// At returns the element i, j; 0 outside the envelope.
func (m *Matrix) At(i, j int) float64 {
	if i < j {
		i, j = j, i
	}
	first, a := m.row(i)
	if j < first {
		return 0
	}
	return a[j-first]
}

// Add adds x to the element i, j and to its mirror image, which are one. The
// place must lie inside the envelope.
func (m *Matrix) Add(i, j int, x float64) {
	if i < j {
		i, j = j, i
	}
	first, a := m.row(i)
	a[j-first] += float64(x) // a product made by the caller is not fused into the sum
}

// AddRow adds f times the vector x, up to the diagonal, to row i. Every place of
// x that is not 0 must lie inside the envelope.
func (m *Matrix) AddRow(i int, x []float64, f float64) {
	first, a := m.row(i)
	less(a, x[first:i+1], -f)
}

// Factor replaces m by its Cholesky factor. An unknown whose pivot keeps no more
// than the part least of its diagonal is determined by nothing: it is held at 0,
// it and its cofactors, and its number is returned.
func (m *Matrix) Factor(least float64) (held []int) {
	for i := range m.n {
		fi, row := m.row(i)
		whole := row[i-fi]
		pivot := whole
		for k := fi; k < i; k++ {
			fk, other := m.row(k)
			from := max(fi, fk)
			l := (row[k-fi] - dot(row[from-fi:k-fi], other[from-fk:])) * other[k-fk]
			row[k-fi] = l
			pivot -= float64(l * l)
		}
		if !(pivot > least*whole) {
			held = append(held, i)
			clear(row)
			continue
		}
		row[i-fi] = 1 / math.Sqrt(pivot)
	}
	return held
}

// Solve replaces b by the solution, m being factored.
func (m *Matrix) Solve(b []float64) {
	m.Forward(b)
	m.Backward(b)
}

// Forward replaces b by L⁻¹b. The inner product of two such vectors is their
// cofactor.
func (m *Matrix) Forward(b []float64) {
	from := 0
	for from < m.n && b[from] == 0 {
		from++
	}
	for i := from; i < m.n; i++ {
		fi, row := m.row(i)
		f := max(fi, from)
		if f > i {
			f = i
		}
		b[i] = (b[i] - dot(row[f-fi:i-fi], b[f:])) * row[i-fi]
	}
}

// Backward replaces b by L⁻ᵀb.
func (m *Matrix) Backward(b []float64) {
	for i := m.n - 1; i >= 0; i-- {
		fi, row := m.row(i)
		x := float64(b[i] * row[i-fi])
		b[i] = x
		if x != 0 {
			less(b[fi:i], row, x)
		}
	}
}

// Inverse returns the inverse of the matrix that m is the factor of, inside the
// same envelope and exact there: the recurrence of Takahashi, which needs no
// element outside it. (K. Takahashi, J. Fagan, M.-S. Chen, 1973, from memory.)
func (m *Matrix) Inverse() *Matrix {
	z := &Matrix{n: m.n, first: m.first, start: m.start, a: make([]float64, len(m.a))}
	last := m.reach()
	l, t := make([]float64, m.n), make([]float64, m.n)
	for j := m.n - 1; j >= 0; j-- {
		fj, row := m.row(j)
		diagonal := row[j-fj]
		end := last[j] + 1
		for k := j + 1; k < end; k++ {
			l[k], t[k] = 0, 0
			if fk, r := m.row(k); fk <= j {
				l[k] = r[j-fk] * diagonal
			}
		}
		for i := j + 1; i < end; i++ {
			fi, r := z.row(i)
			if fi > j {
				continue
			}
			part := r[j+1-fi : i-fi]
			t[i] += dot(part, l[j+1:]) + float64(l[i]*r[i-fi])
			if l[i] != 0 {
				less(t[j+1:i], part, -l[i])
			}
		}
		sum := 0.0
		for i := j + 1; i < end; i++ {
			if fi, r := z.row(i); fi <= j {
				r[j-fi] = -t[i]
				sum += float64(l[i] * t[i])
			}
		}
		_, r := z.row(j)
		r[j-fj] = float64(diagonal*diagonal) + sum
	}
	return z
}

// reach returns of each column the last row that keeps it.
func (m *Matrix) reach() []int {
	last := make([]int, m.n)
	for i := range m.n {
		fi, _ := m.row(i)
		last[fi] = i
	}
	for j := 1; j < m.n; j++ {
		last[j] = max(last[j], last[j-1], j)
	}
	return last
}

// dot returns the sum of the products of a and as much of b, in four parts: the
// order is the same on every processor.
func dot(a, b []float64) float64 {
	b = b[:len(a)]
	var s0, s1, s2, s3 float64
	i := 0
	for ; i+4 <= len(a); i += 4 {
		x, y := a[i:i+4:i+4], b[i:i+4:i+4]
		s0 += float64(x[0] * y[0])
		s1 += float64(x[1] * y[1])
		s2 += float64(x[2] * y[2])
		s3 += float64(x[3] * y[3])
	}
	for ; i < len(a); i++ {
		s0 += float64(a[i] * b[i])
	}
	return (s0 + s1) + (s2 + s3)
}

// less takes f times as much of b off a.
func less(a, b []float64, f float64) {
	b = b[:len(a)]
	for i := range a {
		a[i] -= float64(f * b[i])
	}
}
