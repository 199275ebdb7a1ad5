package places

import (
	"math"

	"example.org/readback/reduce/traverse"
)

// grow makes one pass over everything that can be placed from what is placed, and
// tells whether anything was: the surest way first.
func (s *starter) grow() bool {
	found := s.turnSets()
	for _, k := range s.carry.all() {
		for _, i := range s.inSets[k] {
			o := s.n.Observations[i]
			if l := s.length[[2]int{o.From, o.To}]; !s.placed[o.To] && l > 0 {
				sin, cos := math.Sincos(o.Value + s.orient[k])
				s.put(o.To, s.point(o.From).Add(traverse.Point{E: float64(l * sin), N: float64(l * cos)}))
				found = true
			}
		}
	}
	if found {
		return true
	}
	return s.stand() || s.crossing() || s.angles() || s.arcs()
}

// turnSets orients the sets of placed stations by a placed target, the farthest, or
// by a known bearing.
func (s *starter) turnSets() bool {
	found := false
	for _, k := range s.turn.all() {
		if s.oriented[k] || !s.placed[s.at[k]] || s.aside != nil && s.aside[k] {
			continue
		}
		far, by := 0.0, 0.0
		for _, i := range s.inSets[k] {
			o := s.n.Observations[i]
			if !s.placed[o.To] {
				continue
			}
			if d := traverse.Distance(s.point(o.From), s.point(o.To)); d > far {
				far, by = d, s.bearing(o.From, o.To)-o.Value
			}
		}
		if far == 0 {
			var ok bool
			if by, ok = s.knownTurn(k); !ok {
				continue
			}
		}
		s.setTurn(k, math.Remainder(by, 2*math.Pi))
		found = true
	}
	return found
}

// knownTurn is the orientation of a set by the first bearing known to one of its targets.
func (s *starter) knownTurn(k int) (orientation float64, ok bool) {
	first := len(s.n.Observations)
	for _, i := range s.inSets[k] {
		d := s.n.Observations[i]
		for _, j := range s.bearings[[2]int{min(d.From, d.To), max(d.From, d.To)}] {
			if j >= first {
				continue
			}
			b := s.n.Observations[j].Value
			if s.n.Observations[j].From == d.To {
				b += math.Pi
			}
			first, orientation, ok = j, b-d.Value, true
		}
	}
	return orientation, ok
}

// stand places an instrument by what it sights: three marks, or two with distances.
func (s *starter) stand() bool {
	for k, ok := s.stands.next(); ok; k, ok = s.stands.next() {
		if len(s.inSets[k]) > 1 && !s.placed[s.at[k]] && (s.byTwo(k) || s.byThree(k)) {
			return true
		}
	}
	return false
}

// byTwo lays the polar coordinates of a set onto two placed targets or more.
func (s *starter) byTwo(k int) bool {
	var from, to []traverse.Point
	for _, i := range s.inSets[k] {
		o := s.n.Observations[i]
		if l := s.length[[2]int{o.From, o.To}]; l > 0 && s.placed[o.To] {
			sin, cos := math.Sincos(o.Value)
			from, to = append(from, traverse.Point{E: l * sin, N: l * cos}), append(to, s.point(o.To))
		}
	}
	h, err := FitHelmert(from, to, true)
	if err != nil {
		return false
	}
	s.put(s.at[k], h.Apply(traverse.Point{}))
	return true
}

// byThree takes the three placed marks that stand best about the instrument.
func (s *starter) byThree(k int) bool {
	var seen []Observation
	for _, i := range s.inSets[k] {
		if o := s.n.Observations[i]; s.placed[o.To] {
			seen = append(seen, o)
		}
	}
	best := Fix{Danger: -1}
	for a := range seen {
		for b := range seen[:a] {
			for c := range seen[:b] {
				f, err := Resect([3]traverse.Point{s.point(seen[a].To), s.point(seen[b].To), s.point(seen[c].To)},
					[3]float64{seen[a].Value, seen[b].Value, seen[c].Value})
				if err == nil && min(f.Danger, 1) > best.Danger {
					best = f
					best.Danger = min(f.Danger, 1)
				}
			}
		}
		if a > 8 && best.Danger > NearDanger {
			break
		}
	}
	if best.Danger < 0 {
		return false
	}
	s.put(s.at[k], best.At)
	return true
}

