package network

import (
	"math"
	"slices"

	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/reduce"
	"example.org/readback/reduce/precision"
	"example.org/readback/reduce/traverse"
)

// A net holds who sights whom.
type net struct {
	in            Input
	stations      []string                  // occupied ones, in order of their first setup
	at            map[string][]*day.Summary // setups of each station that have sights; they stand in in.Setups
	order         map[string]int            // of each station its place in stations
	near          map[string][]string       // of each station the stations it and they sight mutually
	known         map[string]event.KnownStation
	centredSights []Centred
	onGrid        *Grid                      // nil: no grid is set
	scatter       map[which]precision.Spread // of the rounds of each instrument, all its setups
}

// which names an instrument.
type which struct{ name, serial string }

func newNet(in Input) *net {
	n := &net{in: in, at: map[string][]*day.Summary{}, known: map[string]event.KnownStation{}}
	for _, k := range in.Known {
		if _, twice := n.known[k.Name]; !twice {
			n.known[k.Name] = k
		}
	}
	n.level()
	n.centre()
	for i := range n.in.Setups {
		m := &n.in.Setups[i]
		if len(m.Sights) < 1 || m.State == day.StateStruck {
			continue
		}
		if len(n.at[m.Station]) == 0 {
			n.stations = append(n.stations, m.Station)
		}
		n.at[m.Station] = append(n.at[m.Station], m)
	}
	n.link()
	n.pool()
	n.onGrid = n.grid()
	return n
}

// pool joins the scatter of the rounds of every setup, by instrument.
func (n *net) pool() {
	all := map[which][]precision.Spread{}
	for _, m := range n.in.Setups {
		k := which{m.Instrument.Name, m.Instrument.Serial}
		all[k] = append(all[k], precision.Spread{S: m.S0, Dof: m.Dof})
	}
	n.scatter = map[which]precision.Spread{}
	for k, spreads := range all {
		n.scatter[k] = precision.Pool(spreads...)
	}
}

// link fills order and near, each list of near in order of occupation.
func (n *net) link() {
	n.order = map[string]int{}
	for i, s := range n.stations {
		n.order[s] = i
	}
	n.near = map[string][]string{}
	for _, s := range n.stations {
		for _, t := range n.targets(s) {
			if _, ok := n.order[t]; ok && n.sights(t, s) {
				n.near[s] = append(n.near[s], t)
			}
		}
		slices.SortFunc(n.near[s], func(a, b string) int { return n.order[a] - n.order[b] })
	}
}

// current is the setup whose tripod still stands: the last one, unless it was
// lifted. An earlier one that was never lifted was left behind. Its number is 0
// where there is none.
func (n *net) current() day.Summary {
	if k := len(n.in.Setups); k > 0 && n.in.Setups[k-1].Lifted == nil && n.in.Setups[k-1].State != day.StateStruck {
		return n.in.Setups[k-1]
	}
	return day.Summary{}
}

func (n *net) occupied(name string) bool { return len(n.at[name]) > 0 }

// line returns what a setup says of a target.
func line(m *day.Summary, target string) (day.SightLine, bool) {
	for _, l := range m.Sights {
		if l.Target == target {
			return l, true
		}
	}
	return day.SightLine{}, false
}

// sights tells whether any setup on from sighted to.
func (n *net) sights(from, to string) bool {
	for _, m := range n.at[from] {
		if _, ok := line(m, to); ok {
			return true
		}
	}
	return false
}

// mutual tells whether two stations sight each other.
func (n *net) mutual(a, b string) bool { return n.sights(a, b) && n.sights(b, a) }

// targets returns every name the station sights, each once, in order.
func (n *net) targets(from string) []string {
	var out []string
	for _, m := range n.at[from] {
		for _, l := range m.Sights {
			if !slices.Contains(out, l.Target) {
				out = append(out, l.Target)
			}
		}
	}
	return out
}

// An observed angle, and the setup it comes from.
type stationAngle struct {
	value reduce.Angle
	sd    float64 // seconds
	setup day.Summary
	apart reduce.Angle // from the same angle in an earlier setup; 0 where there is none
	other int          // number of that setup, 0: none
}

// angle returns the angle at a station, clockwise from back to fore, from the
// latest setup there that sighted both.
func (n *net) angle(at, back, fore string) (stationAngle, bool) {
	var out stationAngle
	ms := n.at[at]
	for i := len(ms) - 1; i >= 0; i-- {
		b, okB := line(ms[i], back)
		f, okF := line(ms[i], fore)
		if !okB || !okF {
			continue
		}
		value := f.Direction.From(b.Direction)
		if out.setup.Setup == 0 {
			out.value, out.setup = value, *ms[i]
			out.sd = n.angleSD(ms[i], b, f)
		} else if d := (value - out.value).Wrap(); d.Abs() >= out.apart.Abs() {
			out.apart, out.other = d, ms[i].Setup
		}
	}
	return out, out.setup.Setup != 0
}

