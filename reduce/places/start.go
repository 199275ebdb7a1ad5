package places

import (
	"math"

	"example.org/readback/reduce/traverse"
)

// A starter finds places to start from.
type starter struct {
	n        *Network
	placed   []bool
	oriented []bool
	orient   []float64
	at       []int   // of each set its station, −1: none
	inSets   [][]int // of each set its directions
	length   map[[2]int]float64
}

// Start fills in the places the adjustment starts from, from what was observed:
// known points stay; directions and distances are carried from station to station,
// rays are intersected, instruments placed by three marks, and what stands on its
// own is laid onto the known points by two common ones. Without two known points
// or a bearing the first station gets the bearing 0. It tells which points got a
// place.
func Start(n *Network) []bool {
	s := newStarter(n)
	known := 0
	for _, ok := range s.placed {
		if ok {
			known++
		}
	}
	for s.grow() || s.lay() {
	}
	if known < 2 && !s.anyOriented() {
		s.begin()
		for s.grow() || s.lay() {
		}
	}
	return s.placed
}

func newStarter(n *Network) *starter {
	s := &starter{n: n, placed: make([]bool, len(n.Points)), length: map[[2]int]float64{}}
	sets := n.sets()
	s.oriented, s.orient, s.at, s.inSets = make([]bool, sets), make([]float64, sets), make([]int, sets), make([][]int, sets)
	for k := range s.at {
		s.at[k] = -1
	}
	coordinate := make([]int, len(n.Points))
	for i, o := range n.Observations {
		switch o.Kind {
		case Direction:
			s.at[o.Set] = o.From
			s.inSets[o.Set] = append(s.inSets[o.Set], i)
		case Distance:
			s.length[[2]int{o.From, o.To}], s.length[[2]int{o.To, o.From}] = o.Value, o.Value
		case East:
			n.Points[o.From].At.E = o.Value
			coordinate[o.From] |= 1
		case North:
			n.Points[o.From].At.N = o.Value
			coordinate[o.From] |= 2
		}
	}
	for p := range n.Points {
		s.placed[p] = n.Points[p].Fixed || coordinate[p] == 3
	}
	return s
}

func (s *starter) anyOriented() bool {
	for _, ok := range s.oriented {
		if ok {
			return true
		}
	}
	return false
}

// begin places the station of the largest set, at 0, 0 where nothing is known, and
// gives it the bearing 0, or that of an observed bearing.
func (s *starter) begin() {
	best := -1
	for k, m := range s.inSets {
		if len(m) > 0 && (best < 0 || s.worth(k) > s.worth(best)) {
			best = k
		}
	}
	if best < 0 {
		s.chord()
		return
	}
	s.placed[s.at[best]] = true
	s.oriented[best] = true
}

// worth prefers a set at a known station, then one with many distances.
func (s *starter) worth(k int) int {
	w := 0
	if s.placed[s.at[k]] {
		w += 1000
	}
	for _, i := range s.inSets[k] {
		o := s.n.Observations[i]
		if s.length[[2]int{o.From, o.To}] > 0 {
			w++
		}
	}
	return w
}

// chord places two points of a network of distances only.
func (s *starter) chord() {
	for _, o := range s.n.Observations {
		if o.Kind == Distance && !s.placed[o.From] && !s.placed[o.To] {
			s.placed[o.From], s.placed[o.To] = true, true
			s.n.Points[o.To].At = traverse.Point{N: o.Value}
			return
		}
	}
}

func (s *starter) point(p int) traverse.Point { return s.n.Points[p].At }

func (s *starter) bearing(from, to int) float64 {
	d := s.point(to).Sub(s.point(from))
	return math.Atan2(d.E, d.N)
}

func (s *starter) put(p int, at traverse.Point) {
	s.n.Points[p].At, s.placed[p] = at, true
}

// grow makes one pass over everything that can be placed from what is placed, and
// tells whether anything was.
func (s *starter) grow() bool {
	found := s.turnSets()
	for k, m := range s.inSets {
		for _, i := range m {
			o := s.n.Observations[i]
			if l := s.length[[2]int{o.From, o.To}]; s.oriented[k] && s.placed[o.From] && !s.placed[o.To] && l > 0 {
				sin, cos := math.Sincos(o.Value + s.orient[k])
				s.put(o.To, s.point(o.From).Add(traverse.Point{E: l * sin, N: l * cos}))
				found = true
			}
		}
	}
	if found {
		return true
	}
	return s.stand() || s.cross() || s.angles() || s.arcs()
}

