package culprit

import (
	"cmp"
	"math"
	"slices"
)

// table holds, for a list of items, hᵀg and hᵀQh of each.
type table struct {
	list    []item
	inRound [][]int // the readings of each round, in the order booked
	pull    []float64
	own     []float64
	common  []float64 // logarithm of how common each is
	ceiling []float64 // logarithm of how likely an error of each is at the most, per second
	unit    float64   // logarithm of √(2π)·sigma
}

// tabulate lists the items and works out hᵀg and hᵀQh of each.
func (f *field) tabulate() {
	f.list = f.items()
	n := len(f.list)
	room := make([]float64, 4*n)
	f.pull, f.own, f.common, f.ceiling = room[:n], room[n:2*n], room[2*n:3*n], room[3*n:]
	f.unit = math.Log(2*math.Pi)/2 + math.Log(f.sigma)
	var common [drifting + 1]float64
	for x := range common {
		common[x] = f.prior(form(x))
	}
	most := math.Log(f.free(0))
	for i, a := range f.list {
		for j, k := range a.of {
			f.pull[i] += a.weight(j) * f.g[k]
		}
		if f.ceiling[i] = most; a.by != nil {
			f.ceiling[i] = math.Log(f.anyCause(0, a))
		}
		f.common[i] = common[a.form]
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
	return f.product(f.list[a], f.list[b])
}

// best returns the n items with the largest deviates, the largest first, all where
// there are fewer.
func (f *field) best(n int) []int {
	at, z := make([]int, len(f.list)), make([]float64, len(f.list))
	for i := range at {
		at[i], z[i] = i, f.pull[i]*f.pull[i]/math.Max(f.own[i], leastRedundancy)
	}
	slices.SortFunc(at, func(a, b int) int { return cmp.Or(cmp.Compare(z[b], z[a]), cmp.Compare(a, b)) })
	return at[:min(n, len(at))]
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
