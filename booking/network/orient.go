package network

import (
	"fmt"

	"example.org/readback/booking/check"
	"example.org/readback/reduce"
	"example.org/readback/reduce/traverse"
)

// An Orientation is the bearing of a setup's reference object, from the known
// stations the setup sights.
type Orientation struct {
	Setup   int
	Station string
	RO      string
	Bearing reduce.Direction // mean, [0°, 360°)
	From    []string         // the known stations
	Unit    reduce.Unit
	Places  int
	zero    reduce.Angle // what bearings are printed from
}

// orientations returns the orientation of every setup that has one.
func (n *net) orientations() []Orientation {
	var out []Orientation
	for _, m := range n.in.Setups {
		o := Orientation{Setup: m.Setup, Station: m.Station, RO: m.RO, Unit: m.Instrument.Unit, Places: m.Instrument.Places(), zero: n.in.Settings.Zero}
		var turns []reduce.Direction
		for _, l := range m.Sights {
			if b, ok := n.bearing(m.Station, l.Target); ok {
				turns = append(turns, reduce.DirectionAt(b.Sub(l.Direction)))
				o.From = append(o.From, l.Target)
			}
		}
		mean, err := reduce.Mean(turns)
		if err != nil {
			continue
		}
		o.Bearing = mean
		out = append(out, o)
	}
	return out
}

// String says the orientation in one sentence.
func (o Orientation) String() string {
	return fmt.Sprintf("At %s (setup %d) the RO %s bears %s, from %s.", o.Station, o.Setup, o.RO,
		BearingText(o.Bearing, o.zero, o.Unit, o.Places)+o.Unit.Mark(), list(o.From))
}

// BearingText prints a bearing, which is kept as counted from north, as counted from
// zero: 0 north, 180° south.
func BearingText(b reduce.Direction, zero reduce.Angle, u reduce.Unit, places int) string {
	return reduce.DirectionAt(b.Angle()-zero).Format(u, places)
}

// fromSouth says that bearings are.
const fromSouth = "Bearings are counted from south, clockwise."

// knownChecks holds the angle between two known targets of a station against
// their coordinates. The first known target is held against each other one.
func (n *net) knownChecks() []stationCheck {
	var out []stationCheck
	for _, s := range n.stations {
		var first string
		for _, t := range n.targets(s) {
			if _, ok := n.bearing(s, t); !ok {
				continue
			}
			if first == "" {
				first = t
				continue
			}
			if c, ok := n.knownCheck(s, first, t); ok {
				out = append(out, stationCheck{c, s})
			}
		}
	}
	return out
}

func (n *net) knownCheck(at, first, second string) (check.Check, bool) {
	a, ok := n.angle(at, first, second)
	if !ok {
		return check.Check{}, false
	}
	from, _ := n.bearing(at, first)
	to, _ := n.bearing(at, second)
	off := (a.value - to.Sub(from)).Wrap()
	limit := traverse.Limit(a.setup.Figure.Value, 2)
	source := a.setup.Figure.From
	if _, sd, ok := knownDirection(n.in.Known, n.in.Settings.PlaceSD, at, first, second); ok && reduce.FromSeconds(sd) > limit {
		limit, source = reduce.FromSeconds(sd).Round(reduce.Arcsecond), metres(n.in.Settings.PlaceSD)+" in the known coordinates"
	}
	c := check.Check{Name: "orientation", Met: off.Abs() <= limit, From: source}
	fit, most := against(off, limit, a.setup.Instrument.Unit, false)
	c.Text = fmt.Sprintf("At %s the known directions to %s and %s fit to %s, limit %s.", at, first, second, fit, most)
	if !c.Met {
		c.Again = fmt.Sprintf("ask which target is sighted as %s and as %s, and check their coordinates", first, second)
	}
	return c, true
}
