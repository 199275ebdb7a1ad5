package network

import (
	"fmt"
	"slices"
	"strings"

	"example.org/readback/booking/check"
	"example.org/readback/booking/day"
	"example.org/readback/reduce/traverse"
)

// A Report says what the setups of a book make together.
type Report struct {
	Figures  []Figure      // those of the current setup first; rings, links, open traverses
	Lines    []Line        // every line observed from both ends
	Bearings []Orientation // of the reference objects of setups that sight known stations
	Checks   []check.Check // directions to known stations, stations occupied twice
	Centred  []Centred     // sights reduced to their marks
	Grid     *Grid         // how distances were brought to the grid; nil: none is set
	Open     []string      // a sentence for each thing that is still open
	Together *Together     // everything in one adjustment; nil where nothing was sighted
	Feet     bool          // the tables of figures are printed in international feet
	Current  day.Summary   // the setup whose tripod still stands; number 0: none

	bearings                 bearings // how they are printed
	distanceFrom, heightFrom string   // where the limits of the lines came from
	stations                 int      // how many were occupied
	checkAt                  []string // at which station each of Checks is
}

// A Line is a line observed from both ends.
type Line struct {
	From, To string
	Distance *traverse.Reciprocal // nil: not measured from both ends
	Height   *traverse.Reciprocal // likewise

	// Coefficient of refraction that the heights there and back show, and its
	// standard deviation; KSD is 0 where there is none.
	K, KSD float64

	// Which end of a distance that disagrees is right, and what says so; likewise of a
	// difference of height.
	supports, riseSupports string
}

// Work makes the report. It never fails: what cannot be worked is said in Open.
func Work(in Input) Report {
	n, r := figures(in)
	r.Centred, r.Grid = n.centredSights, n.onGrid
	r.Together = n.together()
	r.Lines = n.lines()
	for i, l := range r.Lines {
		r.Lines[i].supports, r.Lines[i].riseSupports = n.supported(l, r.Figures), n.riseSupported(l, r.Figures)
	}
	r.Bearings = n.orientations()
	for _, c := range append(n.knownChecks(), n.twice(r.Figures)...) {
		r.Checks, r.checkAt = append(r.Checks, c.Check), append(r.checkAt, c.at)
	}
	r.Open = append(r.Open, n.stillOpen(r.Figures)...)
	return r
}

// Figures makes only the figures of the report, for who needs them and their places and
// nothing that is judged together: in memory, that of the setups alone.
func Figures(in Input) Report {
	_, r := figures(in)
	return r
}

// figures works the rings, links and open traverses.
func figures(in Input) (*net, Report) {
	n := newNet(in)
	set := &n.in.Settings
	r := Report{Current: n.current(), bearings: set.bearings(), distanceFrom: set.DistanceFrom, heightFrom: set.HeightFrom, stations: len(n.stations)}
	for _, stations := range n.rings() {
		f, err := n.ring(stations)
		r.add(f, err)
	}
	for _, w := range n.links() {
		if r.holds(w, n) {
			continue
		}
		f, err := n.linkage(w)
		r.add(f, err)
	}
	r.addOpen(n)
	slices.SortStableFunc(r.Figures, func(a, b Figure) int { return r.here(b) - r.here(a) })
	return n, r
}

// here is 1 for a figure that the tripod which still stands is part of.
func (r *Report) here(f Figure) int {
	if r.Current.Setup != 0 && slices.Contains(f.Setups, r.Current.Setup) {
		return 1
	}
	return 0
}

func (r *Report) add(f Figure, err error) {
	if err != nil {
		r.Open = append(r.Open, fmt.Sprintf("The %s %s cannot be computed: %v.", f.Kind, chain(f.Stations, f.Kind), err))
		return
	}
	r.Figures = append(r.Figures, f)
}

// holds tells whether a link says no more than a ring: it closes on bearings
// only, and its stations and marks are all of that ring.
func (r *Report) holds(w walkway, n *net) bool {
	_, start := n.point(w.stations[0])
	_, end := n.point(w.stations[len(w.stations)-1])
	if start && end {
		return false
	}
	names := append(slices.Clone(w.stations), w.first.name, w.last.name)
	return slices.ContainsFunc(r.Figures, func(f Figure) bool {
		return f.Kind == Ring && !slices.ContainsFunc(names, func(s string) bool { return !slices.Contains(f.Stations, s) })
	})
}

// addOpen adds the walk in the order of occupation where nothing of it is part
// of a ring or a link.
func (r *Report) addOpen(n *net) {
	w := n.walk()
	if len(w) < 2 || len(r.Figures) > 0 {
		return
	}
	for i := 1; i < len(w)-1; i++ {
		if _, ok := n.angle(w[i], w[i-1], w[i+1]); !ok {
			return
		}
	}
	f, err := n.open(w)
	r.add(f, err)
}

// lines lists every line with a distance or a height from both ends.
func (n *net) lines() []Line {
	var out []Line
	for i, a := range n.stations {
		for _, b := range n.near[a] {
			if n.order[b] < i {
				continue
			}
			l := Line{From: a, To: b}
			if d, ok := n.length(a, b); ok && d.ends == 2 {
				l.Distance = &d.Reciprocal
			}
			if h := n.riseBothWays(a, b); h != nil {
				d, _ := n.length(a, b)
				l.Height = h
				l.K, l.KSD = n.refraction(a, b, h.Difference, d.Mean)
			}
			if l.Distance != nil || l.Height != nil {
				out = append(out, l)
			}
		}
	}
	return out
}

// A stationCheck is a check at one station.
type stationCheck struct {
	check.Check
	at string
}

// twice compares the angles of figures at stations that were occupied more than
// once.
func (n *net) twice(fs []Figure) []stationCheck {
	var out []stationCheck
	done := map[string]bool{}
	for _, f := range fs {
		k := len(f.Stations)
		for i, s := range f.Stations {
			if f.Setups[i] == 0 || len(n.at[s]) < 2 {
				continue
			}
			back, fore := f.Stations[(i+k-1)%k], f.Stations[(i+1)%k]
			a, ok := n.angle(s, back, fore)
			name := back + "–" + s + "–" + fore
			if !ok || a.other == 0 || done[name] {
				continue
			}
			done[name] = true
			limit := traverse.Limit(a.setup.Figure.Value, 2)
			c := check.Check{Name: "twice", Met: a.apart.Abs() <= limit, From: a.setup.Figure.From}
			apart, most := against(a.apart, limit, a.setup.Instrument.Unit, false)
			c.Text = fmt.Sprintf("The angle %s differs by %s between setups %d and %d, limit %s; the later one is used.",
				name, apart, a.other, a.setup.Setup, most)
			if !c.Met {
				c.Again = "observe the angle at " + s + " once more"
			}
			out = append(out, stationCheck{c, s})
		}
	}
	return out
}

// chain prints the stations of a figure: "Weir–Alder–Quarry", a ring with its
// first once more.
func chain(stations []string, k Kind) string {
	s := strings.Join(stations, "–")
	if k == Ring && len(stations) > 0 {
		s += "–" + stations[0]
	}
	return s
}
