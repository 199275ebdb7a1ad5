package network

import (
	"fmt"
	"math"
	"slices"

	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/reduce"
	"example.org/readback/reduce/places"
	"example.org/readback/reduce/traverse"
)

// A Centred is one sight of an instrument, or of a target, that stood beside its mark,
// reduced to the mark.
type Centred struct {
	Setup    int
	Station  string
	Target   string
	Turn     reduce.Angle // added to the direction, clockwise
	Lengthen float64      // metres, added to the horizontal distance; 0 where none was measured
	Known    bool         // false: no distance is known, and the sight is left out of everything
	unit     reduce.Unit
}

// String says it in a sentence.
func (c Centred) String() string {
	name := fmt.Sprintf("%s to %s (setup %d)", c.Station, c.Target, c.Setup)
	if !c.Known {
		return "The sight from " + name + " is left out: it stood beside its mark, and no distance is known to reduce it by."
	}
	text := fmt.Sprintf("%s: direction %s", name, withSign(c.Turn, c.unit))
	if c.Lengthen != 0 {
		text += fmt.Sprintf(", distance %s m", signed(c.Lengthen))
	}
	return text + "."
}

// CentredSights says in a sentence each how the sights of one setup are reduced to the
// mark that one of its ends stood beside. A sight whose distance only another setup
// measured is not among them.
func CentredSights(known []event.KnownStation, c event.CentreNoted, m day.Summary) []string {
	n := newNet(Input{Known: known, Centres: []event.CentreNoted{c}, Setups: []day.Summary{m}})
	var out []string
	for _, s := range n.centredSights {
		if s.Known {
			out = append(out, s.String())
		}
	}
	return out
}

// centre reduces the sights of every setup whose instrument or targets stood beside
// their marks. A direction is turned by e·sin θ/D, exactly (places.ToCentre); D is
// worked from the measured distance, else from the known places, else from the
// distance another setup measured. Directions stay reduced to the RO. The rise of
// such a sight is left out: the ground beside a mark has a height of its own.
func (n *net) centre() {
	if len(n.in.Centres) == 0 {
		return
	}
	n.in.Setups = slices.Clone(n.in.Setups)
	measured := measuredLengths(n.in.Setups)
	for i, m := range n.in.Setups {
		if slices.ContainsFunc(n.in.Centres, func(c event.CentreNoted) bool { return c.Setup == m.Setup }) {
			n.in.Setups[i] = n.centred(m, measured)
		}
	}
}

// measuredLengths are the horizontal distances booked between two names, either way,
// the latest.
func measuredLengths(setups []day.Summary) map[[2]string]float64 {
	out := map[[2]string]float64{}
	for _, m := range setups {
		for _, l := range m.Sights {
			if l.Horizontal > 0 {
				out[[2]string{m.Station, l.Target}], out[[2]string{l.Target, m.Station}] = l.Horizontal, l.Horizontal
			}
		}
	}
	return out
}

// centred reduces one setup.
func (n *net) centred(m day.Summary, measured map[[2]string]float64) day.Summary {
	stood := map[string]event.CentreNoted{}
	for _, c := range n.in.Centres {
		if c.Setup == m.Setup {
			stood[c.Target] = c
		}
	}
	var sights []day.SightLine
	var turned reduce.Angle // of the RO
	for _, l := range m.Sights {
		done := Centred{Setup: m.Setup, Station: m.Station, Target: l.Target, Known: true, unit: m.Instrument.Unit}
		was := l.Horizontal
		far := measured[[2]string{m.Station, l.Target}]
		if a, okA := n.point(m.Station); okA {
			if b, ok := n.point(l.Target); ok {
				far = traverse.Distance(a, b)
			}
		}
		for _, k := range []string{"", l.Target} {
			c, ok := stood[k]
			if !ok || !done.Known {
				continue
			}
			angle := c.Angle
			if k == "" {
				angle = l.Direction.Angle() - c.Angle
			}
			turn, length, ok := toMark(c.Distance.Metres(), angle, l.Horizontal, far)
			done.Known, done.Turn = ok, done.Turn+turn
			if l.Horizontal > 0 {
				l.Horizontal = length
			}
			l.Rise, l.RiseSD, l.HasRise = 0, 0, false
		}
		if _, whole := stood[""]; !whole {
			if _, ok := stood[l.Target]; !ok {
				sights = append(sights, l)
				continue
			}
		}
		done.Lengthen = l.Horizontal - was
		n.centredSights = append(n.centredSights, done)
		if !done.Known {
			continue
		}
		if l.Target == m.RO {
			turned = done.Turn
		}
		l.Direction = l.Direction.Add(done.Turn)
		sights = append(sights, l)
	}
	for i := range sights {
		sights[i].Direction = reduce.DirectionAt(sights[i].Direction.Angle() - turned)
	}
	m.Sights = sights
	return m
}

// toMark returns by how much a direction must be turned clockwise, and the distance
// between the marks, from the angle at the place beside the mark, e, and the distance
// measured there, or else that between the marks.
func toMark(e float64, angle reduce.Angle, measured, between float64) (turn reduce.Angle, length float64, ok bool) {
	cos := math.Cos(angle.Radians())
	length = between
	if measured > 0 {
		length = math.Sqrt(max(0, float64(measured*measured)+float64(e*e)-float64(2*measured*e*cos)))
	}
	if !(length > e) {
		return 0, length, false
	}
	return reduce.FromRadians(places.ToCentre(e, angle.Radians(), length)), length, true
}
