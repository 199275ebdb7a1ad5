package adjust

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"testing"
	"time"

	"gonum.org/v1/gonum/mat"

	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/testdata"
)

// benchStation is 8 rounds on 8 targets with one gap.
func benchStation() (sights []Sight, rays []ray, y []float64) {
	rng := rand.New(rand.NewPCG(seedOfRandomTests, 4))
	for i := range 8 {
		for j := range 8 {
			if i == 5 && j == 3 {
				continue
			}
			e := reduce.FromSeconds(rng.NormFloat64() * 3)
			start := reduce.Angle(i) * 22 * reduce.Degree
			value := (start + reduce.Angle(j)*41*reduce.Degree + e).Normalize()
			sights = append(sights, Sight{i, j, reduce.DirectionAt(value)})
			rays = append(rays, ray{i, j, 0, reduce.DirectionAt(value)})
			y = append(y, e.Seconds())
		}
	}
	return sights, rays, y
}

// BenchmarkStation: an 8 × 8 station with one gap, directions, residuals and all
// cofactors. "dense QR" is gonum's solution of the same equations and its cofactor
// matrix, unwrapped beforehand; "ratio" runs both and reports how many times
// longer gonum takes.
func BenchmarkStation(b *testing.B) {
	sights, rays, y := benchStation()
	b.Run("once", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := Sights(sights, 8, 8); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("dense QR", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			denseWithCofactors(b, rays, y)
		}
	})
	b.Run("ratio", func(b *testing.B) {
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		var ours, dense time.Duration
		for b.Loop() { // turn by turn, in the thread's own time, so that a busy machine harms neither
			ours += timed(100, func() { mustAdjust(b, sights, 8, 8) })
			dense += timed(100, func() { denseWithCofactors(b, rays, y) })
		}
		b.ReportMetric(float64(dense)/float64(ours), "times")
		b.ReportMetric(float64(ours.Nanoseconds())/float64(100*b.N), "ns/station")
	})
}

func timed(n int, f func()) time.Duration {
	start := testdata.Thread()
	for range n {
		f()
	}
	return testdata.Thread() - start
}

func mustAdjust(b *testing.B, sights []Sight, rounds, targets int) *Station {
	st, err := Sights(sights, rounds, targets)
	if err != nil {
		b.Fatal(err)
	}
	return st
}

// denseWithCofactors is the least that gonum must do: build, factor, solve, invert.
func denseWithCofactors(b *testing.B, rays []ray, y []float64) {
	a := equations(8, 8, rays, false)
	var qr mat.QR
	qr.Factorize(a)
	var x, r, rinv, q mat.Dense
	if err := qr.SolveTo(&x, false, mat.NewDense(len(y), 1, y)); err != nil {
		b.Fatal(err)
	}
	qr.RTo(&r)
	if err := rinv.Inverse(r.Slice(0, 15, 0, 15)); err != nil {
		b.Fatal(err)
	}
	q.Mul(&rinv, rinv.T())
}

// BenchmarkSetups reduces many setups of 4 targets × 2 rounds from readings in
// memory: pairs, station, cofactors. "growth" times 1,000 and 10,000 of them turn
// by turn and reports how many times longer the tenfold takes, and the time of a
// reading.
func BenchmarkSetups(b *testing.B) {
	many := manySetups(10000)
	for _, n := range []int{1000, 10000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				reduceSetups(b, many[:n])
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n*16), "ns/reading")
		})
	}
	b.Run("growth", func(b *testing.B) {
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		var few, all time.Duration
		for b.Loop() {
			for i := range 10 { // another thousand each time: none is met warm in the cache
				few += timed(1, func() { reduceSetups(b, many[1000*i:1000*i+1000]) })
			}
			all += timed(1, func() { reduceSetups(b, many) })
		}
		b.ReportMetric(10*float64(all)/float64(few), "times")
		b.ReportMetric(float64(all.Nanoseconds())/float64(160000*b.N), "ns/reading")
	})
}

func reduceSetups(b *testing.B, setups [][]Reading) {
	var space [8]Sight
	for _, s := range setups {
		sights := space[:0]
		for k := 0; k < len(s); k += 2 {
			sights = append(sights, Sight{s[k].Round, s[k].Target, faces.PairMean(s[k].Value, s[k+1].Value)})
		}
		mustAdjust(b, sights, 2, 4)
	}
}

func manySetups(n int) [][]Reading {
	rng := rand.New(rand.NewPCG(seedOfRandomTests, 5))
	out := make([][]Reading, n)
	for i := range out {
		out[i] = faceGrid(2, 4, 5*reduce.Arcsecond, func(int) reduce.Angle { return reduce.FromSeconds(rng.NormFloat64() * 3) })
	}
	return out
}

// BenchmarkFaces: single faces of 4 rounds on 5 targets with every redundancy
// number, and 100 supposed slips explained.
func BenchmarkFaces(b *testing.B) {
	rs := faceGrid(4, 5, 5*reduce.Arcsecond, func(k int) reduce.Angle { return reduce.FromSeconds(float64(k*k%7) - 3) })
	b.Run("adjust", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := Readings(rs, 4, 5); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("100 slips of 10 readings", func(b *testing.B) {
		f, err := Readings(rs, 4, 5)
		if err != nil {
			b.Fatal(err)
		}
		slip := slip{indices(10), make([]float64, 10)}
		for i := range slip.Weights {
			slip.Weights[i] = 1
		}
		b.ReportAllocs()
		for b.Loop() {
			for range 100 {
				f.explain(slip)
			}
		}
	})
}
