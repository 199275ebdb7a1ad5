package book

import (
	"fmt"
	"strconv"
	"strings"
)

// A Range is some setups one after the other, as it is keyed: 7, or 1-3.
type Range struct{ From, To int }

// mostSetups bounds what a range may name: more than a firm books in a lifetime.
const mostSetups = 10_000_000

// UnmarshalText reads a range.
func (r *Range) UnmarshalText(text []byte) error {
	from, to, both := strings.Cut(string(text), "-")
	if !both {
		to = from
	}
	var err, err2 error
	r.From, err = strconv.Atoi(strings.TrimSpace(from))
	r.To, err2 = strconv.Atoi(strings.TrimSpace(to))
	if err != nil || err2 != nil || r.From < 1 || r.To < r.From || r.To > mostSetups {
		return fmt.Errorf("%q names no setups: expected numbers such as 7 or 1-3,7", text)
	}
	return nil
}

// Numbers lists the numbers of ranges; none give nil, which is every setup.
func Numbers(ranges []Range) []int {
	var ns []int
	for _, r := range ranges {
		for n := r.From; n <= r.To; n++ {
			ns = append(ns, n)
		}
	}
	return ns
}