// A ray runs from a placed point.
type ray struct {
	from    traverse.Point
	bearing float64
}

// crossing intersects the rays of turned sets, the pair that meets at the best angle.
func (s *starter) crossing() bool {
	open := s.cross.all()
	rays := make([][]ray, len(open))
	for i, p := range open {
		if !s.placed[p] {
			rays[i] = s.raysTo(p)
		}
	}
	found := false
	for i, p := range open {
		best := 0.0
		for j, a := range rays[i] {
			for _, b := range rays[i][:j] {
				at, err := Intersect(a.from, a.bearing, b.from, b.bearing)
				if sin := math.Abs(math.Sin(a.bearing - b.bearing)); err == nil && sin > best {
					best, found = sin, true
					s.put(p, at)
				}
			}
		}
	}
	return found
}

// raysTo lists the rays that end at a point.
func (s *starter) raysTo(p int) []ray {
	var out []ray
	for _, i := range s.sighted[p] {
		o := s.n.Observations[i]
		switch {
		case !s.placed[o.From]:
		case o.Kind == Direction && s.oriented[o.Set]:
			out = append(out, ray{s.point(o.From), o.Value + s.orient[o.Set]})
		case o.Kind == Bearing:
			out = append(out, ray{s.point(o.From), o.Value})
		case o.Kind == Angle && s.placed[o.Back]:
			out = append(out, ray{s.point(o.From), o.Value + s.bearing(o.From, o.Back)})
		}
	}
	return out
}

// angles carries angles with a distance from placed points.
func (s *starter) angles() bool {
	for i, ok := s.angle.next(); ok; i, ok = s.angle.next() {
		o := s.n.Observations[i]
		if !s.placed[o.From] {
			continue
		}
		known, open, by := o.Back, o.To, o.Value
		if s.placed[o.To] {
			known, open, by = o.To, o.Back, -o.Value
		}
		if l := s.length[[2]int{o.From, open}]; l > 0 && s.placed[known] && !s.placed[open] {
			sin, cos := math.Sincos(s.bearing(o.From, known) + by)
			s.put(open, s.point(o.From).Add(traverse.Point{E: l * sin, N: l * cos}))
			return true
		}
	}
	return false
}

// arcs intersects three distances: two give two places, the third says which.
func (s *starter) arcs() bool {
	for p, ok := s.arc.next(); ok; p, ok = s.arc.next() {
		if s.placed[p] {
			continue
		}
		var from []int
		for _, q := range s.near[p] {
			if s.placed[q] {
				from = append(from, q)
			}
		}
		if len(from) >= 3 {
			s.put(p, s.byArcs(p, from))
			return true
		}
	}
	return false
}

// byArcs is where the first two distances meet, on the side that fits the others.
func (s *starter) byArcs(p int, from []int) traverse.Point {
	a, b := from[0], from[1]
	d := s.point(b).Sub(s.point(a))
	length := d.Length()
	la, lb := s.length[[2]int{p, a}], s.length[[2]int{p, b}]
	along := (float64(la*la) - float64(lb*lb) + float64(length*length)) / (2 * length)
	across := math.Sqrt(max(0, float64(la*la)-float64(along*along)))
	least := math.Inf(1)
	var best traverse.Point
	for _, side := range [2]float64{1, -1} {
		at := s.point(a).Add(traverse.Point{E: (float64(along*d.E) + float64(side*across*d.N)) / length, N: (float64(along*d.N) - float64(side*across*d.E)) / length})
		miss := 0.0
		for _, q := range from[2:] {
			miss += math.Abs(traverse.Distance(at, s.point(q)) - s.length[[2]int{p, q}])
		}
		if miss < least {
			least, best = miss, at
		}
	}
	return best
}
