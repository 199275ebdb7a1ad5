package normal

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

const seed = 20260101

// draw returns a random positive definite matrix inside a random envelope, once
// for us and once for gonum.
func draw(rng *rand.Rand, n int, full bool) (*Matrix, *mat.SymDense) {
	m := New(n)
	if !full {
		first := make([]int, n)
		for i := range first {
			first[i] = max(0, i-rng.IntN(6))
		}
		m = Envelope(first)
	}
	dense := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			if f, _ := m.row(i); j < f || rng.IntN(4) == 0 && i != j {
				continue
			}
			x := rng.NormFloat64()
			if i == j {
				x = 3 * float64(n) * (1 + rng.Float64())
			}
			m.Add(j, i, x)
			dense.SetSym(i, j, x)
		}
	}
	return m, dense
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-11*(1+math.Abs(want)) {
		t.Fatalf("seed %d, %s: %.15g, gonum %.15g", seed, what, got, want)
	}
}

// Solutions, cofactors and inverses of 300 random systems, packed and in an
// envelope, against gonum's dense Cholesky.
func TestMatrix_AgainstDense(t *testing.T) {
	rng := rand.New(rand.NewPCG(seed, 1))
	for c := range 300 {
		n := 1 + rng.IntN(40)
		m, dense := draw(rng, n, c%2 == 0)
		b := make([]float64, n)
		for i := range b {
			b[i] = rng.NormFloat64()
		}
		var chol mat.Cholesky
		if !chol.Factorize(dense) {
			t.Fatal("not positive definite")
		}
		var x mat.VecDense
		var inverse mat.SymDense
		if err := chol.SolveVecTo(&x, mat.NewVecDense(n, append([]float64(nil), b...))); err != nil {
			t.Fatal(err)
		}
		if err := chol.InverseTo(&inverse); err != nil {
			t.Fatal(err)
		}
		if held := m.Factor(1e-12); held != nil {
			t.Fatalf("held %v", held)
		}
		q := m.Inverse()
		for i := range n {
			first, _ := m.row(i)
			for j := first; j <= i; j++ {
				near(t, "inverse", q.At(j, i), inverse.At(i, j))
			}
		}
		w := append([]float64(nil), b...)
		m.Forward(w)
		near(t, "quadratic form", dot(w, w), mat.Dot(mat.NewVecDense(n, b), &x))
		m.Solve(b)
		for i := range b {
			near(t, "solution", b[i], x.AtVec(i))
		}
	}
}

// What nothing determines is held at 0, and the rest comes out as without it.
func TestFactor_HoldsWhatNothingDetermines(t *testing.T) {
	m := New(3) // (x, y, x + y): the third follows from the others
	for _, r := range [][3]float64{{1, 0, 1}, {0, 1, 1}, {1, 1, 2}} {
		for i := range 3 {
			for j := range i + 1 {
				m.Add(i, j, r[i]*r[j])
			}
		}
	}
	held := m.Factor(1e-12)
	if len(held) != 1 || held[0] != 2 {
		t.Fatalf("held %v, want the third", held)
	}
	b := []float64{4, 5, 9} // normal equations of x = 1, y = 2 and x + y = 3
	m.Solve(b)
	if math.Abs(b[0]-1) > 1e-14 || math.Abs(b[1]-2) > 1e-14 || b[2] != 0 {
		t.Errorf("solution %v", b)
	}
	if q := m.Inverse(); q.At(2, 2) != 0 || q.At(2, 0) != 0 || math.Abs(q.At(0, 0)-2.0/3) > 1e-14 {
		t.Errorf("cofactors %v", q.a)
	}
}
