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
	Setup    int
	Station  string
	RO       string
	Bearing  reduce.Direction // mean, [0°, 360°)
	From     []string         // the known stations
	Unit     reduce.Unit
	Places   int
	bearings bearings // how they are printed
}

// orientations returns the orientation of every setup that has one.
func (n *net) orientations() []Orientation {
	var out []Orientation
	for _, m := range n.in.Setups {
		o := Orientation{Setup: m.Setup, Station: m.Station, RO: m.RO, Unit: m.Instrument.Unit, Places: m.Instrument.Places(), bearings: n.in.Settings.bearings()}
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
		o.bearings.text(o.Bearing, o.Unit, o.Places)+o.Unit.Mark(), list(o.From))
}

// bearings says how bearings are printed. They are kept as counted from north.
type bearings struct {
	zero      reduce.Angle // counted clockwise from here: 0 north, 180° south
	quadrants bool         // within their quadrant, whatever zero is
}

// bearings says how the settings have bearings printed.
func (s Settings) bearings() bearings { return bearings{s.Zero, s.Quadrants} }

// BearingText prints a bearing as the settings have it: 45°10′20″, counted from north or
// south, or N 45°10′20″ E within its quadrant.
func (s Settings) BearingText(b reduce.Direction, u reduce.Unit, places int) string {
	return s.bearings().text(b, u, places)
}

func (w bearings) text(b reduce.Direction, u reduce.Unit, places int) string {
	if !w.quadrants {
		return reduce.DirectionAt(b.Angle()-w.zero).Format(u, places)
	}
	a, ns, ew := b.Angle().Normalize(), "N", "E"
	if a > reduce.HalfTurn {
		a, ew = reduce.Turn-a, "W"
	}
	if a > reduce.QuarterTurn {
		a, ns = reduce.HalfTurn-a, "S"
	}
	return ns + " " + reduce.DirectionAt(a).Format(u, places) + " " + ew
}

// says tells how bearings are printed; nothing where they are counted from north.
func (w bearings) says() string {
	switch {
	case w.quadrants:
		return "Bearings are counted from north or south, within their quadrant."
	case w.zero != 0:
		return "Bearings are counted from south, clockwise."
	}
	return ""
}

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
