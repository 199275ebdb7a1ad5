package book

import (
	"fmt"
	"strconv"
	"strings"
)

// Ranges are some setups as they are keyed: 7, 1-3 or 1-3,7.
type Ranges []int

// mostSetups bounds what a range may name: more than a firm books in a lifetime.
const mostSetups = 10_000_000

// UnmarshalText reads ranges.
func (r *Ranges) UnmarshalText(text []byte) error {
	for part := range strings.SplitSeq(string(text), ",") {
		from, to, both := strings.Cut(part, "-")
		if !both {
			to = from
		}
		a, err := strconv.Atoi(strings.TrimSpace(from))
		b, err2 := strconv.Atoi(strings.TrimSpace(to))
		if err != nil || err2 != nil || a < 1 || b < a || b > mostSetups {
			return fmt.Errorf("%q names no setups: expected numbers such as 7 or 1-3,7", text)
		}
		for n := a; n <= b; n++ {
			*r = append(*r, n)
		}
	}
	return nil
}

// Numbers puts ranges into one list; none give nil, which is every setup.
func Numbers(ranges []Ranges) []int {
	var ns []int
	for _, r := range ranges {
		ns = append(ns, r...)
	}
	return ns
}
