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

// Sorted lays out a list in so many groups, as place has them, in the order of the list;
// of says what stands for its k-th element. All groups share one piece of memory.
func Sorted[E, T any](list []E, groups int, place func(E) int, of func(k int) T) [][]T {
	count := make([]int, groups)
	for _, x := range list {
		count[place(x)]++
	}
	all, out := make([]T, len(list)), make([][]T, groups)
	for i, n := range count {
		out[i], all = all[:0:n], all[n:]
	}
	for k, x := range list {
		i := place(x)
		out[i] = append(out[i], of(k))
	}
	return out
}
