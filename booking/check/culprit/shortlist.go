package culprit

import (
	"cmp"
	"math"
	"slices"
)

// A candidate is the items of a hypothesis, −1 where there are fewer, and its score.
type candidate struct {
	score float64
	items [3]int
}

// A shortlist takes candidates of one size and keeps the best.
type shortlist struct {
	f     *field
	size  int
	list  []candidate
	full  bool    // as many as are kept are there
	least float64 // the score that the last of those kept has
	most  float64 // a misfit that is larger is hopeless, whatever the items
}

// take adds a candidate.
func (s *shortlist) take(c candidate) {
	if s.full && c.score <= s.least {
		return
	}
	if s.list = append(s.list, c); len(s.list) >= 4*kept {
		s.sort()
	}
}

// sort keeps the best, the first on the page where they are alike.
func (s *shortlist) sort() {
	slices.SortFunc(s.list, func(a, b candidate) int {
		return byScore(a.score, b.score, a.items[:], b.items[:])
	})
	if len(s.list) >= kept {
		s.list = s.list[:kept]
		s.full, s.least = true, s.list[kept-1].score
		s.most = s.f.mostMisfit(s.least, s.size)
	}
}

// byScore compares two hypotheses: the larger score first, the first on the page where
// they differ by no more than rounding does.
func byScore(a, b float64, items, others []int) int {
	return cmp.Or(cmp.Compare(math.Round(b/hair), math.Round(a/hair)), slices.Compare(items, others))
}

// mostMisfit is the misfit that a hypothesis of so many items can leave at the most,
// the likeliest ones and the smallest determinant there is, and reach a score.
func (f *field) mostMisfit(score float64, items int) float64 {
	free, each := f.nu0+float64(f.dof), math.Inf(-1)
	for a, own := range f.own {
		if own >= leastRedundancy {
			each = math.Max(each, f.common[a]+f.ceiling[a])
		}
	}
	each += f.unit - math.Log(free)/2 - math.Log(leastRedundancy)/2
	return math.Exp((float64(items)*each-score+hair)/((free-float64(items))/2)) - f.nu0
}

// hopeless tells whether a hypothesis that leaves a misfit of ss, its weights having
// the determinant det, cannot come among the best whatever the sizes of its errors:
// each counts as the likeliest there is. It is the score of rough from above, and
// spares nearly all of that where the readings are many.
func (s *shortlist) hopeless(ss, det float64, items ...int) bool {
	if !s.full || ss > s.most {
		return s.full
	}
	f := s.f
	free := f.nu0 + float64(f.dof)
	left := math.Log(f.nu0 + math.Max(0, ss))
	most := -free/2*left + float64(len(items))*(f.unit+(left-math.Log(free))/2) - math.Log(det)/2 + hair
	for _, a := range items {
		most += f.common[a] + f.ceiling[a]
	}
	return most < s.least
}

// hair is more than what rounding can make of a score.
const hair = 1e-6

// hypotheses returns the best as hypotheses that are fitted.
func (s *shortlist) hypotheses() []hypothesis {
	s.sort()
	var out []hypothesis
	for _, c := range s.list {
		h := hypothesis{items: slices.Clone(c.items[:s.size])}
		s.f.rough(&h)
		out = append(out, h)
	}
	return out
}