// turnSets orients the sets of placed stations by a placed target, the farthest.
func (s *starter) turnSets() bool {
	found := false
	for k, m := range s.inSets {
		if s.oriented[k] || len(m) == 0 || !s.placed[s.at[k]] {
			continue
		}
		far := 0.0
		for _, i := range m {
			o := s.n.Observations[i]
			if !s.placed[o.To] {
				continue
			}
			if d := traverse.Distance(s.point(o.From), s.point(o.To)); d > far {
				far = d
				s.orient[k], s.oriented[k] = math.Remainder(s.bearing(o.From, o.To)-o.Value, 2*math.Pi), true
				found = true
			}
		}
	}
	for _, o := range s.n.Observations {
		if o.Kind != Bearing {
			continue
		}
		for k, m := range s.inSets {
			for _, i := range m {
				d := s.n.Observations[i]
				if !s.oriented[k] && s.placed[d.From] && (d.From == o.From && d.To == o.To || d.From == o.To && d.To == o.From) {
					b := o.Value
					if d.From == o.To {
						b += math.Pi
					}
					s.orient[k], s.oriented[k], found = math.Remainder(b-d.Value, 2*math.Pi), true, true
				}
			}
		}
	}
	return found
}

// stand places an instrument by what it sights: three marks, or two with distances.
func (s *starter) stand() bool {
	for k, m := range s.inSets {
		if len(m) < 2 || s.placed[s.at[k]] {
			continue
		}
		if s.byTwo(k) || s.byThree(k) {
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

// cross intersects the rays of oriented sets, the pair that meets at the best angle.
func (s *starter) cross() bool {
	rays := map[int][][2]float64{} // station and bearing, by target
	for k, m := range s.inSets {
		for _, i := range m {
			if o := s.n.Observations[i]; s.oriented[k] && s.placed[o.From] && !s.placed[o.To] {
				rays[o.To] = append(rays[o.To], [2]float64{float64(o.From), o.Value + s.orient[k]})
			}
		}
	}
	for _, o := range s.n.Observations {
		if o.Kind == Bearing && s.placed[o.From] && !s.placed[o.To] {
			rays[o.To] = append(rays[o.To], [2]float64{float64(o.From), o.Value})
		}
		if o.Kind == Angle && s.placed[o.From] && s.placed[o.Back] && !s.placed[o.To] {
			rays[o.To] = append(rays[o.To], [2]float64{float64(o.From), o.Value + s.bearing(o.From, o.Back)})
		}
	}
	found := false
	for p := range s.n.Points {
		best := 0.0
		for i, a := range rays[p] {
			for _, b := range rays[p][:i] {
				at, err := Intersect(s.point(int(a[0])), a[1], s.point(int(b[0])), b[1])
				if sin := math.Abs(math.Sin(a[1] - b[1])); err == nil && sin > best {
					best, found = sin, true
					s.put(p, at)
				}
			}
		}
	}
	return found
}

// angles carries angles with a distance from placed points.
func (s *starter) angles() bool {
	for _, o := range s.n.Observations {
		if o.Kind != Angle || !s.placed[o.From] {
			continue
		}
		for _, x := range [2][3]float64{{float64(o.Back), float64(o.To), o.Value}, {float64(o.To), float64(o.Back), -o.Value}} {
			known, open := int(x[0]), int(x[1])
			if l := s.length[[2]int{o.From, open}]; l > 0 && s.placed[known] && !s.placed[open] {
				sin, cos := math.Sincos(s.bearing(o.From, known) + x[2])
				s.put(open, s.point(o.From).Add(traverse.Point{E: l * sin, N: l * cos}))
				return true
			}
		}
	}
	return false
}

// arcs intersects three distances: two give two places, the third says which.
func (s *starter) arcs() bool {
	for p := range s.n.Points {
		if s.placed[p] {
			continue
		}
		var from []int
		for q := range s.n.Points {
			if s.placed[q] && s.length[[2]int{p, q}] > 0 {
				from = append(from, q)
			}
		}
		if len(from) < 3 {
			continue
		}
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
		s.put(p, best)
		return true
	}
	return false
}

// lay works a part that stands on its own in a frame of its own, and lays it onto
// the placed points it shares: two or more.
func (s *starter) lay() bool {
	for k, m := range s.inSets {
		if len(m) < 2 || s.placed[s.at[k]] {
			continue
		}
		local := &Network{Points: make([]Point, len(s.n.Points))}
		for _, o := range s.n.Observations {
			if o.Kind == Direction || o.Kind == Distance || o.Kind == Angle {
				local.Observations = append(local.Observations, o)
			}
		}
		l := newStarter(local)
		l.placed[s.at[k]], l.oriented[k] = true, true
		for l.grow() {
		}
		var from, to []traverse.Point
		for p := range s.n.Points {
			if l.placed[p] && s.placed[p] {
				from, to = append(from, local.Points[p].At), append(to, s.point(p))
			}
		}
		h, err := FitHelmert(from, to, len(l.length) > 0)
		if err != nil {
			continue
		}
		for p := range s.n.Points {
			if l.placed[p] && !s.placed[p] {
				s.put(p, h.Apply(local.Points[p].At))
			}
		}
		return true
	}
	return false
}
