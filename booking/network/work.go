package network

import (
	"math"
	"slices"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/traverse"
)

// A Kind is what sort of figure it is.
type Kind uint8

// The kinds.
const (
	Ring Kind = 1 // comes back to where it began
	Link Kind = 2 // from one fixed station to another
	Open Kind = 3 // goes to where nothing checks it
)

// String returns "ring", "link" or "open traverse".
func (k Kind) String() string {
	switch k {
	case Ring:
		return "ring"
	case Link:
		return "link"
	}
	return "open traverse"
}

// A Figure is one ring, link or open traverse, worked.
type Figure struct {
	Kind       Kind
	Stations   []string // in walking order; a ring names its first once
	Setups     []int    // per station: the setup its angle comes from, 0 where there is none
	FromMark   string   // sighted from the first station, its bearing known; may be empty
	ToMark     string   // sighted from the last one, likewise
	Traverse   traverse.Traverse
	Result     *traverse.Result
	Search     *traverse.Search
	Limit      spec.Limit  // k of the limit k·√n of the angles
	Heights    *Heights    // nil where a leg has no rise
	HeightFrom string      // where the limit of the heights came from
	RatioFrom  string      // where the limit of the linear misclosure came from
	Local      bool        // no coordinates were known: the first station was given 0, 0
	Unit       reduce.Unit // of the first instrument, for printing
	bearings   bearings    // how they are printed
	Places     int         // decimals of its readings
}

// Met tells whether every misclosure there is keeps its limit. An open traverse
// meets nothing.
func (f Figure) Met() bool {
	c := f.Result.Carried
	return c.Control != traverse.Unchecked &&
		(c.Angular == nil || c.Angular.Within()) && (c.Linear == nil || c.Linear.Within()) &&
		(f.Heights == nil || f.Heights.Within())
}

// settings gives the mathematics its settings for this figure.
func (f Figure) settings(s Settings) traverse.Settings {
	return traverse.Settings{
		AnglePerRoot: f.Limit.Value, LeastRatio: s.LeastRatio, AngleSD: max(f.Limit.Value.Seconds()/4, 0.1),
		LengthSD: s.LengthSD, LengthPPM: s.LengthPPM, AngleStep: s.AngleStep, LengthStep: s.LengthStep,
	}
}

// ring works the ring through these stations.
func (n *net) ring(stations []string) (Figure, error) {
	stations, m, hasMark := n.startOf(stations)
	f := Figure{Kind: Ring, Stations: stations}
	f.Traverse.Ring = true
	k := len(stations)
	for i, s := range stations {
		n.addAngle(&f, s, stations[(i+k-1)%k], stations[(i+1)%k])
		n.addLeg(&f, s, stations[(i+1)%k])
	}
	f.Traverse.Start.Point, f.Traverse.Start.HasPoint = n.point(stations[0])
	if hasMark {
		f.FromMark = m.name
		f.Traverse.Start.Bearing, f.Traverse.Start.HasBearing = m.bearing, true
		if a, ok := n.angle(stations[0], m.name, stations[1]); ok && m.name != stations[1] {
			f.Traverse.Start.Bearing = f.Traverse.Start.Bearing.Add(a.value)
		}
	}
	return f, n.solve(&f)
}

// startOf turns the ring so that it begins where most is known: at a station
// with coordinates and a mark, else one with a mark, else one with coordinates.
func (n *net) startOf(ring []string) ([]string, mark, bool) {
	best, score := 0, -1
	for i, s := range ring {
		now := 0
		if _, ok := n.mark(s, ring[(i+1)%len(ring)], ""); ok {
			now += 2
		}
		if _, ok := n.point(s); ok {
			now++
		}
		if now == 3 {
			now = 4
		}
		if now > score {
			best, score = i, now
		}
	}
	ring = append(slices.Clone(ring[best:]), ring[:best]...)
	m, ok := n.mark(ring[0], ring[1], "")
	return ring, m, ok
}

// link works a walk between fixed stations.
func (n *net) linkage(w walkway) (Figure, error) {
	f := Figure{Kind: Link, Stations: w.stations, FromMark: w.first.name, ToMark: w.last.name}
	n.addWalk(&f, w)
	last := len(w.stations) - 1
	f.Traverse.End.Point, f.Traverse.End.HasPoint = n.point(w.stations[last])
	if w.last.name != "" {
		f.Traverse.End.Bearing, f.Traverse.End.HasBearing = w.last.bearing, true
	}
	return f, n.solve(&f)
}

// open works a walk that nothing checks.
func (n *net) open(stations []string) (Figure, error) {
	w := walkway{stations: stations}
	w.first, _ = n.mark(stations[0], stations[1], "")
	f := Figure{Kind: Open, Stations: stations, FromMark: w.first.name}
	n.addWalk(&f, w)
	return f, n.solve(&f)
}

// addWalk fills the angles, the legs and the start of a walk that is no ring.
func (n *net) addWalk(f *Figure, w walkway) {
	last := len(w.stations) - 1
	for i, s := range w.stations {
		back, fore := w.first.name, w.last.name
		if i > 0 {
			back = w.stations[i-1]
		}
		if i < last {
			fore = w.stations[i+1]
			n.addLeg(f, s, fore)
		}
		n.addAngle(f, s, back, fore)
	}
	f.Traverse.Start.Point, f.Traverse.Start.HasPoint = n.point(w.stations[0])
	if w.first.name != "" {
		f.Traverse.Start.Bearing, f.Traverse.Start.HasBearing = w.first.bearing, true
	}
}

// addAngle adds the angle at the next station; where the arms are one, or one is
// missing, there is none.
func (n *net) addAngle(f *Figure, at, back, fore string) {
	t := &f.Traverse
	t.Stations = append(t.Stations, at)
	a, ok := n.angle(at, back, fore)
	if !ok || back == fore {
		t.Angles = append(t.Angles, traverse.StationAngle{})
		f.Setups = append(f.Setups, 0)
		return
	}
	t.Angles = append(t.Angles, traverse.StationAngle{Value: a.value, SD: a.sd, Observed: true})
	f.Setups = append(f.Setups, a.setup.Setup)
	if k := a.setup.Figure; k.Value > f.Limit.Value || f.Limit.From == "" {
		f.Limit = k
	}
	if f.Unit == 0 {
		f.Unit, f.Places = a.setup.Instrument.Unit, a.setup.Instrument.Places()
	}
}

// addLeg adds the leg to the next station; its length is 0 where no distance
// is booked.
func (n *net) addLeg(f *Figure, from, to string) {
	l, ok := n.length(from, to)
	leg := traverse.Leg{Length: l.Mean}
	if ok {
		s := n.in.Settings
		leg.SD = math.Hypot(s.LengthSD, s.LengthPPM*1e-6*l.Mean) / math.Sqrt(float64(l.ends))
	}
	f.Traverse.Legs = append(f.Traverse.Legs, leg)
}

func (n *net) solve(f *Figure) error {
	f.Local, f.RatioFrom = !f.Traverse.Start.HasPoint, n.in.Settings.LeastRatioFrom
	s := f.settings(n.in.Settings)
	var err error
	if f.Result, err = traverse.Solve(f.Traverse, s); err != nil {
		return err
	}
	if f.Search, err = traverse.Locate(f.Traverse, s); err != nil {
		return err
	}
	f.Heights, f.HeightFrom = n.heights(*f), n.in.Settings.HeightFrom
	return nil
}
