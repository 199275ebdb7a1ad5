package places

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/readback/reduce/traverse"
	"example.org/readback/testdata"
	"gonum.org/v1/gonum/mat"
)

const seed = 20260117

const second = math.Pi / 180 / 3600

// draw returns a random network with a known truth: sets of directions from most
// points, distances, some angles, and a datum that is fixed, weighted or free.
func draw(rng *rand.Rand, sigma float64) (*Network, []traverse.Point) {
	n := &Network{}
	count := 4 + rng.IntN(9)
	var truth []traverse.Point
	for len(truth) < count {
		p := traverse.Point{E: 1000 * rng.Float64(), N: 1000 * rng.Float64()}
		near := false
		for _, q := range truth {
			near = near || traverse.Distance(p, q) < 60
		}
		if !near {
			truth = append(truth, p)
		}
	}
	for i, p := range truth {
		n.Points = append(n.Points, Point{Name: string(rune('A' + i)), At: p})
	}
	set := 0
	for from := range truth {
		if from > 1 && rng.IntN(6) == 0 {
			continue
		}
		turn := 2 * math.Pi * rng.Float64()
		for to := range truth {
			if to == from || rng.IntN(5) == 0 {
				continue
			}
			d := truth[to].Sub(truth[from])
			n.Observations = append(n.Observations, Observation{Kind: Direction, From: from, To: to, Set: set,
				Value: math.Atan2(d.E, d.N) - turn + sigma*second*rng.NormFloat64(), SD: sigma * second})
			if rng.IntN(3) > 0 {
				sd := 0.003 + 2e-6*d.Length()
				n.Observations = append(n.Observations, Observation{Kind: Distance, From: from, To: to, Value: d.Length() + sd*rng.NormFloat64(), SD: sd})
			}
			if back := rng.IntN(count); rng.IntN(8) == 0 && back != from && back != to {
				e := truth[back].Sub(truth[from])
				n.Observations = append(n.Observations, Observation{Kind: Angle, From: from, To: to, Back: back,
					Value: math.Atan2(d.E, d.N) - math.Atan2(e.E, e.N) + 2*sigma*second*rng.NormFloat64(), SD: 2 * sigma * second})
			}
		}
		set++
	}
	fixDatum(rng, n, truth)
	return n, truth
}

func fixDatum(rng *rand.Rand, n *Network, truth []traverse.Point) {
	for i := range n.Points { // start a few centimetres off
		n.Points[i].At = truth[i].Add(traverse.Point{E: 0.1 * rng.NormFloat64(), N: 0.1 * rng.NormFloat64()})
	}
	switch rng.IntN(4) {
	case 0: // two or three fixed points
		for i := range 2 + rng.IntN(2) {
			n.Points[i].Fixed, n.Points[i].At = true, truth[i]
		}
	case 1: // known with their standard deviation
		for i := range 3 {
			n.Observations = append(n.Observations,
				Observation{Kind: East, From: i, Value: truth[i].E + 0.005*rng.NormFloat64(), SD: 0.005},
				Observation{Kind: North, From: i, Value: truth[i].N + 0.005*rng.NormFloat64(), SD: 0.005})
		}
	case 2: // one point and a bearing
		n.Points[0].Fixed, n.Points[0].At = true, truth[0]
		d := truth[1].Sub(truth[0])
		n.Observations = append(n.Observations, Observation{Kind: Bearing, From: 0, To: 1, Value: math.Atan2(d.E, d.N) + second*rng.NormFloat64(), SD: second})
	}
}

// dense is the same adjustment by gonum: every orientation an unknown, derivatives
// by differences of the computed values, the pseudo-inverse for a free datum.
type dense struct {
	step, v, redundancy []float64
	q                   *mat.Dense // of the coordinates, all of them
	dof                 int
}

func solveDense(n *Network, at []traverse.Point, orient []float64) dense {
	p, s := len(at), len(orient)
	rows := len(n.Observations)
	for i := range n.Points {
		if n.Points[i].Fixed {
			rows += 2
		}
	}
	a, l := mat.NewDense(rows, 2*p+s, nil), make([]float64, rows)
	value := func(o Observation, at []traverse.Point) float64 {
		bearing := func(f, t int) float64 { d := at[t].Sub(at[f]); return math.Atan2(d.E, d.N) }
		switch o.Kind {
		case Direction:
			return bearing(o.From, o.To) - orient[o.Set]
		case Distance:
			return traverse.Distance(at[o.From], at[o.To])
		case Angle:
			return bearing(o.From, o.To) - bearing(o.From, o.Back)
		case Bearing:
			return bearing(o.From, o.To)
		case East:
			return at[o.From].E
		}
		return at[o.From].N
	}
	for i, o := range n.Observations {
		l[i] = off(o.Kind, o.Value-value(o, at)) / o.SD
		if o.Kind == Direction {
			a.Set(i, 2*p+o.Set, -1/o.SD)
		}
		for j := range at {
			for k := range 2 {
				const h = 1e-3
				up, down := append([]traverse.Point(nil), at...), append([]traverse.Point(nil), at...)
				if k == 0 {
					up[j].E, down[j].E = up[j].E+h, down[j].E-h
				} else {
					up[j].N, down[j].N = up[j].N+h, down[j].N-h
				}
				a.Set(i, 2*j+k, off(o.Kind, value(o, up)-value(o, down))/(2*h)/o.SD)
			}
		}
	}
	at2 := len(n.Observations)
	for i := range n.Points {
		if n.Points[i].Fixed {
			a.Set(at2, 2*i, 1e6)
			a.Set(at2+1, 2*i+1, 1e6)
			at2 += 2
		}
	}
	return pseudo(a, l, p)
}

