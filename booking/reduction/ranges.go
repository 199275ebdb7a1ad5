package reduction

import (
	"sync"

	"example.org/readback/reduce/precision"
)

// The limits below are those of reduce, worked out once for each risk, number and
// degrees of freedom: a book of a thousand setups asks for the same few.

func rangeLimit(risk float64, n, dof int) float64 {
	return limit{rangeOf, risk, n, dof}.kept(func() float64 { return precision.RangeLimit(risk, n, dof) })
}

func studentLimit(risk float64, dof int) float64 {
	return limit{studentOf, risk, 0, dof}.kept(func() float64 { return precision.StudentLimit(risk, dof) })
}

func tauLimit(risk float64, n, dof int) float64 {
	return limit{tauOf, risk, n, dof}.kept(func() float64 { return precision.TauLimit(risk, n, dof) })
}

// A limit is what one of them was asked.
type limit struct {
	of     limitKind
	risk   float64
	n, dof int
}

type limitKind uint8

const (
	rangeOf limitKind = iota
	studentOf
	tauOf
)

// kept returns the answer that was worked out before, else what work makes it.
func (l limit) kept(work func() float64) float64 {
	if q, ok := limits.Load(l); ok {
		return q.(float64)
	}
	q := work()
	limits.Store(l, q)
	return q
}

// limits keeps what was worked out. It is a table that is filled as it is asked: a limit
// follows from what it was asked and from nothing else, so no answer depends on what is
// kept, and which rows a book asks for is not known beforehand.
var limits sync.Map // of limit: float64
