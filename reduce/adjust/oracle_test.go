package adjust

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// seedOfRandomTests makes every random test here repeat itself; the failures name
// the case beside it.
const seedOfRandomTests = 20261125

// oracle is gonum's dense QR solution of the same observation equations, the
// orientations carried as unknowns: nothing is eliminated, nothing is known of
// the structure.
type oracle struct {
	x         []float64  // orientations, directions 1…, c where asked for; seconds from the truth
	q         *mat.Dense // cofactors of the unknowns
	residuals []float64  // adjusted − observed
	qvv       *mat.Dense // cofactors of the residuals
	full      bool       // full rank
}

// solveDense works rays whose values are given in seconds about the truth.
func solveDense(rounds, targets int, rays []ray, y []float64, withC bool) oracle {
	a := equations(rounds, targets, rays, withC)
	_, u := a.Dims()
	var o oracle
	if len(rays) < u {
		return o
	}
	var svd mat.SVD
	svd.Factorize(a, mat.SVDNone)
	values := svd.Values(nil)
	if values[len(values)-1] < 1e-9*values[0] {
		return o
	}
	o.full = true
	var qr mat.QR
	qr.Factorize(a)
	var x mat.Dense
	if err := qr.SolveTo(&x, false, mat.NewDense(len(y), 1, y)); err != nil {
		o.full = false
		return o
	}
	var r, rinv, q mat.Dense
	qr.RTo(&r)
	if err := rinv.Inverse(r.Slice(0, u, 0, u)); err != nil {
		o.full = false
		return o
	}
	q.Mul(&rinv, rinv.T())
	o.q, o.x = &q, mat.Col(nil, 0, &x)
	var ax, aq, qvv mat.Dense
	ax.Mul(a, &x)
	for k := range y {
		o.residuals = append(o.residuals, ax.At(k, 0)-y[k])
	}
	aq.Mul(a, &q)
	qvv.Mul(&aq, a.T())
	qvv.Scale(-1, &qvv)
	for k := range y {
		qvv.Set(k, k, qvv.At(k, k)+1)
	}
	o.qvv = &qvv
	return o
}

// equations is the matrix of the observation equations.
func equations(rounds, targets int, rays []ray, withC bool) *mat.Dense {
	u := rounds + targets - 1
	if withC {
		u++
	}
	a := mat.NewDense(len(rays), u, nil)
	for k, r := range rays {
		a.Set(k, r.round, 1)
		if r.target > 0 {
			a.Set(k, rounds+r.target-1, 1)
		}
		if withC {
			a.Set(k, u-1, r.sign)
		}
	}
	return a
}

// randomStation makes a pattern with gaps on known directions.
type randomStation struct {
	rounds, targets int
	dir, orient     []reduce.Angle
	rays            []ray
	y               []float64
}

func newRandomStation(rng *rand.Rand, faces bool) randomStation {
	s := randomStation{rounds: 1 + rng.IntN(12), targets: 2 + rng.IntN(11)}
	for range s.rounds {
		s.orient = append(s.orient, reduce.Angle(rng.Int64N(int64(reduce.Turn))))
	}
	s.dir = make([]reduce.Angle, s.targets)
	for j := 1; j < s.targets; j++ {
		s.dir[j] = reduce.Angle(rng.Int64N(int64(reduce.Turn)))
	}
	gaps := rng.Float64() * 0.6
	signs := []float64{0}
	if faces {
		signs = []float64{1, -1}
	}
	for i := range s.rounds {
		for j := range s.targets {
			for _, sign := range signs {
				if rng.Float64() < gaps {
					continue
				}
				e := reduce.FromSeconds(rng.NormFloat64() * 5)
				s.rays = append(s.rays, ray{i, j, sign, reduce.DirectionAt(s.orient[i] + s.dir[j] + e)})
				s.y = append(s.y, e.Seconds())
			}
		}
	}
	rng.Shuffle(len(s.rays), func(i, k int) {
		s.rays[i], s.rays[k] = s.rays[k], s.rays[i]
		s.y[i], s.y[k] = s.y[k], s.y[i]
	})
	return s
}

// relative tells whether two figures agree to 1e-9 of the larger, or of 1.
func relative(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9*max(1, math.Abs(want)) {
		t.Fatalf("%s: %.15g, dense QR %.15g", what, got, want)
	}
}

// usedRounds renumbers away the rounds without a sight, which the dense equations
// cannot carry.
func (s *randomStation) usedRounds() (rays []ray, rounds int, old []int) {
	number := map[int]int{}
	for i := range s.rounds {
		for _, r := range s.rays {
			if r.round == i {
				number[i] = len(old)
				old = append(old, i)
				break
			}
		}
	}
	for _, r := range s.rays {
		r.round = number[r.round]
		rays = append(rays, r)
	}
	return rays, len(old), old
}

