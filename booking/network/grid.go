package network

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/readback/booking/day"
	"example.org/readback/booking/page"
	"example.org/readback/reduce/decimal"
	"example.org/readback/reduce/places"
	"example.org/readback/reduce/slope"
	"example.org/readback/reduce/traverse"
)

// a gridLine is a line brought to the grid by the scale of the projection along it.
type gridLine struct {
	From, To string
	Scale    float64
}

// A Grid says how the measured distances were brought to the grid.
type Grid struct {
	Lines  []gridLine // in the order they were measured, each once
	Keyed  []int      // setups whose distances had a scale keyed with them: left as they are
	Above  []int      // setups whose distances are not brought to sea level
	Placed bool       // false: nothing known places the lines, and no distance was scaled
	Far    bool       // a line lies where nobody lays a grid: the easting of the meridian is likely wrong
	seen   map[[2]string]bool
}

// farFromMeridian is beyond what grids reach, metres (common practice, no source: strips
// of 3° and 6° reach 340 km at the equator).
const farFromMeridian = 500e3

// gridScale is the scale of a transverse cylindrical projection at an easting, on the
// sphere,
//
//	k = k₀·cosh u = k₀·(1 + u²/2 + u⁴/24),  u = (E − E₀)/(k₀·R)
//
// to 10⁻⁹ within 500 km of the middle meridian; that the earth is no sphere adds under 1
// millionth within 100 km. (J.P. Snyder, Map Projections: A Working Manual, formulas 8-1
// and 8-4, from memory.)
func (s Settings) gridScale(east float64) float64 {
	u := (east - s.GridEast) / (s.GridScale * slope.EarthRadius)
	square := float64(u * u)
	return s.GridScale * (1 + float64(square/2) + float64(float64(square*square)/24))
}

// grid brings every measured distance to the grid by the scale along its own line, that
// at both ends and in the middle; the places for it are those the adjustment starts from,
// since a metre there changes no scale by 10⁻⁸.
func (n *net) grid() *Grid {
	s := n.in.Settings
	if s.GridScale == 0 {
		return nil
	}
	g := &Grid{seen: map[[2]string]bool{}}
	t, network := n.collect(n.in.Setups)
	if t == nil {
		return g
	}
	placed := places.Start(network)
	at := map[string]traverse.Point{}
	for i, name := range t.Names {
		if placed[i] && t.knownSeen > 0 {
			at[name] = network.Points[i].At
		}
	}
	g.Placed = len(at) > 0
	for i := range n.in.Setups {
		n.gridSetup(&n.in.Setups[i], at, g)
	}
	return g
}

// gridSetup brings the distances of one setup to the grid.
func (n *net) gridSetup(m *day.Summary, at map[string]traverse.Point, g *Grid) {
	from, ok := at[m.Station]
	if !ok || m.State == day.StateStruck || !slices.ContainsFunc(m.Sights, func(l day.SightLine) bool { return l.Horizontal > 0 }) {
		return
	}
	if m.Scaled != nil && *m.Scaled {
		g.Keyed = append(g.Keyed, m.Setup)
		return
	}
	if !m.AtSeaLevel {
		g.Above = append(g.Above, m.Setup)
	}
	m.Sights = slices.Clone(m.Sights)
	for i := range m.Sights {
		l := &m.Sights[i]
		to, ok := at[l.Target]
		if !ok || l.Horizontal == 0 {
			continue
		}
		s := n.in.Settings
		k := slope.LineScale(s.gridScale(from.E), s.gridScale((from.E+to.E)/2), s.gridScale(to.E))
		l.Horizontal *= k
		g.Far = g.Far || math.Abs(from.E-s.GridEast) > farFromMeridian
		if !g.seen[[2]string{m.Station, l.Target}] {
			g.seen[[2]string{m.Station, l.Target}], g.seen[[2]string{l.Target, m.Station}] = true, true
			g.Lines = append(g.Lines, gridLine{m.Station, l.Target, k})
		}
	}
}

// set says how the distances were brought to the grid.
func (g *Grid) set(p *page.Page) {
	if g == nil {
		return
	}
	p.Add(page.Gap{})
	if !g.Placed {
		p.Say("", "Distances are not brought to the grid: no known station says where on it the lines lie.")
		return
	}
	p.Say("", "Distances brought to the grid by the scale along each line")
	if g.Far {
		p.Say("  ! ", "Lines lie more than 500 km from the middle meridian: look whether its easting, grid-east, is right.")
	}
	if len(g.Above) > 0 {
		p.Say("  ", fmt.Sprintf("Not brought to sea level before it: %s.", setupsOf(g.Above)))
	}
	if len(g.Keyed) > 0 {
		p.Say("  ", fmt.Sprintf("Left as the scale factor of the setup made them: %s.", setupsOf(g.Keyed)))
	}
	var rows [][]string
	for _, l := range g.Lines {
		rows = append(rows, []string{l.From + "–" + l.To, fmt.Sprintf("%.8f", l.Scale), minusPlus(1e6 * (l.Scale - 1))})
	}
	p.Add(tableOf(rows, page.Column{Head: "Line", Cols: 30}, number("Scale", 12), number("mm a km", 10)))
}

// minusPlus prints a number with its sign and one decimal.
func minusPlus(x float64) string {
	return decimal.Sprintf("%+.1f", math.Round(10*x)/10)
}

func setupsOf(numbers []int) string {
	var words []string
	for _, k := range numbers {
		words = append(words, fmt.Sprint(k))
	}
	if len(words) == 1 {
		return "setup " + words[0]
	}
	return "setups " + strings.Join(words, ", ")
}
