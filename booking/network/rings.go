package network

import (
	"slices"
	"strings"
)

// mostRings bounds how many rings a report works.
const mostRings = 500

// farthest bounds how many legs a ring may lie away from where its search began:
// rings of up to twice as many stations are found, longer ones only where they
// were walked in order.
const farthest = 20

// rings returns the rings of the net, each as the stations in walking order.
// First the walk through all stations in the order they were occupied, where it
// closes; then the shortest rings that do not follow from those before.
func (n *net) rings() [][]string {
	var out [][]string
	span := newCycleSpace(n)
	if w := n.walk(); len(w) >= 3 && n.mutual(w[0], w[len(w)-1]) && n.workable(w) {
		span.add(w)
		out = append(out, w)
	}
	for _, r := range n.shortRings() {
		if len(out) >= mostRings {
			break
		}
		if span.add(r) {
			out = append(out, r)
		}
	}
	return out
}

// walk returns the longest run of stations from the first one, in the order of
// occupation, in which each sights the next mutually.
func (n *net) walk() []string {
	if len(n.stations) == 0 {
		return nil
	}
	w := []string{n.stations[0]}
	for _, s := range n.stations[1:] {
		if !n.mutual(w[len(w)-1], s) {
			break
		}
		w = append(w, s)
	}
	return w
}

// workable tells whether every angle of a ring was observed in one setup.
func (n *net) workable(ring []string) bool {
	k := len(ring)
	for i, s := range ring {
		if _, ok := n.angle(s, ring[(i+k-1)%k], ring[(i+1)%k]); !ok {
			return false
		}
	}
	return true
}

// shortRings lists, shortest first, the rings made of two shortest ways from a
// station and the leg between their ends: they hold a shortest basis of all
// rings (Horton's construction, from memory).
func (n *net) shortRings() [][]string {
	var out [][]string
	for _, root := range n.stations {
		parent, reached := n.ways(root)
		for _, a := range reached {
			for _, b := range n.near[a] {
				if a >= b || parent[a] == b || parent[b] == a {
					continue
				}
				if r := joined(parent, root, a, b); r != nil && n.isFirst(root, r) && n.workable(r) {
					out = append(out, n.fromFirst(r))
				}
			}
		}
	}
	slices.SortStableFunc(out, func(x, y []string) int {
		if len(x) != len(y) {
			return len(x) - len(y)
		}
		return strings.Compare(strings.Join(x, "\x00"), strings.Join(y, "\x00"))
	})
	return slices.CompactFunc(out, slices.Equal)
}

// ways returns for every station within reach the one before it on a shortest
// way from root, and these stations in the order reached.
func (n *net) ways(root string) (parent map[string]string, reached []string) {
	parent = map[string]string{root: root}
	reached = []string{root}
	for from, depth := 0, 0; from < len(reached) && depth < farthest; depth++ {
		to := len(reached)
		for _, s := range reached[from:to] {
			for _, t := range n.near[s] {
				if _, seen := parent[t]; !seen {
					parent[t] = s
					reached = append(reached, t)
				}
			}
		}
		from = to
	}
	return parent, reached
}

// joined returns the ring root … a, b … root, or nil where the two ways meet
// before root or do not reach it.
func joined(parent map[string]string, root, a, b string) []string {
	up := func(s string) []string {
		var w []string
		for s != root {
			p, ok := parent[s]
			if !ok {
				return nil
			}
			w, s = append(w, s), p
		}
		return w
	}
	wa, wb := up(a), up(b)
	if a != root && wa == nil || b != root && wb == nil {
		return nil
	}
	slices.Reverse(wa)
	ring := append(append([]string{root}, wa...), wb...)
	seen := map[string]bool{}
	for _, s := range ring {
		if seen[s] {
			return nil
		}
		seen[s] = true
	}
	if len(ring) < 3 {
		return nil
	}
	return ring
}

// isFirst tells whether root was occupied before every other station of the
// ring: each ring is taken once, from there.
func (n *net) isFirst(root string, ring []string) bool {
	return !slices.ContainsFunc(ring, func(s string) bool { return n.order[s] < n.order[root] })
}

// fromFirst turns a ring so that it begins at its first occupied station and
// goes on to the earlier occupied of the two next ones.
func (n *net) fromFirst(ring []string) []string {
	first := 0
	for i, s := range ring {
		if n.order[s] < n.order[ring[first]] {
			first = i
		}
	}
	r := append(slices.Clone(ring[first:]), ring[:first]...)
	if n.order[r[len(r)-1]] < n.order[r[1]] {
		slices.Reverse(r[1:])
	}
	return r
}

// A cycleSpace tells whether a ring follows from others by leaving out the legs
// they share: linear algebra over two elements, a row for each ring.
type cycleSpace struct {
	legs map[[2]string]int
	rows [][]uint64
}

func newCycleSpace(n *net) *cycleSpace {
	c := &cycleSpace{legs: map[[2]string]int{}}
	for _, a := range n.stations {
		for _, b := range n.near[a] {
			if a < b {
				c.legs[[2]string{a, b}] = len(c.legs)
			}
		}
	}
	return c
}

// add adds the ring and tells whether it was a new one.
func (c *cycleSpace) add(ring []string) bool {
	row := make([]uint64, len(c.legs)/64+1)
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		k := c.legs[[2]string{min(a, b), max(a, b)}]
		row[k/64] ^= 1 << (k % 64)
	}
	for _, r := range c.rows {
		if k := lead(r); row[k/64]&(1<<(k%64)) != 0 {
			for i := range row {
				row[i] ^= r[i]
			}
		}
	}
	if lead(row) < 0 {
		return false
	}
	c.rows = append(c.rows, row)
	return true
}

// lead returns the first leg of a row, −1 where there is none.
func lead(row []uint64) int {
	for i, w := range row {
		for k := range 64 {
			if w&(1<<k) != 0 {
				return 64*i + k
			}
		}
	}
	return -1
}
