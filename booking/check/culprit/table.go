package culprit

import (
	"cmp"
	"math"
	"slices"
)

// table holds, for a list of items, hᵀg and hᵀQh of each, and hᵀQh′ of every two
// that were asked for.
type table struct {
	list   []item
	pull   []float64
	own    []float64
	common []float64 // logarithm of how common each is
	unit   float64   // logarithm of √(2π)·sigma
	share  []float64 // NaN: not worked out yet; nil: worked out every time
}

// tabled is the longest list for which hᵀQh′ is kept.
const tabled = 600

// tabulate lists the items and works out hᵀg and hᵀQh of each.
func (f *field) tabulate() {
	f.list = f.items()
	n := len(f.list)
	f.pull, f.own, f.common = make([]float64, n), make([]float64, n), make([]float64, n)
	f.unit = math.Log(2*math.Pi)/2 + math.Log(f.sigma)
	for i, a := range f.list {
		for j, k := range a.of {
			f.pull[i] += a.weight(j) * f.g[k]
		}
		f.common[i] = f.prior(a)
	}
	for i := n - 1; i >= 0; i-- {
		a := f.list[i]
		if i+1 < n && a.oneMoreThan(f.list[i+1]) {
			f.own[i] = f.own[i+1] + f.grown(a.of)
		} else if a.form == drifting {
			f.own[i] = f.q.Square(a.by)
		} else {
			f.own[i] = f.product(a, a)
		}
	}
}

// oneMoreThan tells whether an item is everything in the round from the reading on
// that comes before what b begins with.
func (a item) oneMoreThan(b item) bool {
	return a.form == movedFrom && b.form == movedFrom && len(a.of) == len(b.of)+1 && a.of[1] == b.at
}

// grown returns what the first of the readings adds to hᵀQh of the others.
func (f *field) grown(of []int) float64 {
	sum := 0.0
	for _, l := range of[1:] {
		sum += f.q.At(of[0], l)
	}
	return f.q.At(of[0], of[0]) + 2*sum
}

// keepShares makes room for hᵀQh′ of every two items, where they are not too many:
// a search asks for each again and again.
func (f *field) keepShares() {
	n := len(f.list)
	if n > tabled {
		return
	}
	f.share = make([]float64, n*n)
	for i := range f.share {
		f.share[i] = math.NaN()
	}
}

// product returns hᵀQh′.
func (f *field) product(a, b item) float64 {
	m := 0.0
	for i, k := range a.of {
		sum := 0.0
		for j, l := range b.of {
			sum += float64(b.weight(j) * f.q.At(k, l))
		}
		m += a.weight(i) * sum
	}
	return m
}

// between returns hᵀQh′ of two items of the list.
func (f *field) between(a, b int) float64 {
	if a == b {
		return f.own[a]
	}
	if f.share == nil {
		return f.product(f.list[a], f.list[b])
	}
	n := len(f.list)
	if a < b {
		a, b = b, a
	}
	m := &f.share[a*n+b]
	if math.IsNaN(*m) {
		*m = f.product(f.list[a], f.list[b])
	}
	return *m
}

// best returns the n items with the largest deviates, all where there are fewer.
func (f *field) best(n int) []int {
	at := make([]int, len(f.list))
	for i := range at {
		at[i] = i
	}
	if len(at) > n {
		z := func(i int) float64 { return f.pull[i] * f.pull[i] / math.Max(f.own[i], leastRedundancy) }
		slices.SortStableFunc(at, func(a, b int) int { return cmp.Compare(z(b), z(a)) })
		at = at[:n]
		slices.Sort(at)
	}
	return at
}

// leastRedundancy is the cofactor below which the readings cannot tell an error.
const leastRedundancy = 0.02

// solve fits the errors of the items of h; det is the determinant of their weights.
// ok is false where the readings cannot tell them apart.
func (f *field) solve(h *hypothesis) (det float64, ok bool) {
	n := len(h.items)
	var m [3][3]float64
	for i, a := range h.items {
		for j, b := range h.items[:i] {
			m[i][j] = f.between(a, b)
			m[j][i] = m[i][j]
		}
		m[i][i] = f.own[a]
	}
	inv, det, ok := invert(m, n)
	if !ok {
		return 0, false
	}
	h.ss = f.ss
	for i, a := range h.items {
		h.delta[i] = 0
		for j, b := range h.items {
			h.delta[i] += inv[i][j] * f.pull[b]
		}
		h.ss -= h.delta[i] * f.pull[a]
	}
	h.ss = math.Max(0, h.ss)
	square := (f.nu0 + h.ss) / (f.nu0 + float64(f.dof))
	for i := range n {
		h.sd[i] = math.Sqrt(inv[i][i] * square)
		det /= square
	}
	return det, true
}
