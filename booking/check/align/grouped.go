package align

import (
	"cmp"
	"slices"
)

// Grouped sorts a list into groups that agree with their first one, the largest group
// first; of equals, the one begun first.
func Grouped[E any](list []E, agree func(a, b E) bool) [][]E {
	var groups [][]E
	for _, x := range list {
		i := slices.IndexFunc(groups, func(g []E) bool { return agree(g[0], x) })
		if i < 0 {
			groups = append(groups, nil)
			i = len(groups) - 1
		}
		groups[i] = append(groups[i], x)
	}
	slices.SortStableFunc(groups, func(a, b []E) int { return cmp.Compare(len(b), len(a)) })
	return groups
}