// angleSD joins the scatter of the directions, never taken smaller than half
// the least count, with the centring over short legs: ρ·c·√(1/a² + 1/b²) for
// the two targets, and as much again for the instrument between them.
func (n *net) angleSD(m *day.Summary, back, fore day.SightLine) float64 {
	sd := max(math.Max(back.SD, fore.SD), m.Instrument.LeastCount.Seconds()/2)
	var inverse float64
	for _, l := range []day.SightLine{back, fore} {
		if d, ok := n.length(m.Station, l.Target); ok {
			inverse = math.Hypot(inverse, 1/d.Mean)
		}
	}
	centring := reduce.FromRadians(n.in.Settings.Centring * math.Sqrt2 * inverse).Seconds()
	return math.Hypot(sd, centring)
}

// A length is the horizontal distance between two names, and from how many ends
// it was measured.
type length struct {
	traverse.Reciprocal
	ends int
}

// length returns the distance between two names: the mean of there and back
// where both are booked.
func (n *net) length(a, b string) (length, bool) {
	there, okThere := n.oneWay(a, b)
	back, okBack := n.oneWay(b, a)
	s := n.in.Settings
	switch {
	case okThere && okBack:
		limit := traverse.DistanceLimit(s.DistanceConstant, s.DistancePPM, there)
		return length{traverse.ReciprocalDistance(there, back, limit), 2}, true
	case okThere:
		return length{traverse.Reciprocal{Mean: there}, 1}, true
	case okBack:
		return length{traverse.Reciprocal{Mean: back}, 1}, true
	}
	return length{}, false
}

// oneWay returns the latest horizontal distance booked from one name to another.
func (n *net) oneWay(from, to string) (float64, bool) {
	ms := n.at[from]
	for i := len(ms) - 1; i >= 0; i-- {
		if l, ok := line(ms[i], to); ok && l.Horizontal > 0 {
			return l.Horizontal, true
		}
	}
	return 0, false
}

// rise returns the latest height difference booked from one name to another.
func (n *net) rise(from, to string) (float64, bool) {
	m, ok := n.riseFrom(from, to)
	if !ok {
		return 0, false
	}
	l, _ := line(&m, to)
	return l.Rise, true
}

// point returns the known place of a name.
func (n *net) point(name string) (traverse.Point, bool) {
	k, ok := n.known[name]
	return knownPoint(k), ok
}

// bearing returns the known bearing from one name to another, given outright or
// by coordinates.
func (n *net) bearing(from, to string) (reduce.Direction, bool) {
	for _, b := range n.in.Bearings {
		switch {
		case b.From == from && b.To == to:
			return b.Bearing, true
		case b.From == to && b.To == from:
			return b.Bearing.Opposite(), true
		}
	}
	b, _, ok := n.coordinates(from, to)
	return b, ok
}

// coordinates returns the bearing and the length between two names of known places.
func (n *net) coordinates(from, to string) (bearing reduce.Direction, length float64, ok bool) {
	a, okA := n.point(from)
	b, okB := n.point(to)
	if !okA || !okB {
		return bearing, 0, false
	}
	bearing, err := traverse.Bearing(a, b)
	return bearing, traverse.Distance(a, b), err == nil
}

// A mark is a target whose bearing from a station is known.
type mark struct {
	name    string
	bearing reduce.Direction
}

// mark returns the best mark that a station sights in one setup with next, except
// not counted: one with a bearing given outright, else the farthest one, whose
// bearing suffers least from its coordinates.
func (n *net) mark(at, next, except string) (mark, bool) {
	var best mark
	farthest := -1.0
	for _, t := range n.targets(at) {
		b, ok := n.bearing(at, t)
		if !ok || t == except {
			continue
		}
		if _, ok := n.angle(at, t, next); !ok && t != next {
			continue
		}
		if far := n.reach(at, t); far > farthest {
			best, farthest = mark{t, b}, far
		}
	}
	return best, farthest >= 0
}

// reach returns how far a mark is, +Inf for one whose bearing is given outright.
func (n *net) reach(at, to string) float64 {
	if _, length, ok := n.coordinates(at, to); ok && !n.given(at, to) {
		return length
	}
	return math.Inf(1)
}

// given tells whether the bearing between two names is given outright.
func (n *net) given(a, b string) bool {
	return slices.ContainsFunc(n.in.Bearings, func(k KnownBearing) bool {
		return k.From == a && k.To == b || k.From == b && k.To == a
	})
}