// Station adjustments on 400 random patterns of up to 12 rounds on 12 targets
// with gaps: directions, orientations, residuals and every cofactor against dense QR.
func TestStation_AgainstDenseQR(t *testing.T) {
	rng := rand.New(rand.NewPCG(seedOfRandomTests, 1))
	solved, lost := 0, 0
	for n := range 400 {
		s := newRandomStation(rng, false)
		rays, rounds, old := s.usedRounds()
		o := solveDense(rounds, s.targets, rays, s.y, false)
		var sights []Sight
		for _, r := range s.rays {
			sights = append(sights, Sight{r.round, r.target, r.value})
		}
		st, err := Sights(sights, s.rounds, s.targets)
		var d *DisconnectedError
		if errors.As(err, &d) != !o.full {
			t.Fatalf("seed %d, case %d: %v, dense QR of full rank %v", seedOfRandomTests, n, err, o.full)
		}
		if err != nil {
			lost++
			continue
		}
		solved++
		name := func(s string) string { return fmt.Sprintf("seed %d, case %d, %s", seedOfRandomTests, n, s) }
		for j := 1; j < s.targets; j++ {
			got := (st.Directions[j].Angle() - s.dir[j]).Wrap().Seconds()
			if math.Abs(got-o.x[rounds+j-1]) > 1e-6 {
				t.Fatalf("%s: direction %d: %g″, dense QR %g″", name("direction"), j, got, o.x[rounds+j-1])
			}
			for k := 1; k < s.targets; k++ {
				relative(t, name("cofactor"), st.cofactor(j, k), o.q.At(rounds+j-1, rounds+k-1))
			}
		}
		for i := range rounds {
			got := (st.Orientations[old[i]].Angle() - s.orient[old[i]]).Wrap().Seconds()
			if math.Abs(got-o.x[i]) > 1e-6 {
				t.Fatalf("%s: %g, dense QR %g", name("orientation"), got, o.x[i])
			}
		}
		least := 1.0
		for k := range s.rays {
			relative(t, name("residual"), st.Residuals[k], o.residuals[k])
			relative(t, name("redundancy"), st.Redundancy(k), o.qvv.At(k, k))
			least = min(least, o.qvv.At(k, k))
		}
		relative(t, name("least redundancy"), st.LeastRedundancy(), least)
		if st.Dof != len(s.rays)-rounds-s.targets+1 {
			t.Fatalf("%s: dof %d", name("dof"), st.Dof)
		}
	}
	if solved < 150 || lost < 10 {
		t.Errorf("seed %d: %d solved, %d disconnected: the patterns are not what they should be", seedOfRandomTests, solved, lost)
	}
}

// The same on single faces, with the collimation and the whole cofactor matrix of
// the residuals.
func TestFaces_AgainstDenseQR(t *testing.T) {
	rng := rand.New(rand.NewPCG(seedOfRandomTests, 2))
	solved := 0
	for n := range 150 {
		s := newRandomStation(rng, true)
		rays, rounds, _ := s.usedRounds()
		o := solveDense(rounds, s.targets, rays, s.y, true)
		var rs []Reading
		for _, r := range s.rays {
			x := Reading{r.round, r.target, faces.FL, r.value}
			if r.sign < 0 {
				x.Face, x.Value = faces.FR, x.Value.Opposite()
			}
			rs = append(rs, x)
		}
		f, err := Readings(rs, s.rounds, s.targets)
		if o.full && err != nil {
			t.Fatalf("seed %d, case %d: %v, dense QR has full rank", seedOfRandomTests, n, err)
		}
		if err != nil {
			continue
		}
		if f.CollimationKnown != o.full {
			t.Fatalf("seed %d, case %d: c known %v, dense QR of full rank %v", seedOfRandomTests, n, f.CollimationKnown, o.full)
		}
		if !o.full {
			continue
		}
		solved++
		name := func(s string) string { return fmt.Sprintf("seed %d, case %d, %s", seedOfRandomTests, n, s) }
		relative(t, name("c"), f.Collimation, o.x[rounds+s.targets-1])
		for k := range rs {
			relative(t, name("residual"), f.Residuals[k], o.residuals[k])
			for l := range rs {
				relative(t, name("residual cofactor"), f.Q.At(k, l), o.qvv.At(k, l))
			}
		}
		if f.Dof != len(rs)-rounds-s.targets {
			t.Fatalf("%s: %d", name("dof"), f.Dof)
		}
	}
	if solved < 60 {
		t.Errorf("seed %d: only %d solved", seedOfRandomTests, solved)
	}
}
