package network

import (
	"fmt"
	"slices"

	"example.org/readback/booking/check"
	"example.org/readback/reduce/traverse"
)

// Heights are the heights carried along a figure: mean rises of the legs, their
// misclosure shared out in proportion to the legs (common practice).
type Heights struct {
	Closed     bool
	Misclosure float64   // metres: carried end minus known end
	Limit      float64   // metres
	Points     []float64 // metres, one per station; from 0 where no height is known
	Local      bool      // no height is known: the first station is given 0
}

// Within tells whether the heights keep their limit, or nothing closes them.
func (h Heights) Within() bool {
	return !h.Closed || traverse.Reciprocal{Difference: h.Misclosure, Limit: h.Limit}.Within()
}

// heights carries the heights of a figure; nil where a leg has no rise.
func (n *net) heights(f Figure) *Heights {
	legs := len(f.Traverse.Legs)
	h := &Heights{Points: make([]float64, legs+1)}
	first, ok := n.elevation(f.Stations[0])
	h.Points[0], h.Local = first, !ok
	var total float64
	for i, l := range f.Traverse.Legs {
		rise, ok := n.meanRise(f.station(i), f.station(i+1))
		if !ok || l.Length == 0 {
			return nil
		}
		h.Points[i+1] = h.Points[i] + rise
		total += l.Length
	}
	last, known := n.elevation(f.station(legs))
	h.Closed = f.Kind == Ring || !h.Local && known
	if f.Kind == Ring {
		last = first
	}
	if h.Closed {
		h.Misclosure = h.Points[legs] - last
		s := n.in.Settings
		h.Limit = traverse.HeightLimit(s.RingPerRootKm, s.HeightLeast, total)
		var gone float64
		for i, l := range f.Traverse.Legs {
			gone += l.Length
			h.Points[i+1] -= h.Misclosure * gone / total
		}
	}
	h.Points = h.Points[:len(f.Stations)]
	n.fromKnown(f, h)
	return h
}

// fromKnown lifts a ring to the height of another of its stations where that of
// its first is not known.
func (n *net) fromKnown(f Figure, h *Heights) {
	if !h.Local {
		return
	}
	i := slices.IndexFunc(f.Stations, func(s string) bool { _, ok := n.elevation(s); return ok })
	if i < 0 {
		return
	}
	e, _ := n.elevation(f.Stations[i])
	up := e - h.Points[i]
	for k := range h.Points {
		h.Points[k] += up
	}
	h.Local = false
}

// elevation returns the known height of a name.
func (n *net) elevation(name string) (float64, bool) {
	k, ok := n.known[name]
	if !ok || k.Elev == nil {
		return 0, false
	}
	return *k.Elev, true
}

// meanRise returns the rise from one name to another: from both ends where both
// are booked, else from one.
func (n *net) meanRise(from, to string) (float64, bool) {
	there, okThere := n.rise(from, to)
	back, okBack := n.rise(to, from)
	switch {
	case okThere && okBack:
		return (there - back) / 2, true
	case okBack:
		return -back, true
	}
	return there, okThere
}

func (f Figure) heightCheck() check.Check {
	h := f.Heights
	c := check.Check{Name: "heights", Met: h.Within(), From: f.HeightFrom}
	c.Text = fmt.Sprintf("The heights miss by %s, limit %s.", millimetres(h.Misclosure), millimetres(h.Limit))
	return c
}
