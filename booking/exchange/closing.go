package exchange

import (
	"cmp"
	"slices"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce/faces"
)

// A half is the rows of one face of one round, in the order of the file.
type half struct {
	face   faces.Face
	rows   []*row
	at     []int // where each row stands among the rows of the setup
	sights [][]*row
}

// placeClosing finds the closing sights of the RO in a round.
func (p *Paper) placeClosing(round int) error {
	left, right := p.half(round, faces.FL), p.half(round, faces.FR)
	for _, h := range []half{left, right} {
		if len(h.sights) < 3 {
			continue
		}
		first, second, third := last(h.sights[0]), last(h.sights[1]), last(h.sights[2])
		return p.fault(third, colTarget, "a third sight of %s on %s in round %d of setup %d, after lines %d and %d: expected one to open the half and one to close it",
			quoted(p.Spec.RO), h.face, round, p.Number, first.Line, second.Line)
	}
	p.split(&left, right)
	p.split(&right, left)
	reversed := p.reversed(left, right)
	p.close(left, right, false)
	p.close(right, left, reversed)
	return nil
}

// split takes a struck sight of the RO apart from the standing one where other
// rows lie between them and the other half was closed: they were two sights, and
// the struck one was not read again.
func (p *Paper) split(h *half, other half) {
	if len(h.sights) != 1 || len(other.sights) != 2 {
		return
	}
	if runs := h.runs(h.sights[0]); len(runs) == 2 {
		h.sights = runs
	}
}

func last(rows []*row) *row { return rows[len(rows)-1] }

// half gathers the rows of a half and the sights of the RO in it.
func (p *Paper) half(round int, face faces.Face) half {
	h := half{face: face}
	n := 2 + len(p.Spec.Targets) // as many as a half has where nothing was read again
	h.rows, h.at = make([]*row, 0, n), make([]int, 0, n)
	var ro []*row
	for i, r := range p.rows {
		if r.Quantity != spec.Horizontal || r.Repeat > 0 || r.Round != round || r.Face != face || r.Closing && r.Target != p.Spec.RO {
			continue
		}
		h.rows, h.at = append(h.rows, r), append(h.at, i)
		if r.Target == p.Spec.RO {
			ro = append(ro, r)
		}
	}
	if !slices.ContainsFunc(ro, p.stands) {
		h.sights = h.runs(ro)
		if len(h.sights) > 2 {
			h.sights = [][]*row{h.sights[0], slices.Concat(h.sights[1:]...)}
		}
		return h
	}
	h.sights = p.sights(ro)
	if n := len(h.sights); n > 1 && !p.stands(last(h.sights[n-1])) && (n > 2 || h.adjacent(last(h.sights[n-2]), h.sights[n-1][0])) {
		h.sights = append(h.sights[:n-2], slices.Concat(h.sights[n-2], h.sights[n-1]))
	}
	return h
}

// sights groups readings of one thing: struck ones with the standing one that
// was written beside them; struck ones with none after them come last.
func (p *Paper) sights(rows []*row) [][]*row {
	var groups [][]*row
	var group []*row
	for _, r := range rows {
		group = append(group, r)
		if p.stands(r) {
			groups, group = append(groups, group), nil
		}
	}
	if group != nil {
		groups = append(groups, group)
	}
	return groups
}

// runs groups the rows of the RO that stand next to each other in the half.
func (h half) runs(ro []*row) [][]*row {
	var groups [][]*row
	for i, r := range ro {
		if i > 0 && h.adjacent(ro[i-1], r) {
			groups[len(groups)-1] = append(groups[len(groups)-1], r)
		} else {
			groups = append(groups, []*row{r})
		}
	}
	return groups
}

// adjacent tells whether no row of the half lies between a and b.
func (h half) adjacent(a, b *row) bool {
	return slices.Index(h.rows, b) == slices.Index(h.rows, a)+1
}

// close marks the closing sight of a half. reversed: the half begins with it.
// The one sight of a half is the opening one, unless the other half was closed
// and the sight stands where the closing one belongs.
func (p *Paper) close(h, other half, reversed bool) {
	closing := -1
	switch {
	case len(h.sights) == 2 && reversed:
		closing = 0
	case len(h.sights) == 2:
		closing = 1
	case len(h.sights) == 1 && len(other.sights) == 2 && h.atEnd(!reversed):
		closing = 0
	}
	if closing < 0 {
		return
	}
	p.closed = true
	for _, r := range h.sights[closing] {
		r.slot.Closing = true
	}
}

// atEnd tells whether the one sight of the RO ends the half, or begins it.
func (h half) atEnd(end bool) bool {
	sight := h.sights[0]
	if len(sight) == len(h.rows) {
		return !end // nothing else was sighted yet
	}
	if end {
		return sight[0] == h.rows[len(h.rows)-len(sight)]
	}
	return last(sight) == h.rows[len(sight)-1]
}

// reversed tells whether the face-right half was booked in the order observed:
// reversed against face left, beginning with the RO's closing sight.
func (p *Paper) reversed(left, right half) bool {
	if p.Spec.Order != spec.ByHalves {
		return false
	}
	own, all := p.lean(right), 0
	for n := 1; own == 0 && p.hasRound(n); n++ { // the others are asked where its own order does not tell
		all += p.lean(p.half(n, faces.FR))
	}
	return reversedOrder(own, all, left.at, right.at)
}

// lean is that of the order in which a half lists its targets.
func (p *Paper) lean(h half) int {
	order := make([]int, len(h.rows))
	for i, r := range h.rows {
		order[i] = slices.Index(p.Spec.Targets, r.Target)
	}
	return lean(order)
}

// lean tells how a face-right half lists its targets: over 0 mostly reversed
// against face left, under 0 mostly in the same order. order has the number of
// each target, −1 for the RO.
func lean(order []int) int {
	up, down, before := 0, 0, -1
	for _, k := range order {
		if k < 0 {
			continue
		}
		if before >= 0 && k > before {
			up++
		}
		if k < before {
			down++
		}
		before = k
	}
	return down - up
}

// reversedOrder tells whether a face-right half lists its targets reversed, from
// its own lean, from that of all face-right halves of the setup where its own
// does not tell, and where neither does, from where the rows of the two halves
// stand: rows in turn with face left are not reversed, and any others are.
func reversedOrder(own, all int, left, right []int) bool {
	if lean := cmp.Or(own, all); lean != 0 {
		return lean > 0
	}
	inTurn := len(left) > 0 && len(right) > 0 && right[0] < left[len(left)-1] && left[0] < right[len(right)-1]
	return !inTurn
}
