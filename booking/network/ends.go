package network

import (
	"fmt"
	"math"

	"example.org/readback/booking/day"
	"example.org/readback/reduce/traverse"
)

// farOff is how many standard deviations a distance may lie off what it is held
// against before that speaks against it.
const farOff = 3

// ends are the two values of a line that disagree: what each end measured.
type ends struct {
	line        Line
	there, back float64 // metres: from line.From, from line.To; rises both upwards from line.From
	limit       float64 // metres: as far apart as they may be
	rises       bool    // they are differences of height, not distances
}

func endsOf(l Line, r traverse.Reciprocal, rises bool) ends {
	return ends{l, r.Mean + r.Difference/2, r.Mean - r.Difference/2, r.Limit, rises}
}

// A witness names the end of a line that disagrees which it supports, and says how;
// empty where it cannot tell.
type witness func(ends, []Figure) (text, end string)

// supported says which end of a line whose distances disagree is the right one, and
// what says so: the known coordinates of both, the first ring or link that closes with
// one end and not with the other, or what another setup measured along it.
func (n *net) supported(l Line, fs []Figure) string {
	if l.Distance == nil || l.Distance.Within() {
		return ""
	}
	return endsOf(l, *l.Distance, false).heard(fs, n.knownSupports, n.figureSupports, n.otherSupports)
}

// heard is what the first witness says that can tell; empty where none can, and where
// they contradict each other.
func (e ends) heard(fs []Figure, witnesses ...witness) string {
	said, end := "", ""
	for _, w := range witnesses {
		t, from := w(e, fs)
		switch {
		case t == "":
		case end == "":
			said, end = t, from
		case end != from:
			return ""
		}
	}
	return said
}

// value is what a sight measured of what the ends are.
func (e ends) value(l day.SightLine) (float64, bool) {
	if e.rises {
		return l.Rise, l.HasRise
	}
	return l.Horizontal, l.Horizontal > 0
}

// turned turns a value between how its own end counts it and how it is counted from
// line.From: a rise has the other sign from line.To.
func (e ends) turned(from string, value float64) float64 {
	if e.rises && from == e.line.To {
		return -value
	}
	return value
}

// says prints a value as the end that it is from counts it.
func (e ends) says(from string, value float64) string {
	if e.rises {
		return signed(e.turned(from, value))
	}
	return fmt.Sprintf("%.3f", value)
}

// choose returns the end that keeps a limit which the other does not: its name, its
// value, and those of the other. ok is false where both keep it or neither does.
func (e ends) choose(keeps func(float64) bool) (end string, own float64, other string, others float64, ok bool) {
	switch there, back := keeps(e.there), keeps(e.back); {
	case there && !back:
		return e.line.From, e.there, e.line.To, e.back, true
	case back && !there:
		return e.line.To, e.back, e.line.From, e.there, true
	}
	return "", 0, "", 0, false
}

// knownSupports holds both ends against the known coordinates of the two.
func (n *net) knownSupports(e ends, _ []Figure) (text, end string) {
	_, known, ok := n.coordinates(e.line.From, e.line.To)
	if !ok {
		return "", ""
	}
	s := n.in.Settings
	sd := math.Hypot(s.KnownSD*math.Sqrt2, math.Hypot(s.LengthSD, s.LengthPPM*1e-6*known))
	end, own, _, _, ok := e.choose(func(d float64) bool { return math.Abs(d-known) <= farOff*sd })
	if !ok {
		return "", ""
	}
	return fmt.Sprintf("The known coordinates support %s's own %.3f: they give %.3f.", end, own, known), end
}

// figureSupports closes the first ring or link over the line with each of its ends.
func (n *net) figureSupports(e ends, fs []Figure) (text, end string) {
	for _, f := range fs {
		leg, ok := f.legOf(e.line)
		if !ok || f.Result.Carried.Linear == nil || !n.onlyThis(f, leg) {
			continue
		}
		if end, own, other, others, ok := e.choose(n.closesWith(f, leg)); ok {
			return fmt.Sprintf("With %s's own %.3f the %s closes to %s, with %s's %.3f to %s.",
				end, own, f.Kind, millimetres(f.missWith(leg, own)), other, others, millimetres(f.missWith(leg, others))), end
		}
	}
	return "", ""
}

// legOf returns which leg of a figure a line is.
func (f Figure) legOf(l Line) (int, bool) {
	for i := range f.Traverse.Legs {
		if l.joins(f.station(i), f.station(i+1)) {
			return i, true
		}
	}
	return 0, false
}

