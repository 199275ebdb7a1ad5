package network

import (
	"math"

	"example.org/readback/booking/day"
	"example.org/readback/reduce"
	"example.org/readback/reduce/places"
	"example.org/readback/reduce/traverse"
)

// Together is everything booked in one adjustment, judged.
type Together struct {
	Names       []string           // of the points
	Observed    []Observed         // every observation, in the order of the setups
	Adjusted    *places.Adjusted   // nil where it does not settle
	Search      places.Search      // what explains it, where it does not agree
	Failed      bool               // s₀² is over its limit, a residual is, or it does not settle
	Stated      bool               // every σ of a direction is stated or comes from ten or more degrees of freedom
	Placed      []bool             // of each point: it has a place
	Heights     *places.Levels     // nil where no rise is booked or levelled
	HeightNames []string           // of its points: Names, then those that are only levelled
	Rises       []Observed         // of Heights
	Danger      []Warning          // instruments placed by three marks only, near the circle through them
	Parts       [2]Component       // what the residuals of directions and of distances say of their σ
	setups      map[int]*setupPart // by number
	unit        reduce.Unit        // of the first instrument
	current     int
	known       []bool
	knownSeen   int
	limits      places.Limits
	settings    Settings
	reading     []float64 // of each observation, its σ before centring is joined to it
	said        *string   // by Next
}

// An Observed is one observation in names.
type Observed struct {
	Kind  places.Kind // Direction, Distance, Bearing, East or North; 0: a rise
	Setup int         // number; 0: known beforehand
	From  string
	To    string
}

// A Component is an estimate of how much larger the σ of a group of observations is
// than taken: √([pvv]/Σr).
type Component struct {
	Factor     float64 // 0: too few to say
	Redundancy float64 // Σr
}

// A Warning names a station that lies near the circle through the marks it was placed by.
type Warning struct {
	Station string
	Danger  float64 // |distance from the centre / radius − 1|
}

// A setupPart is what one setup gave.
type setupPart struct {
	summary *day.Summary
	set     int
}

// leastParts is the redundancy from which on a component is told.
const leastParts = 5

// together adjusts everything booked. It is nil where no station was occupied.
func (n *net) together() *Together {
	t, network := n.collect(n.in.Setups)
	if t == nil {
		return nil
	}
	t.current = n.current().Setup
	t.Placed = places.Start(network)
	n.weighCentring(t, network)
	t.settle(network)
	n.levels(t, n.in.Setups)
	n.dangers(t, network)
	return t
}

// collect makes one network of setups and of what is known of their points. It is nil
// where nothing was sighted.
func (n *net) collect(setups []day.Summary) (*Together, *places.Network) {
	t := &Together{setups: map[int]*setupPart{}, limits: n.in.Settings.Limits, settings: n.in.Settings, Stated: true}
	network := &places.Network{Stop: n.in.Stop}
	index := map[string]int{}
	point := func(name string) int {
		if i, ok := index[name]; ok {
			return i
		}
		index[name] = len(t.Names)
		t.Names = append(t.Names, name)
		network.Points = append(network.Points, places.Point{Name: name})
		return index[name]
	}
	sights := 0 // in a season a hundred thousand: room is made once
	for i := range setups {
		sights += len(setups[i].Sights)
	}
	network.Observations, t.Observed = make([]places.Observation, 0, sights), make([]Observed, 0, sights)
	for i := range setups {
		m := &setups[i]
		if len(m.Sights) == 0 || m.State == day.StateStruck {
			continue
		}
		if len(t.setups) == 0 {
			t.unit = m.Instrument.Unit
		}
		set := len(t.setups)
		t.setups[m.Setup] = &setupPart{m, set}
		n.addSetup(t, network, *m, set, point)
	}
	if len(t.setups) == 0 {
		return nil, nil
	}
	n.addKnown(t, network, index)
	return t, network
}

// addSetup adds the directions and distances of one setup.
func (n *net) addSetup(t *Together, network *places.Network, m day.Summary, set int, point func(string) int) {
	from := point(m.Station)
	sd, known := n.directionSD(m)
	t.Stated = t.Stated && known
	for _, l := range m.Sights {
		if l.Target == m.Station {
			continue
		}
		to := point(l.Target)
		if len(m.Sights) > 1 {
			network.Observations = append(network.Observations, places.Observation{Kind: places.Direction, From: from, To: to, Set: set,
				Value: l.Direction.Radians(), SD: sd / math.Sqrt(float64(max(1, l.Rounds))) * reduce.Arcsecond.Radians()})
			t.Observed = append(t.Observed, Observed{places.Direction, m.Setup, m.Station, l.Target})
		}
		if l.Horizontal > 0 {
			s := l.HorizontalSD
			if s == 0 {
				s = math.Hypot(n.in.Settings.LengthSD, n.in.Settings.LengthPPM*1e-6*l.Horizontal)
			}
			network.Observations = append(network.Observations, places.Observation{Kind: places.Distance, From: from, To: to, Value: l.Horizontal, SD: s})
			t.Observed = append(t.Observed, Observed{places.Distance, m.Setup, m.Station, l.Target})
		}
	}
}

