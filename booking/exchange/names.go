package exchange

import (
	"slices"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// nameTargets finds the reference object and the targets in clockwise order: the
// order of their first sights on face left, see leading and clockwise.
func (p *Paper) nameTargets() {
	var names []string
	see := func(name string, after int) int {
		if i := slices.Index(names, name); i >= 0 {
			return i
		}
		names = slices.Insert(names, after+1, name)
		return after + 1
	}
	for _, r := range p.rows {
		if r.Quantity == spec.Horizontal {
			names, p.Named = []string{r.Target}, true
			break
		}
	}
	last := map[int]int{} // by round: where the target sighted last stands in names
	lead := p.leading(names)
	halves := p.leftHalf(lead)
	for _, r := range p.rows {
		if r.Quantity == spec.Horizontal && r.Face == faces.FL && r.Round != lead {
			halves = append(halves, r)
		}
	}
	for _, r := range halves {
		at, begun := last[r.Round]
		if r.Round == lead {
			at = len(names) - 1
		} else {
			at = p.clockwise(names, at, r)
		}
		if k := see(r.Target, at); k > 0 || !begun {
			last[r.Round] = k
		}
	}
	for _, r := range p.rows {
		if r.Quantity == spec.Horizontal {
			see(r.Target, p.clockwise(names, 0, r))
		}
	}
	rounds := len(names)
	for _, r := range p.rows {
		if r.Target != "" {
			see(r.Target, len(names)-1)
		}
	}
	if len(names) == 0 {
		names = []string{""}
	}
	rounds = max(rounds, 1)
	p.Spec.RO, p.Spec.Targets, p.Spec.HeightsOnly = names[0], names[1:rounds], names[rounds:]
}

// leading returns the round whose face-left half says in which order the targets
// stand: the first. Where the circle shows a target out of its place there, hidden and
// read later, it is the first round that has as many targets and all in their places.
func (p *Paper) leading(ro []string) int {
	most := 0
	for n := 1; p.hasRound(n); n++ {
		targets, clockwise := turning(p.leftHalf(n), ro)
		if n == 1 {
			most = targets
		}
		if clockwise && targets >= most {
			return n
		}
	}
	return 1
}

// turning counts the targets of a half and tells whether the circle turns clockwise
// from each to the next, by what was read last on each.
func turning(half []*row, ro []string) (targets int, clockwise bool) {
	if len(ro) == 0 || len(half) == 0 || half[0].Target != ro[0] {
		return 0, false
	}
	at, before := map[string]reduce.Angle{}, reduce.Angle(0)
	for _, r := range half {
		at[r.Target] = (reduce.Angle(r.Value) - reduce.Angle(half[0].Value)).Normalize()
	}
	clockwise = true
	for _, r := range half {
		from, first := at[r.Target]
		if !first || r.Target == ro[0] {
			continue
		}
		delete(at, r.Target)
		clockwise, before = clockwise && from >= before, from
		targets++
	}
	return targets, clockwise
}

// leftHalf returns the rows of the face-left half of a round.
func (p *Paper) leftHalf(round int) []*row {
	var rows []*row
	for _, r := range p.rows {
		if r.Quantity == spec.Horizontal && r.Face == faces.FL && r.Round == round {
			rows = append(rows, r)
		}
	}
	return rows
}

// clockwise returns behind which of the names a target belongs that was not
// sighted on face left in the first round: behind the one sighted before it, and
// behind those after that one which this half does not have and which another
// half puts before it by the circle.
func (p *Paper) clockwise(names []string, at int, r *row) int {
	if slices.Contains(names, r.Target) {
		return at
	}
	from, ok := p.fromRO(names[0], r.Target)
	for at+1 < len(names) {
		next, known := p.fromRO(names[0], names[at+1])
		if !ok || !known || next > from || r.Face == faces.FL && p.sighted(r, names[at+1]) {
			break
		}
		at++
	}
	return at
}

// sighted tells whether the half of r has a sight of the target.
func (p *Paper) sighted(r *row, target string) bool {
	return slices.ContainsFunc(p.rows, func(q *row) bool {
		return q.Quantity == spec.Horizontal && q.Round == r.Round && q.Face == r.Face && q.Target == target
	})
}

// fromRO returns the direction of a target from the RO by the first half that
// has both.
func (p *Paper) fromRO(ro, target string) (reduce.Angle, bool) {
	type key struct {
		round int
		face  faces.Face
	}
	ros, targets := map[key]reduce.Angle{}, map[key]reduce.Angle{}
	for _, r := range p.rows {
		if r.Quantity != spec.Horizontal {
			continue
		}
		k := key{r.Round, r.Face}
		switch r.Target {
		case ro:
			ros[k] = reduce.Angle(r.Value)
		case target:
			targets[k] = reduce.Angle(r.Value)
		default:
			continue
		}
		a, sightedRO := ros[k]
		b, sighted := targets[k]
		if sightedRO && sighted {
			return (b - a).Normalize(), true
		}
	}
	return 0, false
}