// joins tells whether a line lies between two names, in either direction.
func (l Line) joins(a, b string) bool {
	return l.From == a && l.To == b || l.From == b && l.To == a
}

// onlyThis tells whether the angles of a figure keep their limit and no other of its
// legs has ends that disagree: else its misclosure says nothing of this one.
func (n *net) onlyThis(f Figure, leg int) bool {
	if a := f.Result.Carried.Angular; a != nil && !a.Within() {
		return false
	}
	for i := range f.Traverse.Legs {
		if d, ok := n.length(f.station(i), f.station(i+1)); i != leg && ok && d.ends == 2 && !d.Within() {
			return false
		}
	}
	return true
}

// closingWith is the closing vector of a figure with another length of one leg, and
// the direction of that leg. The bearings don't hang on lengths, so it moves along it.
func (f Figure) closingWith(leg int, length float64) (closing, along traverse.Point) {
	row := f.Result.Carried.Rows[leg]
	along = traverse.Point{E: row.Delta.E / row.Length, N: row.Delta.N / row.Length}
	by := length - row.Length
	c := f.Result.Carried.Linear.Closing
	return traverse.Point{E: c.E + float64(by*along.E), N: c.N + float64(by*along.N)}, along
}

// missWith is the linear misclosure with another length of one leg, metres.
func (f Figure) missWith(leg int, length float64) float64 {
	c, _ := f.closingWith(leg, length)
	return math.Hypot(c.E, c.N)
}

// closesWith tells of a length of one leg whether the figure then keeps its limit and
// closes along the leg to what the standard deviations of its legs and angles allow.
func (n *net) closesWith(f Figure, leg int) func(float64) bool {
	sd, l := n.closingSD(f, leg), f.Result.Carried.Linear
	return func(length float64) bool {
		c, u := f.closingWith(leg, length)
		total := l.Length + length - f.Traverse.Legs[leg].Length
		return math.Abs(float64(c.E*u.E)+float64(c.N*u.N)) <= farOff*sd && math.Hypot(c.E, c.N)*l.LeastRatio <= total
	}
}

// closingSD is the standard deviation, metres, of the closing vector of a figure along
// one leg, that leg measured from one end: of each leg its share along it, of each
// angle what it moves the end along it, of a link both its known ends.
func (n *net) closingSD(f Figure, leg int) float64 {
	rows, points := f.Result.Carried.Rows, f.Result.Carried.Points
	_, u := f.closingWith(leg, rows[leg].Length)
	end := points[0]
	var sd float64
	if f.Kind == Link {
		end, sd = f.Traverse.End.Point, n.in.Settings.KnownSD*math.Sqrt2
	}
	for i, r := range rows {
		part := f.Traverse.Legs[i].SD * (float64(r.Delta.E*u.E) + float64(r.Delta.N*u.N)) / r.Length
		if i == leg {
			part *= math.Sqrt2
		}
		sd = math.Hypot(sd, part)
	}
	for i, p := range points {
		if a := f.Traverse.Angles[i]; a.Observed {
			lever := float64((end.E-p.E)*u.N) - float64((end.N-p.N)*u.E)
			sd = math.Hypot(sd, a.SD/3600*math.Pi/180*lever)
		}
	}
	return sd
}

// otherSupports holds both ends against what earlier setups on them measured along
// the same line. They must all support the same end.
func (n *net) otherSupports(e ends, _ []Figure) (text, end string) {
	for _, way := range [2][2]string{{e.line.From, e.line.To}, {e.line.To, e.line.From}} {
		latest := true
		ms := n.at[way[0]]
		for i := len(ms) - 1; i >= 0; i-- {
			l, _ := line(ms[i], way[1])
			value, ok := e.value(l)
			if !ok {
				continue
			}
			value = e.turned(way[0], value)
			if latest {
				latest = false // it is the value of this end itself
				continue
			}
			who, own, _, _, ok := e.choose(func(d float64) bool { return math.Abs(d-value) <= e.limit })
			switch {
			case !ok:
			case end != "" && who != end:
				return "", ""
			default:
				end = who
				text = fmt.Sprintf("Setup %d on %s supports %s's own %s: it measured %s.", ms[i].Setup, way[0], who, e.says(who, own), e.says(way[0], value))
			}
		}
	}
	return text, end
}