// addKnown adds known coordinates of the points that are there, and known bearings.
func (n *net) addKnown(t *Together, network *places.Network, index map[string]int) {
	t.known = make([]bool, len(t.Names))
	s := n.in.Settings
	for i, name := range t.Names {
		if _, ok := n.point(name); !ok {
			continue
		}
		t.known[i] = true
		t.knownSeen++
	}
	for i, name := range t.Names {
		if !t.known[i] {
			continue
		}
		at, _ := n.point(name)
		network.Points[i].At = at
		if s.KnownSD <= 0 || t.knownSeen == 1 { // one alone is held: nothing could check it
			network.Points[i].Fixed = true
			continue
		}
		network.Observations = append(network.Observations, places.Observation{Kind: places.East, From: i, Value: at.E, SD: s.KnownSD},
			places.Observation{Kind: places.North, From: i, Value: at.N, SD: s.KnownSD})
		t.Observed = append(t.Observed, Observed{places.East, 0, name, ""}, Observed{places.North, 0, name, ""})
	}
	sd := max(s.BearingSD, reduce.Arcsecond/10)
	if t.knownSeen < 2 && len(n.in.Bearings) == 1 {
		sd = reduce.Arcsecond / 10 // nothing could check it
	}
	for _, b := range n.in.Bearings {
		from, okFrom := index[b.From]
		to, okTo := index[b.To]
		if okFrom && okTo && from != to {
			network.Observations = append(network.Observations, places.Observation{Kind: places.Bearing, From: from, To: to,
				Value: b.Bearing.Radians(), SD: sd.Radians()})
			t.Observed = append(t.Observed, Observed{places.Bearing, 0, b.From, b.To})
		}
	}
}

// directionSD returns the standard deviation of one direction, both faces, one
// round, in seconds: as set, as stated for the instrument, or from the rounds of
// all setups with the instrument, ten degrees of freedom or more. Else what is taken
// where nothing is stated (check.DefaultSigma of one face, over √2), and the scatter
// of its own rounds where that is larger; known is false then.
func (n *net) directionSD(m day.Summary) (sd float64, known bool) {
	if s := n.in.Settings.AngleSD; s > 0 {
		return s.Seconds(), true
	}
	if s := m.Instrument.Sigma; s > 0 {
		return s.Seconds(), true
	}
	least := m.Instrument.LeastCount.Seconds() / 2
	pooled := n.scatter[which{m.Instrument.Name, m.Instrument.Serial}]
	if pooled.Dof >= 10 {
		return max(pooled.S, least), true
	}
	taken := math.Max(2, 0.4*m.Instrument.LeastCount.Seconds()) / math.Sqrt2
	return max(taken, least, pooled.S), false
}

// weighCentring joins the centring of instrument and target to every standard
// deviation, at the places the adjustment starts from: √2·c across a direction and
// along a distance.
func (n *net) weighCentring(t *Together, network *places.Network) {
	c := n.in.Settings.Centring * math.Sqrt2
	t.reading = make([]float64, len(network.Observations))
	for i := range network.Observations {
		o := &network.Observations[i]
		t.reading[i] = o.SD
		switch o.Kind {
		case places.Direction:
			if d := traverse.Distance(network.Points[o.From].At, network.Points[o.To].At); t.Placed[o.From] && t.Placed[o.To] && d > 0 {
				o.SD = math.Hypot(o.SD, math.Min(c/d, 1))
			}
		case places.Distance:
			o.SD = math.Hypot(o.SD, c)
		}
	}
}

// settle adjusts and, where that fails, searches.
func (t *Together) settle(network *places.Network) {
	kept := &places.Network{Points: network.Points, Stop: network.Stop}
	var names []Observed
	var reading []float64
	for i, o := range network.Observations {
		two := o.Kind == places.Direction || o.Kind == places.Distance || o.Kind == places.Bearing
		if t.Placed[o.From] && (!two || t.Placed[o.To] && traverse.Distance(network.Points[o.From].At, network.Points[o.To].At) > 0) {
			kept.Observations, names = append(kept.Observations, o), append(names, t.Observed[i])
			reading = append(reading, t.reading[i])
		}
	}
	*network, t.Observed, t.reading = *kept, names, reading
	a, err := places.Adjust(network, t.limits)
	if err != nil {
		if network.Stop != nil && network.Stop() {
			return
		}
		t.Failed, t.Search = true, places.SearchUnsettled(network, t.limits)
		return
	}
	t.Adjusted = a
	limit := t.testLimit()
	t.Failed = a.Global.Possible && a.Global.Statistic > t.mostS0Squared()
	for _, r := range a.Residuals {
		t.Failed = t.Failed || r.Checked() && t.test(r) > limit
	}
	if t.Failed {
		t.Search = a.Search()
	}
	t.Parts = [2]Component{t.component(network, places.Direction), t.component(network, places.Distance)}
}

