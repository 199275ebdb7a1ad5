package places

import "slices"

// order returns the points that move in an order that keeps those that are
// observed together close: the normal equations are then narrow. [RCM]
func (w *work) order() []int {
	near := w.neighbours()
	done := make([]bool, len(near))
	var starts, out []int
	for p := range near {
		if w.moves(p) {
			starts = append(starts, p)
		}
	}
	fewestFirst := func(a, b int) int { return len(near[a]) - len(near[b]) }
	slices.SortStableFunc(starts, fewestFirst)
	for _, start := range starts {
		if done[start] {
			continue
		}
		start = w.edge(near, start, done)
		done[start] = true
		at := len(out)
		for out = append(out, start); at < len(out); at++ {
			var next []int
			for _, q := range near[out[at]] {
				if !done[q] {
					done[q] = true
					next = append(next, q)
				}
			}
			slices.SortStableFunc(next, fewestFirst)
			out = append(out, next...)
		}
	}
	slices.Reverse(out)
	return out
}

// edge walks twice to the far end of what hangs together with p.
func (w *work) edge(near [][]int, p int, done []bool) int {
	for range 2 {
		seen := map[int]bool{p: true}
		walk := []int{p}
		for at := 0; at < len(walk); at++ {
			for _, q := range near[walk[at]] {
				if !seen[q] && !done[q] {
					seen[q] = true
					walk = append(walk, q)
				}
			}
		}
		p = walk[len(walk)-1]
	}
	return p
}

// neighbours lists, of every point that moves, those that an observation or a set
// of directions has together with it.
func (w *work) neighbours() [][]int {
	members := make([][]int, len(w.orient))
	near := make([]map[int]bool, len(w.at))
	for p := range near {
		near[p] = map[int]bool{}
	}
	join := func(points ...int) {
		for _, a := range points {
			for _, b := range points {
				if a != b && w.moves(a) && w.moves(b) {
					near[a][b] = true
				}
			}
		}
	}
	for _, o := range w.obs {
		switch o.Kind {
		case Direction:
			members[o.Set] = append(members[o.Set], o.From, o.To)
		case Angle:
			join(o.From, o.To, o.Back)
		case Distance, Bearing:
			join(o.From, o.To)
		}
	}
	for _, m := range members {
		slices.Sort(m)
		join(slices.Compact(m)...)
	}
	out := make([][]int, len(near))
	for p, m := range near {
		for q := range m {
			out[p] = append(out[p], q)
		}
		slices.Sort(out[p])
	}
	return out
}

func (w *work) moves(p int) bool { return w.free[p] > 0 }
