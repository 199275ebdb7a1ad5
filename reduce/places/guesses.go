package places

import (
	"cmp"
	"math"
	"slices"

	"example.org/readback/reduce/traverse"
)

// guesses lists what may be wrong, without the pairs of an angle and a length.
func (a *Adjusted) guesses() []guess {
	w := a.w
	var out []guess
	type sight struct{ set, target int }
	sights := map[sight][]int{}
	var order []sight
	for i, o := range w.obs {
		if o.Kind == East || o.Kind == North {
			continue // the point is asked, both coordinates together
		}
		out = append(out, guess{Explanation: Explanation{Fault: OneObservation, Observations: []int{w.from[i]}, Point: -1, Set: -1}, cols: [][]part{{{i, 1}}}})
		if o.Kind == Direction {
			k := sight{o.Set, o.To}
			sights[k] = append(sights[k], i)
			order = append(order, k)
		}
	}
	at := a.stations()
	for i, o := range w.obs {
		if o.Kind == Distance {
			for s, station := range at {
				if k := (sight{s, o.To}); station == o.From && len(sights[k]) == 1 {
					sights[k] = append(sights[k], i)
				}
			}
		}
	}
	for _, k := range order {
		if rows := sights[k]; len(rows) == 2 {
			out = append(out, guess{Explanation: Explanation{Fault: OneSight, Observations: []int{w.from[rows[0]], w.from[rows[1]]}, Point: k.target, Set: k.set},
				cols: [][]part{{{rows[0], 1}}, {{rows[1], 1}}}})
		}
	}
	return append(append(out, a.lines()...), a.pointGuesses(at)...)
}

// lines supposes all distances between two points, where there are several, wrong by
// one amount.
func (a *Adjusted) lines() []guess {
	type line struct{ from, to int }
	rows := map[line][]int{}
	var order []line
	for i, o := range a.w.obs {
		if o.Kind == Distance {
			k := line{min(o.From, o.To), max(o.From, o.To)}
			if rows[k] = append(rows[k], i); len(rows[k]) == 2 {
				order = append(order, k)
			}
		}
	}
	var out []guess
	for _, k := range order {
		g := guess{Explanation: Explanation{Fault: OneLine, Point: -1, Set: -1}, cols: make([][]part, 1)}
		for _, i := range rows[k] {
			g.Observations = append(g.Observations, a.w.from[i])
			g.cols[0] = append(g.cols[0], part{i, a.w.rows[i].u})
		}
		out = append(out, g)
	}
	return out
}

// stations returns the point each set was observed from, −1 for an unused set.
func (a *Adjusted) stations() []int {
	out := make([]int, len(a.w.orient))
	for s, m := range a.w.inSets {
		out[s] = -1
		if len(m) > 0 {
			out[s] = a.w.obs[m[0]].From
		}
	}
	return out
}

// pointGuesses supposes a known point, or the place of a station during one set, to
// be elsewhere.
func (a *Adjusted) pointGuesses(at []int) []guess {
	w := a.w
	byPoint := make([][2][]part, len(w.at))
	bySet := make([][2][]part, len(w.orient))
	sets := make([]int, len(w.at))
	for _, p := range at {
		if p >= 0 {
			sets[p]++
		}
	}
	for i, o := range w.obs {
		if o.Kind == East || o.Kind == North {
			continue
		}
		w.computed(o, func(p int, by traverse.Point) {
			u := w.rows[i].u
			byPoint[p][0] = append(byPoint[p][0], part{i, by.E * u})
			byPoint[p][1] = append(byPoint[p][1], part{i, by.N * u})
			if p != o.From {
				return
			}
			for s, station := range at {
				if station == p && (o.Kind == Direction && o.Set == s || o.Kind == Distance && a.belongs(o, s)) {
					bySet[s][0] = append(bySet[s][0], part{i, by.E * u})
					bySet[s][1] = append(bySet[s][1], part{i, by.N * u})
				}
			}
		})
	}
	var out []guess
	known := w.anchors()
	for p := range w.at {
		if known[p] && !w.lost[p] && len(byPoint[p][0]) > 0 {
			e := Explanation{Fault: OnePoint, Point: p, Set: -1}
			out = append(out, guess{Explanation: e, cols: byPoint[p][:]},
				guess{Explanation: e, cols: byPoint[p][:1]}, guess{Explanation: e, cols: byPoint[p][1:]})
		}
	}
	for s, p := range at {
		if p >= 0 && len(bySet[s][0]) > 2 && (sets[p] > 1 || len(byPoint[p][0]) > len(bySet[s][0]) && !known[p]) {
			out = append(out, guess{Explanation: Explanation{Fault: OneStation, Point: p, Set: s}, cols: bySet[s][:]})
		}
	}
	return out
}

// pairs adds an angle together with a length, of those that explain most alone.
func (a *Adjusted) pairs(guesses []guess) []guess {
	const most = 6
	var angles, lengths []guess
	for _, g := range guesses {
		if g.Fault != OneObservation {
			continue
		}
		switch k := a.w.obs[g.cols[0][0].row].Kind; {
		case k == Distance:
			lengths = append(lengths, g)
		case k.angular():
			angles = append(angles, g)
		}
	}
	byGain := func(x, y guess) int { return cmp.Compare(math.Round(y.Gain*1e6), math.Round(x.Gain*1e6)) }
	slices.SortStableFunc(angles, byGain)
	slices.SortStableFunc(lengths, byGain)
	for _, x := range angles[:min(most, len(angles))] {
		for _, y := range lengths[:min(most, len(lengths))] {
			g := guess{Explanation: Explanation{Fault: AngleAndLength, Observations: []int{x.Observations[0], y.Observations[0]}, Point: -1, Set: -1},
				cols: [][]part{x.cols[0], y.cols[0]}}
			if a.weigh(&g); g.Freedom > 0 {
				guesses = append(guesses, g)
			}
		}
	}
	return guesses
}