// component estimates how the σ of a group was taken. [VCE]
func (t *Together) component(network *places.Network, k places.Kind) Component {
	var c Component
	sum := 0.0
	for i, r := range t.Adjusted.Residuals {
		if o := network.Observations[i]; o.Kind == k && r.Used {
			c.Redundancy += r.Redundancy
			sum += float64(r.V * r.V / (o.SD * o.SD))
		}
	}
	if c.Redundancy >= leastParts {
		c.Factor = math.Sqrt(sum / c.Redundancy)
	}
	return c
}

// levels adjusts the rises of setups, and the levelled ones, as one weighted network.
func (n *net) levels(t *Together, setups []day.Summary) {
	index := map[string]int{}
	points := make([]places.Level, len(t.Names))
	for i, name := range t.Names {
		index[name] = i
		h, ok := n.elevation(name)
		points[i] = places.Level{Name: name, Known: ok, Height: h}
	}
	var rises []places.Rise
	s := n.in.Settings
	for _, m := range setups {
		for _, l := range m.Sights {
			if !l.HasRise || l.Target == m.Station {
				continue
			}
			rises = append(rises, places.Rise{From: index[m.Station], To: index[l.Target], Value: l.Rise, SD: max(s.riseSD(l), 1e-4)})
			t.Rises = append(t.Rises, Observed{0, m.Setup, m.Station, l.Target})
		}
	}
	for _, l := range n.in.Levels {
		from, okFrom := index[l.From]
		to, okTo := index[l.To]
		for _, x := range []struct {
			name string
			at   *int
			ok   bool
		}{{l.From, &from, okFrom}, {l.To, &to, okTo}} {
			if _, there := index[x.name]; !there {
				index[x.name] = len(points)
				h, ok := n.elevation(x.name)
				points = append(points, places.Level{Name: x.name, Known: ok, Height: h})
			}
			*x.at = index[x.name]
		}
		if from != to {
			rises = append(rises, places.Rise{From: from, To: to, Value: l.Rise.Metres(), SD: max(l.SD.Metres(), 1e-4)})
			t.Rises = append(t.Rises, Observed{0, 0, l.From, l.To})
		}
	}
	if len(rises) == 0 {
		return
	}
	for _, p := range points {
		t.HeightNames = append(t.HeightNames, p.Name)
	}
	if h, err := places.AdjustHeights(points, rises, t.limits); err == nil {
		t.Heights = h
	}
}

// dangers warns of stations that only directions to known marks place.
func (n *net) dangers(t *Together, network *places.Network) {
	if t.Adjusted == nil {
		return
	}
	sights := map[int][]places.Observation{} // of each set, to known marks
	measured := make([]bool, len(t.Names))   // a distance ends there
	for _, o := range network.Observations {
		switch {
		case o.Kind == places.Direction && t.known[o.To]:
			sights[o.Set] = append(sights[o.Set], o)
		case o.Kind == places.Distance:
			measured[o.From], measured[o.To] = true, true
		}
	}
	for _, m := range n.in.Setups {
		part := t.setups[m.Setup]
		if part == nil {
			continue
		}
		marks := sights[part.set]
		if len(marks) < 3 || t.known[marks[0].From] || measured[marks[0].From] {
			continue
		}
		if best := bestDanger(network, marks); best < places.NearDanger {
			t.Danger = append(t.Danger, Warning{m.Station, best})
		}
	}
}

// bestDanger is the largest of all threes of marks: how far the instrument lies off
// the circle through them.
func bestDanger(network *places.Network, marks []places.Observation) float64 {
	best := 0.0
	for a := range marks {
		for b := range marks[:a] {
			for c := range marks[:b] {
				at := func(i int) traverse.Point { return network.Points[marks[i].To].At }
				f, err := places.Resect([3]traverse.Point{at(a), at(b), at(c)}, [3]float64{marks[a].Value, marks[b].Value, marks[c].Value})
				if err == nil {
					best = max(best, f.Danger)
				}
			}
		}
	}
	return best
}
