package network

import (
	"slices"

	"example.org/readback/booking/day"
	"example.org/readback/reduce/slope"
)

// level brings every measured distance from the height of its instrument to the mean
// height of the line's ends,
//
//	HD + HD·Δh/2R  [TRADE]
//
// so that a steep line measured from both its ends is one length: from either end it is
// that at its own height, and those differ by HD·Δh/R, 113 mm on 1,409 m rising 513 m.
// What is reduced to sea level, or worked without curvature, is one length already.
func (n *net) level() {
	n.in.Setups = slices.Clone(n.in.Setups)
	for i, m := range n.in.Setups {
		if !m.AtSeaLevel && m.Refraction != 1 {
			n.in.Setups[i].Sights = levelled(m.Sights)
		}
	}
}

// levelled gives the sights so; those in which nothing changes are not copied.
func levelled(sights []day.SightLine) []day.SightLine {
	steep := func(l day.SightLine) bool { return l.Horizontal > 0 && l.HasRise }
	if !slices.ContainsFunc(sights, steep) {
		return sights
	}
	out := slices.Clone(sights)
	for i := range out {
		if l := &out[i]; steep(*l) {
			l.Horizontal += float64(l.Horizontal * l.Rise / (2 * slope.EarthRadius))
		}
	}
	return out
}
