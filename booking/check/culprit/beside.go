package culprit

import (
	"cmp"
	"math"
	"slices"

	"example.org/readback/booking/check/slip"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/precision"
)

// nearly is how far the normalised residual of a reading may lie under that of the
// leading one for it to be told as an alternative. The leading one is the largest of
// all readings; the drift, of which there is but one, is held against the deviate that
// is as rare for one as that is for the largest of so many.
const nearly = 1.0

// ofOne returns the two-sided normal deviate that is as rare as one like that among n.
func ofOne(deviate float64, n int) float64 {
	return precision.NormalLimit(math.Min(1, float64(n)*math.Erfc(deviate/math.Sqrt2)))
}

// besides is how many readings are told beside the leading one at most.
const besides = 3

// beside adds to a reading, or a pointing from which everything turned, that is named
// alone the readings of other sights, and beside a reading the drift, whose normalised
// residuals lie within 1.0 of its own: chance may have set them in that order. What else
// the leading hypothesis supposes is taken out before.
func (r *ranking) beside(lead *hypothesis, i int, list []Suspect) []Suspect {
	a := r.f.list[lead.items[i]]
	if len(list) != 1 || a.form != oneReading && (a.form != movedFrom || list[0].Face == faces.NoFace) {
		return list
	}
	open := list[0].Face == faces.NoFace
	for _, k := range r.closest(lead, i) {
		q := r.f.s.Readings[r.f.list[k].at]
		if open && r.f.list[k].form == oneReading && r.f.s.Name(q.Target) == list[0].Target && (list[0].Round == 0 || list[0].Round == q.Round) {
			continue // told with the open face or round
		}
		x := hypothesis{items: slices.Clone(lead.items)}
		x.items[i] = k
		if _, ok := r.f.solve(&x); !ok {
			continue
		}
		s := r.named(&x, i, r.f.list[k])
		s.Weight = r.holding(func(b item) bool { return b.form == r.f.list[k].form && b.at == r.f.list[k].at })
		if k < r.f.n && r.exchanged(lead, i, k) {
			s.Kind, s.Part = list[0].Kind, list[0].Part
			s.Weight = (list[0].Weight + s.Weight) / 2
			list[0].Weight = s.Weight
		}
		if s.Alike = true; !contains(list, s) {
			list = append(list, s)
		}
	}
	list[0].Alike = len(list) > 1
	return list
}

// exchanged tells whether item i of the leading hypothesis is one of two targets of a
// half sighted in each other's place, and k its partner on the other face, where the
// exchange may as well have been made: no round tells which face is right, so that
// the figures of the one look exchanged beside those of the other.
func (r *ranking) exchanged(lead *hypothesis, i, k int) bool {
	f := r.f
	at, partner := f.list[lead.items[i]], f.s.Readings[k]
	q := f.s.Readings[at.at]
	if at.form != oneReading || partner.Target != q.Target || partner.Round != q.Round || partner.Face == q.Face {
		return false
	}
	if r.named(lead, i, at).Kind != slip.WrongTarget {
		return false
	}
	for j, b := range lead.items {
		p := f.s.Readings[f.list[b].at]
		if j == i || f.list[b].form != oneReading || p.Round != q.Round || p.Face != q.Face || r.named(lead, j, f.list[b]).Kind != slip.WrongTarget {
			continue
		}
		for l, o := range f.s.Readings {
			if o.Round != p.Round || o.Target != p.Target || o.Face == p.Face {
				continue
			}
			x := hypothesis{items: slices.Clone(lead.items)}
			x.items[i], x.items[j] = k, l
			if _, ok := f.solve(&x); ok && x.ss < lead.ss+4 {
				return true
			}
		}
	}
	return false
}

// closest lists the readings that could stand in the place of item i of the leading
// hypothesis, and the drift in that of a reading, by their normalised residuals, the
// largest first.
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
	own := f.list[lead.items[i]]
	for k, b := range f.list {
		least := most - nearly
		switch {
		case slices.Contains(lead.items, k):
			continue
		case b.form == oneReading && !f.sameSight(k, own.at):
		case b.form == drifting && own.form == oneReading:
			least = ofOne(most, f.n) - nearly
		default:
			continue
		}
		x := hypothesis{items: slices.Clone(lead.items)}
		x.items[i] = k
		if _, ok := f.solve(&x); ok {
			if sizes[k] = residual(x); sizes[k] > least {
				list = append(list, k)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(sizes[b], sizes[a]) })
	return list[:min(len(list), besides)]
}
