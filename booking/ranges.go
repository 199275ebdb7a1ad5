package booking

import (
	"sync"

	"example.org/readback/reduce/precision"
)

// rangeLimit is reduce.RangeLimit worked out once for each risk, number and degrees
// of freedom: a book of a thousand setups asks for the same few.
func rangeLimit(risk float64, n, dof int) float64 {
	of := rangeOf{risk, n, dof}
	if q, ok := ranges.Load(of); ok {
		return q.(float64)
	}
	q := precision.RangeLimit(risk, n, dof)
	ranges.Store(of, q)
	return q
}

// ranges keeps what was worked out. A limit follows from its three numbers and from
// nothing else, so no answer depends on what is kept.
var ranges sync.Map // of rangeOf: float64

type rangeOf struct {
	risk   float64
	n, dof int
}
