package places

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"
	"time"

	"example.org/readback/testdata"

	"example.org/readback/reduce/traverse"
	"gonum.org/v1/gonum/mat"
)

// lattice is a network of n stations on a rough lattice, each sighting its neighbours
// with a direction and, mostly, a distance: about ten observations a station.
func lattice(n int) *Network {
	rng := rand.New(rand.NewPCG(seed, uint64(n)))
	side := int(math.Ceil(math.Sqrt(float64(n))))
	net := &Network{}
	for i := range n {
		at := traverse.Point{E: 200*float64(i%side) + 30*rng.NormFloat64(), N: 200*float64(i/side) + 30*rng.NormFloat64()}
		net.Points = append(net.Points, Point{Name: fmt.Sprint(i), At: at, Fixed: i == 0 || i == n-1})
	}
	for i := range n {
		for _, d := range [][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {-1, -1}} {
			x, y := i%side+d[0], i/side+d[1]
			j := y*side + x
			if x < 0 || x >= side || y < 0 || j >= n {
				continue
			}
			v := net.Points[j].At.Sub(net.Points[i].At)
			net.Observations = append(net.Observations, Observation{Kind: Direction, From: i, To: j, Set: i, Value: math.Atan2(v.E, v.N) + 3*second*rng.NormFloat64(), SD: 3 * second})
			if d[0]+d[1] != 2 {
				net.Observations = append(net.Observations, Observation{Kind: Distance, From: i, To: j, Value: v.Length() + 0.003*rng.NormFloat64(), SD: 0.003})
			}
		}
	}
	for i := range net.Points {
		if !net.Points[i].Fixed {
			net.Points[i].At.E += 0.05 * rng.NormFloat64()
		}
	}
	return net
}

func BenchmarkAdjust(b *testing.B) {
	for _, n := range []int{200, 2000} {
		net := lattice(n)
		b.Run(fmt.Sprintf("%d stations %d observations", n, len(net.Observations)), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Adjust(net, DefaultLimits()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	// gonum's dense Cholesky of one set of normal equations of the same network, with
	// its inverse, turn by turn with the whole of ours (all steps and the judgement).
	for _, size := range []int{200, 2000} {
		b.Run(fmt.Sprintf("%d stations beside gonum", size), func(b *testing.B) {
			if size > 200 && !*testdata.Long {
				b.Skip("gonum takes a minute: -long")
			}
			net := lattice(size)
			runtime.LockOSThread()
			defer runtime.UnlockOSThread()
			var ours, dense time.Duration
			for b.Loop() {
				start := time.Now()
				a, err := Adjust(net, DefaultLimits())
				if err != nil {
					b.Fatal(err)
				}
				ours += time.Since(start)
				start = time.Now()
				denseNormals(b, a)
				dense += time.Since(start)
			}
			b.ReportMetric(float64(dense)/float64(ours), "times")
			b.ReportMetric(float64(ours.Microseconds())/1000/float64(b.N), "ms/ours")
		})
	}
}

// denseNormals builds, factors, solves and inverts the same equations densely.
func denseNormals(b *testing.B, a *Adjusted) {
	w := a.w
	n := mat.NewSymDense(w.n, nil)
	for i := range w.rows {
		r := &w.rows[i]
		for j := range r.n {
			for k := range r.n {
				if r.col[j] >= r.col[k] {
					n.SetSym(r.col[j], r.col[k], n.At(r.col[j], r.col[k])+r.val[j]*r.val[k])
				}
			}
		}
	}
	for _, s := range w.sets {
		for j, x := range s.val {
			for k, y := range s.val {
				if s.col[j] >= s.col[k] {
					n.SetSym(s.col[j], s.col[k], n.At(s.col[j], s.col[k])-x*y/s.uu)
				}
			}
		}
	}
	var c mat.Cholesky
	if !c.Factorize(n) {
		b.Fatal("not positive definite")
	}
	var q mat.SymDense
	if err := c.InverseTo(&q); err != nil {
		b.Fatal(err)
	}
}
