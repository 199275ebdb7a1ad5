package culprit

import (
	"math"
	"slices"

	"example.org/readback/reduce"
)

// Risks of naming a reading in a station where all are sound, for all readings
// together: two in a hundred; five where a limit is exceeded already. Half of
// that where the standard deviation is not stated was tried: it kept one sound
// station in two hundred quiet and lost one slip of 15″ in a hundred. Beside a
// pair that is wrong as a whole, and explains the misfit, three in a thousand.
const (
	risk         = 0.02
	riskExceeded = 0.05
	riskBeside   = 0.003
)

// critical returns the least significant deviate: the two-sided normal limit at
// the risk divided by the number of readings, widened to Student's where the
// standard deviation is not stated.
func (f *field) critical(risk float64) float64 {
	z := reduce.NormalLimit(risk / float64(f.n))
	if f.s.Sigma > 0 {
		return z
	}
	return student(z, nuStated+float64(f.dof)-1)
}

func riskOf(exceeded bool) float64 {
	if exceeded {
		return riskExceeded
	}
	return risk
}

// student returns the quantile of Student's distribution with nu degrees of
// freedom that belongs to the normal quantile z, by the first terms of its
// expansion (Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.5;
// from memory).
func student(z, nu float64) float64 {
	z3 := z * z * z
	return z + (z3+z)/(4*nu) + (5*z3*z*z+16*z3+3*z)/(96*nu*nu)
}

// deviate returns the error of item i over its standard deviation. h.sd grows
// and shrinks with the scatter that h leaves; where the readings are smoother
// than stated it is taken as stated, where they are rougher as they scatter.
func (f *field) deviate(h *hypothesis, i int) float64 {
	scale := math.Sqrt((f.nu0 + h.ss) / (f.nu0 + float64(f.dof)))
	return math.Abs(h.delta[i]) / h.sd[i] * math.Min(1, scale)
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
		if p.Round != q.Round || p.Target != q.Target || p.Right == q.Right {
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
