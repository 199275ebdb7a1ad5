package culprit

import (
	"cmp"
	"math"
	"slices"
)

// kept is how many hypotheses of each size are weighed in full.
const kept = 24

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
	f.keepShares()
	singles := f.singles()
	doubles := f.doubles()
	triples := f.grow(doubles[:min(6, len(doubles))])
	for _, hs := range [][]hypothesis{singles, doubles, triples} {
		r.hs = append(r.hs, hs[:min(kept, len(hs))]...)
	}
	for i := range r.hs {
		f.weigh(&r.hs[i])
	}
	sortByScore(r.hs)
	r.normalise()
	return r
}

// singles weighs every item by itself.
func (f *field) singles() []hypothesis {
	var out []hypothesis
	for a := range f.list {
		h := hypothesis{items: []int{a}}
		if f.rough(&h) {
			out = append(out, h)
		}
	}
	sortByScore(out)
	return out
}

// combined is how many items are combined with each other.
const combined = 300

// doubles weighs all pairs of single readings, and single readings with the
// other faults, and returns the best of them.
func (f *field) doubles() []hypothesis {
	var out []hypothesis
	least := math.Inf(-1)
	h := hypothesis{items: make([]int, 2)}
	best := f.best(combined)
	for i, a := range best {
		for _, b := range best[:i] {
			h.items[0], h.items[1] = b, a
			if b >= f.n || !f.rough(&h) || h.score <= least {
				continue
			}
			good := h
			good.items = []int{b, a}
			if out = append(out, good); len(out) == 4*kept {
				sortByScore(out)
				out = out[:kept]
				least = out[kept-1].score
			}
		}
	}
	sortByScore(out)
	return out
}

// grow adds a single reading to each of the hypotheses.
func (f *field) grow(from []hypothesis) []hypothesis {
	var out []hypothesis
	for _, base := range from {
		for _, a := range f.best(combined) {
			if a >= f.n || slices.Contains(base.items, a) {
				continue
			}
			items := append(slices.Clone(base.items), a)
			slices.Sort(items)
			if slices.ContainsFunc(out, func(h hypothesis) bool { return slices.Equal(h.items, items) }) {
				continue
			}
			h := hypothesis{items: items}
			if f.rough(&h) {
				out = append(out, h)
			}
		}
	}
	sortByScore(out)
	return out
}

func sortByScore(hs []hypothesis) {
	slices.SortStableFunc(hs, func(a, b hypothesis) int { return cmp.Compare(b.score, a.score) })
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
