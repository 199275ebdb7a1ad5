package network

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"

	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/places"
	"example.org/readback/reduce/slope"
	"example.org/readback/reduce/traverse"
)

// A Planned is a plan with what else must be said before its network can be foreseen.
type Planned struct {
	Stations []event.PlannedStation
	Near     []event.KnownStation // approximate places of the points that are not known
	Want     float64              // metres: wanted larger half axis at 95 % of the weakest place; 0: none
}

// An Expected is what a plan brings, before anything is read: the cofactors follow from
// the places and the standard deviations, no reading takes part.
type Expected struct {
	*Together
	Setups  []day.Summary // the planned setups, each with its rounds
	Within  float64       // metres: the larger half axis at 95 % of the weakest place
	Weakest string        // empty where every place is known
	Lost    []string      // what the plan gives no place
	More    string        // the setup that one more round helps the weakest place most; empty: none does
	MoreAt  int           // its line in the plan, from 1
	MoreTo  float64       // metres: what it brings Within to
	Want    float64       // metres
	Rounds  int           // at every setup, that Want takes; 0: not even the most that can be planned
	Reached float64       // metres: Within with those rounds, or with the most
}

// leastRounds are the rounds of a setup whose plan names none, where no setup went before.
const leastRounds = 2

// Expect foresees the network of a plan: of the whole plan, booked or not. Known points
// and bearings, settings and, from the last setup, the instrument and the rounds where
// the plan names none are those of in. Errors name the point without a place, or the
// two points at one place.
func Expect(in Input, plan Planned) (*Expected, error) {
	n := newNet(in)
	at := map[string]traverse.Point{}
	for _, k := range slices.Concat(in.Known, plan.Near) {
		if _, ok := at[k.Name]; !ok {
			at[k.Name] = knownPoint(k)
		}
	}
	n.placedAlready(plan, at)
	setups, err := planned(in, plan.Stations, at)
	if err != nil {
		return nil, err
	}
	e := &Expected{Setups: setups, Want: plan.Want}
	if e.Together, err = n.foresee(setups, at); err != nil {
		return nil, err
	}
	for i, x := range e.Adjusted.Places {
		if x.Lost {
			e.Lost = append(e.Lost, e.Names[i])
		}
	}
	e.Within, e.Weakest = e.weakestNew()
	if e.Weakest == "" {
		return e, nil
	}
	if err := e.oneMore(n, at); err != nil {
		return nil, err
	}
	if plan.Want > 0 && len(e.Lost) == 0 {
		err = e.need(n, at)
	}
	return e, err
}

// placedAlready adds the places that the book gives by now to points that nothing else
// says a place of, where those are in one frame: on two known points or more, or where
// nothing is known at all.
func (n *net) placedAlready(plan Planned, at map[string]traverse.Point) {
	if len(n.in.Setups) == 0 || len(plan.Near) > 0 {
		return
	}
	t, network := n.collect(n.in.Setups)
	if t == nil || t.knownSeen < 2 && len(n.in.Known) > 0 {
		return
	}
	for i, ok := range places.Start(network) {
		if _, has := at[t.Names[i]]; ok && !has {
			at[t.Names[i]] = network.Points[i].At
		}
	}
}

// planned makes of every planned station the setup that it will be, as far as weights ask.
func planned(in Input, plan []event.PlannedStation, at map[string]traverse.Point) ([]day.Summary, error) {
	if len(plan) == 0 {
		return nil, errors.New("there is no plan: load one with readback plan BOOK FILE, or name its file")
	}
	var last day.Summary
	if k := len(in.Setups); k > 0 {
		last = in.Setups[k-1]
	}
	rounds := leastRounds
	for _, l := range last.Sights {
		rounds = max(rounds, l.Rounds)
	}
	var out []day.Summary
	for i, p := range plan {
		m := day.Summary{Setup: i + 1, Station: p.Station, RO: p.RO, Targets: p.Targets, Instrument: last.Instrument}
		from, ok := at[p.Station]
		if !ok {
			return nil, noPlace(p.Station)
		}
		for _, target := range append([]string{p.RO}, p.Targets...) {
			to, ok := at[target]
			if !ok {
				return nil, noPlace(target)
			}
			l := day.SightLine{Target: target, Rounds: rounds}
			if p.Rounds > 0 {
				l.Rounds = p.Rounds
			}
			d := traverse.Distance(from, to)
			if d == 0 {
				return nil, fmt.Errorf("%s and %s stand at one place: expected coordinates apart", p.Station, target)
			}
			if p.Distances && !slices.Contains(p.NoDistance, target) {
				l.Horizontal, l.HasRise = d, p.Verticals && !slices.Contains(p.NoVertical, target)
				if x := m.Instrument; x.AltitudeSigma() > 0 && x.DistanceSD > 0 { // as a level sight is booked
					l.HorizontalSD, l.RiseSD = slope.SD(d, 0, slope.SDs{Slope: x.DistanceSD.Metres() + float64(x.DistancePPM*1e-6*d), Altitude: x.AltitudeSigma().Seconds()})
				}
			}
			m.Sights = append(m.Sights, l)
		}
		out = append(out, m)
	}
	return out, nil
}

