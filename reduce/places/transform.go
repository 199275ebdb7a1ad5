package places

import (
	"example.org/readback/reduce/normal"
	"example.org/readback/reduce/traverse"
)

// A transform carries cofactors from the datum that was held to inner constraints:
// Q' = P Q Pᵀ with P = I − G (GᵀG)⁻¹ Gᵀ, G being how the datum moves the places. [S]
type transform struct {
	centre traverse.Point
	m      *normal.Matrix // (GᵀG)⁻¹
	kernel *normal.Matrix // M GᵀQG M
	z      [][]float64    // of each missing part of the datum: Q times its column of G
}

// transform prepares the change of datum.
func (a *Adjusted) transform() *transform {
	w := a.w
	t := &transform{centre: w.datum.centre}
	if w.datum.anchors == 0 {
		t.centre = w.middle()
	}
	d := 0
	for _, missing := range w.datum.missing {
		if missing {
			d++
		}
	}
	t.m = normal.New(d)
	t.z = make([][]float64, d)
	for i := range t.z {
		t.z[i] = make([]float64, w.n)
	}
	for p := range w.at {
		if w.lost[p] || w.net.Points[p].Fixed {
			continue
		}
		g := w.datum.columns(w.at[p], t.centre)
		for i := range g {
			for j := range g[:i+1] {
				t.m.Add(i, j, float64(g[i][0]*g[j][0])+float64(g[i][1]*g[j][1]))
			}
			for _, x := range w.ways[p] {
				t.z[i][x.col] += float64(g[i][0]*x.by.E) + float64(g[i][1]*x.by.N)
			}
		}
	}
	t.m.Factor(undetermined)
	t.m = t.m.Inverse()
	t.kernel = t.weigh(w)
	return t
}

// weigh turns z into Q·G and returns M GᵀQG M.
func (t *transform) weigh(w *work) *normal.Matrix {
	d := len(t.z)
	k := make([][]float64, d)
	half := make([][]float64, d)
	for i := range t.z {
		half[i] = append([]float64(nil), t.z[i]...)
		w.m.Forward(half[i])
	}
	for i := range k {
		k[i] = make([]float64, d)
		for j := range k[i] {
			for c, v := range half[i] {
				k[i][j] += float64(v * half[j][c])
			}
		}
		w.m.Solve(t.z[i])
	}
	out := normal.New(d)
	for i := range d {
		for j := range i + 1 {
			sum := 0.0
			for a := range d {
				for b := range d {
					sum += float64(t.m.At(i, a) * k[a][b] * t.m.At(b, j))
				}
			}
			out.Add(i, j, sum)
		}
	}
	return out
}

// apply changes the cofactors of one place.
func (t *transform) apply(w *work, p int, q *[2][2]float64) {
	if w.net.Points[p].Fixed {
		return
	}
	g := w.datum.columns(w.at[p], t.centre)
	d := len(g)
	z := make([][2]float64, d)
	for i := range z {
		for _, x := range w.ways[p] {
			z[i][0] += float64(x.by.E * t.z[i][x.col])
			z[i][1] += float64(x.by.N * t.z[i][x.col])
		}
	}
	for r := range 2 {
		for c := r; c < 2; c++ {
			for i := range d {
				for j := range d {
					q[r][c] += float64(g[i][r]*t.kernel.At(i, j)*g[j][c]) -
						float64(z[i][r]*t.m.At(i, j)*g[j][c]) - float64(g[i][r]*t.m.At(i, j)*z[j][c])
				}
			}
		}
	}
}

// middle is the mean of the places.
func (w *work) middle() traverse.Point {
	var sum traverse.Point
	n := 0.0
	for p, at := range w.at {
		if !w.lost[p] {
			sum, n = sum.Add(at), n+1
		}
	}
	return traverse.Point{E: sum.E / n, N: sum.N / n}
}
