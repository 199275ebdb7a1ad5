package culprit

import (
	"math"
	"slices"
)

// kept is how many hypotheses of each size are weighed in full.
const kept = 24

// hopeless is how far a hypothesis may lie behind the best by the geometry, as a
// logarithm: digits that explain it make up 10 at most.
const hopeless = 30

// ranking is all hypotheses weighed in full, the best first; the weights make 1.
type ranking struct {
	f      *field
	hs     []hypothesis
	weight []float64
}

// rank weighs the hypotheses: singles, then pairs of faults, then the best pairs
// with a third.
func (f *field) rank() ranking {
	r := ranking{f: f}
	singles := f.singles()
	best := f.best(combined)
	if f.n > wide {
		best = best[:combined/2]
	}
	doubles := f.doubles(best)
	triples := f.grow(doubles[:min(6, len(doubles))], best)
	for _, hs := range [][]hypothesis{singles, doubles, triples} {
		r.hs = append(r.hs, hs[:min(kept, len(hs))]...)
	}
	top := math.Inf(-1)
	for _, h := range r.hs {
		top = math.Max(top, h.score)
	}
	r.hs = slices.DeleteFunc(r.hs, func(h hypothesis) bool { return h.score < top-hopeless })
	for i := range r.hs {
		f.weigh(&r.hs[i])
	}
	sortByScore(r.hs)
	r.normalise()
	return r
}

// singles weighs every item by itself and returns the best.
func (f *field) singles() []hypothesis {
	out := shortlist{f: f, size: 1}
	h := hypothesis{items: make([]int, 1)}
	for a := range f.list {
		h.items[0] = a
		if f.rough(&h) {
			out.take(candidate{h.score, [3]int{a, -1, -1}})
		}
	}
	return out.hypotheses()
}

// combined is how many items are combined with each other; in a station of more than
// so many readings half as many, as hardly two of its readings can hide each other.
const combined, wide = 300, 240

// doubles weighs all pairs of single readings, and single readings with the
// other faults, of the best items, and returns the best of them.
func (f *field) doubles(best []int) []hypothesis {
	out := shortlist{f: f, size: 2}
	h := hypothesis{items: make([]int, 2)}
	row, tail := make([]float64, f.n), make([]float64, f.n)
	for i, b := range best {
		if b >= f.n {
			continue
		}
		f.q.Row(b, row)
		f.tails(row, tail)
		p, g := f.own[b], f.pull[b]
		for j, a := range best {
			if a < f.n && j >= i {
				continue
			}
			c := f.along(row, tail, a)
			q, k := f.own[a], f.pull[a]
			det := p*q - c*c
			if det > 0 && out.hopeless(f.ss-(q*g*g-2*c*g*k+p*k*k)/det, det, b, a) {
				continue
			}
			if h.items[0], h.items[1] = min(a, b), max(a, b); f.rough(&h) {
				out.take(candidate{h.score, [3]int{h.items[0], h.items[1], -1}})
			}
		}
	}
	return out.hypotheses()
}

// tails puts into tail the sum of row from each reading to the end of its round.
func (f *field) tails(row, tail []float64) {
	for _, of := range f.inRound {
		sum := 0.0
		for _, k := range slices.Backward(of) {
			sum += row[k]
			tail[k] = sum
		}
	}
}

// along returns hᵀQh′ of the reading whose row and tails these are, and an item.
func (f *field) along(row, tail []float64, a int) float64 {
	x := &f.list[a]
	switch x.form {
	case oneReading:
		return row[x.at]
	case movedFrom:
		return tail[x.at]
	}
	sum := 0.0
	for i, k := range x.of {
		sum += float64(x.weight(i) * row[k])
	}
	return sum
}

// grow adds a single reading to each of the hypotheses.
func (f *field) grow(from []hypothesis, best []int) []hypothesis {
	out := shortlist{f: f, size: 3}
	seen := map[[3]int]bool{}
	h := hypothesis{items: make([]int, 3)}
	for _, base := range from {
		x, y := base.items[0], base.items[1]
		p, q, c := f.own[x], f.own[y], f.between(x, y)
		det := p*q - c*c
		for _, a := range best {
			if a >= f.n || slices.Contains(base.items, a) {
				continue
			}
			d, e := f.between(x, a), f.between(y, a)
			pull := f.pull[a] - d*base.delta[0] - e*base.delta[1]
			own := f.own[a] - (q*d*d-2*c*d*e+p*e*e)/det
			if own > 0 && out.hopeless(base.ss-pull*pull/own, det*own, x, y, a) {
				continue
			}
			copy(h.items, base.items)
			h.items[2] = a
			slices.Sort(h.items)
			if key := [3]int(h.items); !seen[key] && f.rough(&h) {
				seen[key] = true
				out.take(candidate{h.score, key})
			}
		}
	}
	return out.hypotheses()
}

func sortByScore(hs []hypothesis) {
	slices.SortFunc(hs, func(a, b hypothesis) int { return byScore(a.score, b.score, a.items, b.items) })
}

// normalise turns scores into weights.
func (r *ranking) normalise() {
	r.weight = make([]float64, len(r.hs))
	sum := 0.0
	for i, h := range r.hs {
		r.weight[i] = math.Exp(h.score - r.hs[0].score)
		sum += r.weight[i]
	}
	for i := range r.weight {
		r.weight[i] /= sum
	}
}

// holding returns the weight of the hypotheses with an item for which ok holds.
func (r *ranking) holding(ok func(item) bool) float64 {
	w := 0.0
	for i, h := range r.hs {
		if slices.ContainsFunc(h.items, func(a int) bool { return ok(r.f.list[a]) }) {
			w += r.weight[i]
		}
	}
	return w
}