func noPlace(name string) error {
	return fmt.Errorf("%s has no coordinates: expected it among the known stations, or roughly in the file of --near", name)
}

// foresee adjusts the setups with what would be observed if nothing were in error.
func (n *net) foresee(setups []day.Summary, at map[string]traverse.Point) (*Together, error) {
	t, network := n.collect(setups)
	t.Placed = make([]bool, len(t.Names))
	for i, name := range t.Names {
		network.Points[i].At, t.Placed[i] = at[name], true
	}
	for i := range network.Observations {
		o := &network.Observations[i]
		d := network.Points[o.To].At.Sub(network.Points[o.From].At)
		switch o.Kind {
		case places.Direction, places.Bearing:
			o.Value = math.Atan2(d.E, d.N)
		case places.East, places.North, places.Distance, places.Angle: // are what they are
		}
	}
	n.weighCentring(t, network)
	t.settle(network)
	if t.Adjusted == nil {
		return nil, places.ErrNoSolution
	}
	n.levels(t, setups)
	return t, nil
}

// weakestNew is the largest half axis of the places that are not known, and whose it is.
func (t *Together) weakestNew() (float64, string) {
	largest, name := 0.0, ""
	for p, x := range t.Adjusted.Places {
		if e := x.Ellipse95(); !x.Lost && !t.known[p] && e.A > largest+1e-7 {
			largest, name = e.A, t.Names[p]
		}
	}
	return largest, name
}

// withRounds returns the weakest place with other rounds at the setups.
func (e *Expected) withRounds(n *net, at map[string]traverse.Point, rounds func(setup, is int) int) (float64, error) {
	setups := slices.Clone(e.Setups)
	for i := range setups {
		setups[i].Sights = slices.Clone(setups[i].Sights)
		for j := range setups[i].Sights {
			l := &setups[i].Sights[j]
			l.Rounds = rounds(i, l.Rounds)
		}
	}
	t, err := n.foresee(setups, at)
	if err != nil {
		return 0, err
	}
	within, _ := t.weakestNew()
	return within, nil
}

// oneMore finds the setup that one more round helps the weakest place most.
func (e *Expected) oneMore(n *net, at map[string]traverse.Point) error {
	e.MoreTo = e.Within
	for i, m := range e.Setups {
		within, err := e.withRounds(n, at, func(setup, is int) int {
			if setup == i {
				return is + 1
			}
			return is
		})
		if err != nil {
			return err
		}
		if within < e.MoreTo-1e-7 {
			e.More, e.MoreAt, e.MoreTo = m.Station, i+1, within
		}
	}
	return nil
}

// need finds the fewest rounds, the same at every setup, that bring the weakest place
// within what is wanted. Distances and centring stay as they are.
func (e *Expected) need(n *net, at map[string]traverse.Point) (err error) {
	const from = leastRounds
	within := func(k int) float64 {
		w, werr := e.withRounds(n, at, func(int, int) int { return k })
		err = errors.Join(err, werr)
		return w
	}
	k := from + sort.Search(spec.MaxRounds-from, func(i int) bool { return within(from+i) <= e.Want })
	if e.Reached = within(k); e.Reached <= e.Want {
		e.Rounds = k
	}
	return err
}

// Known tells whether the point is known beforehand.
func (e *Expected) Known(i int) bool { return e.known[i] }
