package network

import (
	"fmt"
	"math"

	"example.org/readback/booking/day"
	"example.org/readback/reduce/slope"
	"example.org/readback/reduce/traverse"
)

// kSD is the standard deviation of a coefficient of refraction by day, which bends a
// rise that has no other end (common practice, no source).
const kSD = 0.1

// riseSupported says which end of a line whose rises disagree is the right one, and
// what says so: the known heights of both, the first ring or link whose heights close
// with one end and not with the other, a levelled line between them, or what another
// setup measured along it.
//
// A target that both ends sight is no witness: a wrong height of the instrument is in
// every rise from there alike.
func (n *net) riseSupported(l Line, fs []Figure) string {
	if l.Height == nil || l.Height.Within() {
		return ""
	}
	return endsOf(l, *l.Height, true).heard(fs, n.heightsSupport, n.heightsCloseWith, n.levelsSupport, n.otherSupports)
}

// riseBothWays compares the rises of a line from its two ends, nil where one is missing.
func (n *net) riseBothWays(a, b string) *traverse.Reciprocal {
	there, okThere := n.rise(a, b)
	back, okBack := n.rise(b, a)
	if !okThere || !okBack {
		return nil
	}
	s := n.in.Settings
	d, _ := n.length(a, b)
	r := traverse.ReciprocalHeight(there, back, traverse.HeightLimit(s.HeightPerRootKm, s.HeightLeast, d.Mean))
	return &r
}

// nearer returns the end that lies within farOff standard deviations of a rise, where
// the other does not; sd is that of the rise, the ends' own is joined to it.
func (n *net) nearer(e ends, rise, sd float64) (end string, own float64, ok bool) {
	sd = math.Hypot(sd, n.oneEndSD(e.line))
	end, own, _, _, ok = e.choose(func(v float64) bool { return math.Abs(v-rise) <= farOff*sd })
	return end, own, ok
}

// heightsSupport holds both ends against the known heights of the two.
func (n *net) heightsSupport(e ends, _ []Figure) (text, end string) {
	from, okFrom := n.elevation(e.line.From)
	to, okTo := n.elevation(e.line.To)
	if !okFrom || !okTo {
		return "", ""
	}
	end, own, ok := n.nearer(e, to-from, n.in.Settings.KnownSD*math.Sqrt2)
	if !ok {
		return "", ""
	}
	return fmt.Sprintf("The known heights support %s's own %s: they give %s.", end, e.says(end, own), e.says(end, to-from)), end
}

// levelsSupport holds both ends against the levelled differences between the two. They
// must all support the same end.
func (n *net) levelsSupport(e ends, _ []Figure) (text, end string) {
	for _, l := range n.in.Levels {
		if !e.line.joins(l.From, l.To) {
			continue
		}
		rise := e.turned(l.From, l.Rise.Metres())
		who, own, ok := n.nearer(e, rise, l.SD.Metres())
		switch {
		case !ok:
		case end != "" && who != end:
			return "", ""
		default:
			end = who
			text = fmt.Sprintf("The levelled line supports %s's own %s: it gives %s.", end, e.says(end, own), e.says(end, rise))
		}
	}
	return text, end
}

// heightsCloseWith closes the heights of the first figure over the line with each of
// its ends.
//
// The ends must lie so far apart that both would miss if each were half wrong: a wrong
// height of the instrument is in the mean of the leg beside it by its half.
func (n *net) heightsCloseWith(e ends, fs []Figure) (text, end string) {
	for _, f := range fs {
		leg, ok := f.legOf(e.line)
		if !ok || f.Heights == nil || !f.Heights.Closed || !n.onlyThisRise(f, leg, e.line) {
			continue
		}
		sd := n.heightsSD(f, leg)
		if math.Abs(e.there-e.back) < 2*farOff*sd {
			continue
		}
		miss := func(rise float64) float64 {
			by := rise - e.line.Height.Mean
			if f.station(leg) != e.line.From {
				by = -by
			}
			return math.Abs(f.Heights.Misclosure + by)
		}
		if end, own, other, others, ok := e.choose(func(v float64) bool { return miss(v) <= min(f.Heights.Limit, farOff*sd) }); ok {
			return fmt.Sprintf("With %s's own %s the heights of the %s close to %s, with %s's %s to %s.",
				end, e.says(end, own), f.Kind, millimetres(miss(own)), other, e.says(other, others), millimetres(miss(others))), end
		}
	}
	return "", ""
}

// onlyThisRise tells whether the rises of every other leg of a figure agree, and those
// of the legs beside the line are from both ends: a wrong height at one of its stations
// would show there, and with one end alone it would drop out of the sum.
func (n *net) onlyThisRise(f Figure, leg int, l Line) bool {
	for i := range f.Traverse.Legs {
		if i == leg {
			continue
		}
		a, b := f.station(i), f.station(i+1)
		h := n.riseBothWays(a, b)
		beside := a == l.From || a == l.To || b == l.From || b == l.To
		if h == nil && beside || h != nil && !h.Within() {
			return false
		}
	}
	return true
}

// heightsSD is the standard deviation, metres, of the misclosure of the heights of a
// figure, one leg taken from one end; of a walk that is no ring both its known ends.
func (n *net) heightsSD(f Figure, leg int) float64 {
	var sd float64
	if f.Kind != Ring {
		sd = n.in.Settings.KnownSD * math.Sqrt2
	}
	for i := range f.Traverse.Legs {
		a, b := f.station(i), f.station(i+1)
		there, bendThere, okThere := n.riseSD(a, b)
		back, bendBack, okBack := n.riseSD(b, a)
		switch {
		case i == leg || okThere != okBack:
			sd = math.Hypot(sd, math.Hypot(max(there, back), max(bendThere, bendBack)))
		default: // what bends both drops out
			sd = math.Hypot(sd, math.Hypot(there, back)/2)
		}
	}
	return sd
}

// oneEndSD is the standard deviation, metres, of the rise of a line from the worse of
// its ends.
func (n *net) oneEndSD(l Line) float64 {
	there, bendThere, _ := n.riseSD(l.From, l.To)
	back, bendBack, _ := n.riseSD(l.To, l.From)
	return math.Hypot(max(there, back), max(bendThere, bendBack))
}

// riseSD is the standard deviation, metres, of the latest rise from one name to
// another, both heights in it, and what refraction may bend it by: HD²/2R·σ_k. [F29]
func (n *net) riseSD(from, to string) (sd, bend float64, ok bool) {
	m, ok := n.riseFrom(from, to)
	if !ok {
		return 0, 0, false
	}
	l, _ := line(&m, to)
	sd = n.in.Settings.riseSD(l)
	if l.RiseSD > 0 { // stated for angle and distance alone
		sd = math.Hypot(sd, math.Sqrt2*n.in.Settings.HeightSD)
	}
	return sd, l.Horizontal * l.Horizontal / (2 * slope.EarthRadius) * kSD, true
}

// riseSD is the standard deviation, metres, that a rise is weighted with: as stated for
// its instrument, else from the settings.
func (s Settings) riseSD(l day.SightLine) float64 {
	if l.RiseSD > 0 {
		return l.RiseSD
	}
	return math.Hypot(l.Horizontal*s.AltitudeSD.Radians(), math.Sqrt2*s.HeightSD)
}