// pseudo solves by the singular value decomposition, the columns of the orientations
// scaled to those of the coordinates and projected out first.
func pseudo(a *mat.Dense, l []float64, p int) dense {
	rows, cols := a.Dims()
	o := a.Slice(0, rows, 2*p, cols)
	x := mat.DenseCopyOf(a.Slice(0, rows, 0, 2*p))
	y := mat.NewDense(rows, 1, append([]float64(nil), l...))
	var keep *mat.Dense
	used := 0
	if cols > 2*p { // I − O (OᵀO)⁻¹ Oᵀ, OᵀO being diagonal
		keep = mat.NewDense(rows, rows, nil)
		for i := range rows {
			keep.Set(i, i, 1)
		}
		for c := range cols - 2*p {
			sum := 0.0
			for i := range rows {
				sum += o.At(i, c) * o.At(i, c)
			}
			if sum == 0 {
				continue // a set without directions
			}
			used++
			for i := range rows {
				for j := range rows {
					if o.At(i, c) != 0 && o.At(j, c) != 0 {
						keep.Set(i, j, keep.At(i, j)-o.At(i, c)*o.At(j, c)/sum)
					}
				}
			}
		}
		var kx, ky mat.Dense
		kx.Mul(keep, x)
		ky.Mul(keep, y)
		x, y = &kx, &ky
	}
	var svd mat.SVD
	if !svd.Factorize(x, mat.SVDThin) {
		panic("no decomposition")
	}
	var u, v mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	values := svd.Values(nil)
	rank := 0
	for rank < len(values) && values[rank] > 1e-7*values[0]/1e4 && values[rank] > 1e-3 {
		rank++
	}
	d := dense{dof: rows - rank - used, q: mat.NewDense(2*p, 2*p, nil), step: make([]float64, 2*p)}
	hat := mat.NewDense(rows, rows, nil)
	for k := range rank {
		f := 0.0
		for i := range rows {
			f += u.At(i, k) * y.At(i, 0)
		}
		for j := range 2 * p {
			d.step[j] += v.At(j, k) * f / values[k]
			for m := range 2 * p {
				d.q.Set(j, m, d.q.At(j, m)+v.At(j, k)*v.At(m, k)/values[k]/values[k])
			}
		}
		for i := range rows {
			for j := range rows {
				hat.Set(i, j, hat.At(i, j)+u.At(i, k)*u.At(j, k))
			}
		}
	}
	for i := range rows {
		r := 1 - hat.At(i, i)
		if keep != nil {
			r -= 1 - keep.At(i, i)
		}
		d.redundancy = append(d.redundancy, r)
		d.v = append(d.v, -y.At(i, 0))
	}
	return d
}

// Random networks, 300 of them with -long, fixed, weighted and free, against gonum's dense solution: no
// step is left, residuals, redundancies, degrees of freedom and the cofactors of
// every place agree.
func TestAdjust_AgainstDense(t *testing.T) {
	rng := rand.New(rand.NewPCG(seed, 1))
	free, lostCases := 0, 0
	cases := testdata.Times(90, 300)
	for c := range cases {
		n, _ := draw(rng, 3)
		a, err := Adjust(n, DefaultLimits())
		if err != nil {
			t.Fatalf("seed %d, case %d: %v", seed, c, err)
		}
		lost := false
		for _, p := range a.Places {
			lost = lost || p.Lost
		}
		if lost {
			lostCases++
			continue
		}
		if a.Free {
			free++
		}
		d := solveDense(n, a.w.at, a.w.orient)
		if a.Dof != d.dof {
			t.Fatalf("seed %d, case %d: dof %d, gonum %d", seed, c, a.Dof, d.dof)
		}
		for j, x := range d.step {
			if math.Abs(x) > 2e-7 {
				t.Fatalf("seed %d, case %d: gonum still moves coordinate %d by %g", seed, c, j, x)
			}
		}
		for i, r := range a.Residuals {
			o := n.Observations[i]
			if math.Abs(r.V/o.SD-d.v[i]) > 1e-5 || math.Abs(r.Redundancy-d.redundancy[i]) > 1e-6 {
				t.Fatalf("seed %d, case %d, observation %d: v/σ %.9f r %.9f, gonum %.9f %.9f", seed, c, i, r.V/o.SD, r.Redundancy, d.v[i], d.redundancy[i])
			}
		}
		for p, x := range a.Places {
			for _, y := range [][2]float64{{x.Covariance.EE, d.q.At(2*p, 2*p)}, {x.Covariance.EN, d.q.At(2*p, 2*p+1)}, {x.Covariance.NN, d.q.At(2*p+1, 2*p+1)}} {
				if math.Abs(y[0]-y[1]) > 1e-5*(d.q.At(2*p, 2*p)+d.q.At(2*p+1, 2*p+1))+1e-11 {
					t.Fatalf("seed %d, case %d, point %d (free %v): cofactor %g, gonum %g", seed, c, p, a.Free, y[0], y[1])
				}
			}
		}
	}
	if free*8 < cases || lostCases*15 > cases {
		t.Errorf("%d free, %d with lost points: the networks are not what they should be", free, lostCases)
	}
}
