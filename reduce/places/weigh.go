package places

import (
	"math"
	"slices"
)

// weigh works the gain of a guess: with H its columns and R = I − A Q Aᵀ the
// cofactors of the residuals, (Hᵀv)ᵀ (HᵀRH)⁻¹ (Hᵀv). [M12] Freedom 0 says that the
// observations cannot tell it.
func (a *Adjusted) weigh(g *guess) {
	q := len(g.cols)
	hv := make([]float64, q)
	m := make([][]float64, q)
	whole := make([]float64, q)
	var proj [][]float64
	var reduced [][]part
	for c, col := range g.cols {
		for _, p := range col {
			hv[c] += float64(p.val * a.white[p.row])
			whole[c] += float64(p.val * p.val)
		}
		r, half := a.project(col)
		reduced, proj = append(reduced, r), append(proj, half)
	}
	for i := range q {
		m[i] = make([]float64, q)
		for j := range q {
			m[i][j] = inner(reduced[i], g.cols[j]) - innerDense(proj[i], proj[j])
		}
	}
	g.Freedom, g.Gain, g.Size = 0, 0, nil
	x, ok := solveSmall(m, hv, whole)
	if !ok {
		return
	}
	g.Freedom = q
	for i := range q {
		g.Gain += float64(x[i] * hv[i])
		size := -x[i]
		if g.Fault != OnePoint && g.Fault != OneStation && g.Fault != OneLine {
			size *= a.w.obs[g.cols[i][0].row].SD
		}
		g.Size = append(g.Size, size)
	}
}

// project returns a column with the orientations eliminated, and L⁻¹Aᵀ of it.
func (a *Adjusted) project(col []part) ([]part, []float64) {
	w := a.w
	out := slices.Clone(col)
	sums := map[int]float64{}
	var order []int
	for _, p := range col {
		if s := w.rows[p.row].set; s >= 0 {
			if _, seen := sums[s]; !seen {
				order = append(order, s)
			}
			sums[s] += float64(w.rows[p.row].u * p.val)
		}
	}
	for _, s := range order {
		for _, i := range w.inSets[s] {
			out = append(out, part{i, -w.rows[i].u * sums[s] / w.sets[s].uu})
		}
	}
	b := make([]float64, w.n)
	for _, p := range out {
		r := &w.rows[p.row]
		for k := range r.n {
			b[r.col[k]] += float64(r.val[k] * p.val)
		}
	}
	w.m.Forward(b)
	return out, b
}

// reach returns R·h of the best guess' first and, where it has one, second column,
// by observation; used for correlations.
func (a *Adjusted) reach(g guess) [][]float64 {
	var out [][]float64
	w := a.w
	for _, col := range g.cols {
		reduced, half := a.project(col)
		v := make([]float64, len(w.obs))
		for _, p := range reduced {
			v[p.row] += p.val
		}
		w.m.Backward(half)
		fit := make([]float64, len(w.obs))
		for i := range w.rows {
			r := &w.rows[i]
			for k := range r.n {
				fit[i] += float64(r.val[k] * half[r.col[k]])
			}
		}
		for s, m := range w.inSets {
			sum := 0.0
			for _, i := range m {
				sum += float64(w.rows[i].u * fit[i])
			}
			for _, i := range m {
				fit[i] -= float64(w.rows[i].u * sum / w.sets[s].uu)
			}
		}
		for i := range v {
			v[i] -= fit[i]
		}
		out = append(out, v)
	}
	return out
}

// correlation returns how alike the tests of two single observations are; 0 where
// either has more than one column.
func (a *Adjusted) correlation(reach [][]float64, g guess) float64 {
	if len(reach) != 1 || len(g.cols) != 1 || len(g.cols[0]) != 1 {
		return 0
	}
	i := g.cols[0][0].row
	own := a.Residuals[a.w.from[i]].Redundancy
	var best float64
	for _, x := range reach[0] {
		best += float64(x * x) // R is idempotent: hᵀRh = |Rh|²
	}
	if own < unchecked || best < unchecked {
		return 0
	}
	return math.Abs(reach[0][i]) / math.Sqrt(own*best)
}

func inner(a, b []part) float64 {
	sum := 0.0
	for _, x := range a {
		for _, y := range b {
			if x.row == y.row {
				sum += float64(x.val * y.val)
			}
		}
	}
	return sum
}

func innerDense(a, b []float64) float64 {
	sum := 0.0
	for i, x := range a {
		sum += float64(x * b[i])
	}
	return sum
}

// solveSmall solves one or two equations; ok is false where the observations cannot
// tell the amounts: what is left of a column is under a millionth of it.
func solveSmall(m [][]float64, b, whole []float64) ([]float64, bool) {
	for i := range m {
		if !(m[i][i] > unchecked*whole[i]) {
			return nil, false
		}
	}
	if len(m) == 1 {
		return []float64{b[0] / m[0][0]}, true
	}
	det := float64(m[0][0]*m[1][1]) - float64(m[0][1]*m[1][0])
	if !(det > 1e-6*m[0][0]*m[1][1]) {
		return nil, false
	}
	return []float64{(float64(b[0]*m[1][1]) - float64(m[0][1]*b[1])) / det, (float64(m[0][0]*b[1]) - float64(m[1][0]*b[0])) / det}, true
}
