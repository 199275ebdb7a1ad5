package places

import "slices"

// gross is the s₀ from which on the equations are so far off that a guess is
// tried by a new adjustment without it. At most that many are tried, fewer of a large
// network: guesses times observations stay under effort.
const (
	gross  = 8.0
	most   = 60
	effort = 12_000
)

// refine works the gain of the best guesses anew, by adjusting without them.
func (a *Adjusted) refine(guesses []guess) []guess {
	guesses = guesses[:min(most, max(8, effort/max(1, len(a.w.obs))), len(guesses))]
	lost := 0
	for _, p := range a.Places {
		if p.Lost {
			lost++
		}
	}
	whole := float64(a.S0*a.S0) * float64(a.Dof)
	var out []guess
	for _, g := range guesses {
		if a.w.net.stopped() {
			break
		}
		if g.Fault == OneLine { // left out, all its distances count
			g.Freedom = len(g.Observations)
		}
		n := a.without(g)
		b, err := Adjust(n, a.limits)
		if err != nil || b.Dof != a.Dof-g.Freedom {
			continue
		}
		still := 0
		for p, x := range b.Places[:len(a.Places)] {
			if x.Lost && !(g.Fault == OnePoint && p == g.Point) {
				still++
			}
		}
		if still > lost {
			continue
		}
		g.Gain = max(0, whole-float64(b.S0*b.S0*float64(b.Dof)))
		out = append(out, g)
	}
	return out
}

// SearchUnsettled looks for the one thing that is wrong where Adjust returned
// ErrNoSolution: each guess in turn is left out and the rest adjusted.
func SearchUnsettled(n *Network, limits Limits) Search {
	if n.check() != nil || len(n.Points) == 0 {
		return Search{}
	}
	w := newWork(n)
	w.choose()
	w.orientSets()
	w.linearise()
	a := &Adjusted{w: w, limits: limits, Dof: len(w.obs) - w.n, S0: unsettled, Places: make([]Place, len(w.at)), Residuals: make([]Residual, len(n.Observations))}
	for _, m := range w.inSets {
		if len(m) > 0 {
			a.Dof--
		}
	}
	guesses := a.guesses()
	for i := range guesses {
		guesses[i].Freedom = len(guesses[i].cols)
	}
	slices.SortStableFunc(guesses, func(x, y guess) int { return likelier(x) - likelier(y) })
	s := Search{Alternatives: len(guesses)}
	a.rank(&s, a.refine(guesses))
	return s
}

// likelier puts the sights of a wrong name first, then single observations.
func likelier(g guess) int {
	switch g.Fault {
	case OneSight:
		return 0
	case OneObservation:
		return 1
	}
	return 2
}

// unsettled stands for the s₀ of what does not settle.
const unsettled = 1e5

// without returns the network with what is guessed left open: the observations left
// out, the point unknown, the station a point of its own during the set. A point
// supposed wrong in one coordinate only is freed in both.
func (a *Adjusted) without(g guess) *Network {
	n := &Network{Points: slices.Clone(a.w.net.Points)}
	apart := -1
	switch g.Fault {
	case OnePoint:
		n.Points[g.Point].Fixed = false
	case OneStation:
		apart = len(n.Points)
		n.Points = append(n.Points, Point{Name: n.Points[g.Point].Name, At: n.Points[g.Point].At})
	}
	for i, o := range a.w.net.Observations {
		switch {
		case slices.Contains(g.Observations, i):
			continue
		case g.Fault == OnePoint && (o.Kind == East || o.Kind == North) && o.From == g.Point:
			continue
		case apart >= 0 && o.From == g.Point && (o.Kind == Direction && o.Set == g.Set || o.Kind == Distance && a.belongs(o, g.Set)):
			o.From = apart
		}
		n.Observations = append(n.Observations, o)
	}
	return n
}

// belongs tells whether a distance is taken to belong to a set: the set sights its
// target.
func (a *Adjusted) belongs(o Observation, set int) bool {
	return slices.ContainsFunc(a.w.inSets[set], func(i int) bool { return a.w.obs[i].To == o.To })
}
