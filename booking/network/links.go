package network

import "slices"

// mostLinks bounds how many links a report works.
const mostLinks = 24

// A walkway is a walk that is no ring: from a fixed start to a fixed end.
type walkway struct {
	stations []string
	first    mark // sighted from the start
	last     mark // sighted from the end; no name where there is none
}

// links returns the shortest walks between fixed stations: from an occupied one
// with a known mark, over stations that are not fixed, to one with known
// coordinates or a known mark. The end need not be occupied.
func (n *net) links() []walkway {
	var out []walkway
	done := map[[2]string]bool{}
	for _, from := range n.stations {
		if !n.fixed(from) {
			continue
		}
		for _, way := range n.waysToFixed(from) {
			to := way[len(way)-1]
			pair := [2]string{min(from, to), max(from, to)}
			if done[pair] || len(out) >= mostLinks {
				continue
			}
			if w, ok := n.walkwayOf(way); ok {
				done[pair] = true
				out = append(out, w)
			}
		}
	}
	return out
}

// fixed tells whether a station has known coordinates or sights a known mark.
func (n *net) fixed(name string) bool {
	if _, ok := n.point(name); ok {
		return true
	}
	return n.oriented(name)
}

// oriented tells whether a station sights a known mark.
func (n *net) oriented(name string) bool {
	return slices.ContainsFunc(n.targets(name), func(t string) bool {
		_, ok := n.bearing(name, t)
		return ok
	})
}

// waysToFixed returns shortest ways from a station to other fixed ones that have
// at least one station between that is not fixed.
func (n *net) waysToFixed(from string) [][]string {
	var out [][]string
	way := map[string][]string{from: {from}}
	queue := []string{from}
	for len(queue) > 0 {
		s := queue[0]
		queue = queue[1:]
		for _, t := range n.next(s) {
			if way[t] != nil {
				continue
			}
			way[t] = append(slices.Clone(way[s]), t)
			switch {
			case !n.fixed(t):
				queue = append(queue, t)
			case s != from:
				out = append(out, way[t])
			default:
				delete(way, t) // it may be reached over others too
			}
		}
	}
	return out
}

// next returns the stations a walk can go on to: those sighted mutually, and
// known stations that are sighted but not occupied.
func (n *net) next(from string) []string {
	out := slices.Clone(n.near[from])
	for _, t := range n.targets(from) {
		if _, ok := n.point(t); ok && !n.occupied(t) {
			out = append(out, t)
		}
	}
	return out
}

// walkwayOf finds the marks at both ends. ok is false where the start has none,
// where an angle between is missing, or where the end fixes nothing.
func (n *net) walkwayOf(way []string) (walkway, bool) {
	k := len(way) - 1
	w := walkway{stations: way}
	for i := 1; i < k; i++ {
		if _, ok := n.angle(way[i], way[i-1], way[i+1]); !ok {
			return w, false
		}
	}
	var ok bool
	if w.first, ok = n.mark(way[0], way[1], ""); !ok {
		return w, false
	}
	w.last, _ = n.mark(way[k], way[k-1], way[k-1])
	_, start := n.point(way[0])
	_, end := n.point(way[k])
	return w, w.last.name != "" || start && end
}
