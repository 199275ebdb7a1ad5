package check

import (
	"example.org/readback/booking/check/align"
	"example.org/readback/reduce"
)

// A pairError is the 2c or the index error of one pair, and its target.
type pairError struct {
	target string
	value  reduce.Angle
}

// grouped sorts the errors of pairs into those that agree: one gross pair does not draw
// the mean of the others away.
func grouped(list []pairError, near reduce.Angle) [][]pairError {
	return align.Grouped(list, func(a, b pairError) bool { return (a.value - b.value).Wrap().Abs() <= near })
}

// agreeing returns the group that a value is nearest to, of the largest ones.
func agreeing(groups [][]pairError, value reduce.Angle) []pairError {
	best := groups[0]
	for _, g := range groups[1:] {
		if len(g) == len(best) && (value-meanOf(g)).Wrap().Abs() < (value-meanOf(best)).Wrap().Abs() {
			best = g
		}
	}
	return best
}

// straying names the one pair that a value tells apart: two were booked, which did
// not agree, and it decides between them.
func straying(groups [][]pairError, value reduce.Angle) string {
	if len(groups) != 2 || len(groups[0]) != 1 || len(groups[1]) != 1 {
		return ""
	}
	one, other := groups[0][0], groups[1][0]
	if (value - one.value).Wrap().Abs() < (value - other.value).Wrap().Abs() {
		return other.target
	}
	return one.target
}

func meanOf(g []pairError) reduce.Angle {
	list := make([]reduce.Angle, len(g))
	for i, x := range g {
		list[i] = x.value
	}
	return mean(list)
}
