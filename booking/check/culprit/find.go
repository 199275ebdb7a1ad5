package culprit

import (
	"cmp"
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
	f.keepShares()
	singles := f.singles()
	doubles := f.doubles()
	triples := f.grow(doubles[:min(6, len(doubles))])
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
	var out shortlist
	least := math.Inf(-1)
	h := hypothesis{items: make([]int, 2)}
	best := f.best(combined)
	for i, a := range best {
		for _, b := range best[:i] {
			if h.items[0], h.items[1] = b, a; b >= f.n || !f.rough(&h) || h.score <= least {
				continue
			}
			if out = append(out, candidate{h.score, [3]int{b, a, -1}}); len(out) == 4*kept {
				out.sort()
				out = out[:kept]
				least = out[kept-1].score
			}
		}
	}
	return f.hypotheses(out)
}

// grow adds a single reading to each of the hypotheses.
func (f *field) grow(from []hypothesis) []hypothesis {
	var out shortlist
	seen := map[[3]int]bool{}
	best := f.best(combined)
	h := hypothesis{items: make([]int, 3)}
	for _, base := range from {
		for _, a := range best {
			if a >= f.n || slices.Contains(base.items, a) {
				continue
			}
			copy(h.items, base.items)
			h.items[2] = a
			slices.Sort(h.items)
			if key := [3]int(h.items); !seen[key] && f.rough(&h) {
				seen[key] = true
				out = append(out, candidate{h.score, key})
			}
		}
	}
	return f.hypotheses(out)
}

// A candidate is the items of a hypothesis, −1 where there are fewer, and its score.
type candidate struct {
	score float64
	items [3]int
}

type shortlist []candidate

func (s shortlist) sort() {
	slices.SortStableFunc(s, func(a, b candidate) int { return cmp.Compare(b.score, a.score) })
}

// hypotheses returns the best of a list as hypotheses that are fitted.
func (f *field) hypotheses(list shortlist) []hypothesis {
	list.sort()
	var out []hypothesis
	for _, c := range list[:min(kept, len(list))] {
		h := hypothesis{items: slices.Clone(c.items[:])}
		if c.items[2] < 0 {
			h.items = h.items[:2]
		}
		f.rough(&h)
		out = append(out, h)
	}
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
