package culprit

import (
	"math"
	"slices"

	"example.org/readback/reduce/precision"
)

// Risks of naming anything in a station where all is sound: two in a hundred for
// single readings, all of them together, and four in a thousand for all other
// patterns (a pair, the RO of a round, everything after a sight, a drift); as much
// is left to the vertical circle. Where σ is not stated, two readings that hide
// each other have one in a thousand. Five in a hundred for the single readings
// where a limit is exceeded already. Beside a pair that is wrong as a whole, and
// explains the misfit, three in a thousand.
const (
	riskSingle   = 0.02
	riskPatterns = 0.004
	riskTwo      = 0.001
	riskExceeded = 0.05
	riskBeside   = 0.003
)

func riskOf(exceeded bool) float64 {
	if exceeded {
		return riskExceeded
	}
	return riskSingle
}

// A bound is the least significant deviate: the two-sided normal limit at a share of
// the risk, where the standard deviation is not stated Student's. That is larger and
// dear, and is worked out for what passes the least that it can be.
type bound struct {
	limit      float64
	share, dof float64
	exact      bool
}

// bound returns that of an item in a hypothesis of so many; Student's has the degrees
// of freedom that the hypothesis leaves.
func (f *field) bound(form form, risk float64, items int) bound {
	share := risk / float64(f.n)
	if form != oneReading {
		share = math.Min(risk, riskPatterns) / float64(max(len(f.list)-f.n, 1))
	}
	return f.boundAt(share, items)
}

func (f *field) boundAt(share float64, items int) bound {
	b := bound{limit: precision.NormalLimit(share), share: share, exact: f.s.Sigma > 0}
	if !b.exact {
		b.dof = f.freedom + float64(f.s.Before.Dof) - float64(items)
		b.limit = max(b.limit, precision.StudentLeast(share, b.dof))
	}
	return b
}

// passed tells whether a value is significant where its standard deviation is s.
func (b *bound) passed(value, s float64) bool {
	if value < b.limit*s {
		return false
	}
	if !b.exact {
		b.limit, b.exact = precision.StudentLimit(b.share, b.dof), true
	}
	return value >= b.limit*s
}

// deviate returns the error of item i over its standard deviation: the stated one,
// else that of the scatter which h leaves, never less than what the rounding of
// the readings makes.
func (f *field) deviate(h *hypothesis, i int) float64 {
	raw := math.Abs(h.delta[i]) / h.sd[i] * math.Sqrt((f.nu0+h.ss)/(f.nu0+float64(f.dof)))
	if f.s.Sigma > 0 {
		return raw
	}
	return raw / f.scatter(h.ss, len(h.items))
}

// scatter returns the standard deviation that a misfit of ss over so many items
// leaves, in units of sigma; what earlier setups of the instrument show counts with
// its own degrees of freedom.
func (f *field) scatter(ss float64, items int) float64 {
	step := f.s.LeastCount.Seconds() / f.sigma
	before := f.s.Before.S * f.s.Before.S * float64(f.s.Before.Dof) / (f.sigma * f.sigma)
	return math.Sqrt(math.Max((ss+before)/math.Max(f.freedom+float64(f.s.Before.Dof)-float64(items), 1), float64(step*step)/12))
}

// standsOut tells whether any single item is significant by itself.
func (f *field) standsOut(risk float64) bool {
	one, other := f.bound(oneReading, risk, 1), f.bound(onePair, risk, 1)
	for i, own := range f.own {
		if own < leastRedundancy {
			continue
		}
		limit := &one
		if f.list[i].form != oneReading {
			limit = &other
		}
		w := math.Abs(f.pull[i]) / math.Sqrt(own)
		if f.s.Sigma <= 0 {
			w /= f.scatter(math.Max(0, f.ss-w*w), 1)
		}
		if limit.passed(w, 1) {
			return true
		}
	}
	return f.s.Sigma <= 0 && f.twoStandOut(riskTwo*math.Min(1, risk/riskSingle))
}

// twoStandOut tells whether any two readings are significant together where σ is
// not stated: each hides the other while it makes the scatter.
func (f *field) twoStandOut(risk float64) bool {
	limit := f.boundAt(risk/(float64(f.n)*float64(f.n-1)/2), 2)
	if limit.dof < 1 {
		return false
	}
	least := f.leastOfTwo(limit)
	row := make([]float64, f.n)
	for a := range f.n {
		p, g := f.own[a], f.pull[a]
		if p < leastRedundancy {
			continue
		}
		f.q.Row(a, row)
		for b, c := range row[:a] {
			q, h := f.own[b], f.pull[b]
			det := p*q - c*c
			if det < leastRedundancy*p || q*g*g-2*c*g*h+p*h*h < least*det {
				continue
			}
			x, y := (q*g-c*h)/det, (p*h-c*g)/det
			s := f.scatter(math.Max(0, f.ss-x*g-y*h), 2)
			if limit.passed(math.Abs(x)*math.Sqrt(det/q), s) && limit.passed(math.Abs(y)*math.Sqrt(det/p), s) {
				return true
			}
		}
	}
	return false
}

// leastOfTwo is what two readings that are both significant explain of the misfit at
// least, a hair less: each has its limit beyond the scatter that both leave.
func (f *field) leastOfTwo(limit bound) float64 {
	before := f.s.Before.S * f.s.Before.S * float64(f.s.Before.Dof) / (f.sigma * f.sigma)
	square := limit.limit * limit.limit
	return (f.ss + before) * square / (math.Max(limit.dof, 1) + square) * (1 - 1e-9)
}

// faceOpen tells whether the geometry leaves open on which face of a pair the
// error of item i of h was made.
func (r *ranking) faceOpen(h *hypothesis, i int) bool {
	a := r.f.list[h.items[i]]
	if a.form != oneReading {
		return false
	}
	q := r.f.s.Readings[a.at]
	for k, p := range r.f.s.Readings {
		if p.Round != q.Round || p.Target != q.Target || p.Face == q.Face {
			continue
		}
		x := hypothesis{items: slices.Clone(h.items)}
		x.items[i] = k
		if _, ok := r.f.solve(&x); ok && x.ss < h.ss+4 {
			return true
		}
	}
	return false
}
