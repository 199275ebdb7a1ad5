package culprit

import (
	"cmp"
	"math"
	"slices"

	"example.org/readback/reduce"
)

// nearly is how far the normalised residual of a reading may lie under that of the
// leading one for it to be told as an alternative.
const nearly = 1.0

// besides is how many readings are told beside the leading one at most.
const besides = 3

// beside adds to a reading, or a pointing from which everything turned, that is
// named alone the readings whose normalised residuals lie within 1.0 of its own:
// chance may have set them in that order. What else the leading hypothesis supposes
// is taken out before.
func (r *ranking) beside(lead *hypothesis, i int, list []Suspect) []Suspect {
	a := r.f.list[lead.items[i]]
	if len(list) != 1 || list[0].Face == reduce.NoFace || a.form != oneReading && a.form != movedFrom {
		return list
	}
	for _, k := range r.closest(lead, i) {
		x := hypothesis{items: slices.Clone(lead.items)}
		x.items[i] = k
		if _, ok := r.f.solve(&x); !ok {
			continue
		}
		s := r.named(&x, i, r.f.list[k])
		s.Weight = r.holding(func(b item) bool { return b.form == oneReading && b.at == k })
		if s.Alike = true; !contains(list, s) {
			list = append(list, s)
		}
	}
	list[0].Alike = len(list) > 1
	return list
}

// closest lists the readings that could stand in the place of item i of the leading
// hypothesis by their normalised residuals, the largest first.
func (r *ranking) closest(lead *hypothesis, i int) []int {
	f := r.f
	rest := hypothesis{items: slices.Delete(slices.Clone(lead.items), i, i+1), ss: f.ss}
	if len(rest.items) > 0 {
		if _, ok := f.solve(&rest); !ok {
			return nil
		}
	}
	scale := 1.0
	if f.s.Sigma <= 0 {
		scale = f.scatter(lead.ss, len(lead.items))
	}
	residual := func(h hypothesis) float64 { return math.Sqrt(math.Max(rest.ss-h.ss, 0)) / scale }
	most := residual(*lead)
	var list []int
	sizes := map[int]float64{}
	for k := range f.n {
		if slices.Contains(lead.items, k) || f.sameSight(k, f.list[lead.items[i]].at) {
			continue
		}
		x := hypothesis{items: slices.Clone(lead.items)}
		x.items[i] = k
		if _, ok := f.solve(&x); ok {
			if sizes[k] = residual(x); sizes[k] > most-nearly {
				list = append(list, k)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(sizes[b], sizes[a]) })
	return list[:min(len(list), besides)]
}
