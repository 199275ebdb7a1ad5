package traverse

import (
	"fmt"
	"math"

	"example.org/readback/reduce"
)

// A StationAngle is the angle observed at one station of a traverse.
type StationAngle struct {
	Value    reduce.Angle // clockwise from the station before to the station after
	SD       float64      // its standard deviation in seconds; 0: Settings.AngleSD
	Observed bool         // false: there is none (only at the ends, see Traverse)
}

// A Leg is the horizontal line from a station to the next one.
type Leg struct {
	Length float64 // 0: not measured
	SD     float64 // its standard deviation; 0: from Settings
}

// A Known holds what is known beforehand at one end of a traverse.
type Known struct {
	Point      Point
	HasPoint   bool
	Bearing    reduce.Direction // see Traverse
	HasBearing bool
}

// A Traverse is a walk from station to station.
//
// A ring names each station once: n stations, n angles, n legs, the last leg
// leading back to the first station. Start.Bearing is the bearing of the first
// leg; Angles[0], which closes the ring, may be missing.
//
// A walk that is no ring has m+1 stations, m+1 angles and m legs. Start.Bearing
// is the bearing from the first station to its mark, and Angles[0] is counted
// from that mark to the second station; where Angles[0] is missing,
// Start.Bearing is the bearing of the first leg itself. End.Bearing is the
// bearing from the last station to its mark, and Angles[m] is counted from the
// last station but one to that mark; where either is missing the bearings are
// not closed. It is a link when End is known, else it is open.
//
// Without Start.Bearing the first leg is given the bearing 0 (a ring turned
// anyhow has the same misclosures); without Start.Point the first station is
// given 0, 0. End counts only where the same thing is known at the start.
type Traverse struct {
	Ring     bool
	Stations []string
	Angles   []StationAngle
	Legs     []Leg
	Start    Known
	End      Known
}

// An inputError says what about a traverse cannot be worked.
type inputError struct {
	Where string // the station, or the leg as "from-to"; empty for the whole
	What  string // one sentence: what is wrong and what to do
}

// Error names the place and what is wrong there.
func (e *inputError) Error() string {
	if e.Where == "" {
		return e.What
	}
	return e.Where + ": " + e.What
}

func wrongAt(where, format string, args ...any) error {
	return &inputError{Where: where, What: fmt.Sprintf(format, args...)}
}

// check returns an *inputError for what cannot be worked.
func (t Traverse) check() error {
	n, least, legs := len(t.Stations), 2, len(t.Stations)-1
	if t.Ring {
		least, legs = 3, n
	}
	switch {
	case n < least:
		return wrongAt("", "a ring needs three stations and a link two; here are %d", n)
	case len(t.Angles) != n:
		return wrongAt("", "%d stations need %d angles, a missing one included; here are %d", n, n, len(t.Angles))
	case len(t.Legs) != legs:
		return wrongAt("", "%d stations need %d legs; here are %d", n, legs, len(t.Legs))
	}
	for i, a := range t.Angles {
		if !a.Observed && i != 0 && (t.Ring || i != n-1) {
			return wrongAt(t.Stations[i], "the angle between the station before and the station after is missing: observe it")
		}
		if bad(a.SD) {
			return wrongAt(t.Stations[i], "the standard deviation of the angle is %g seconds; it must be positive", a.SD)
		}
	}
	for i, l := range t.Legs {
		if bad(l.Length) || bad(l.SD) {
			return wrongAt(t.legName(i), "the leg has the length %g and the standard deviation %g; both must be positive", l.Length, l.SD)
		}
	}
	if badPoint(t.Start.Point) || badPoint(t.End.Point) {
		return wrongAt("", "a known coordinate is not a number")
	}
	return nil
}

func bad(x float64) bool { return x < 0 || math.IsNaN(x) || math.IsInf(x, 0) }

func badPoint(p Point) bool { return bad(math.Abs(p.E)) || bad(math.Abs(p.N)) }

// legName returns "from-to" for the leg i.
func (t Traverse) legName(i int) string {
	return t.Stations[i] + "-" + t.Stations[(i+1)%len(t.Stations)]
}

// measured tells whether every leg has a length.
func (t Traverse) measured() bool {
	for _, l := range t.Legs {
		if l.Length == 0 {
			return false
		}
	}
	return true
}

// closesAngles tells whether the bearings come back to something known.
func (t Traverse) closesAngles() bool {
	if t.Ring {
		return t.Angles[0].Observed
	}
	return t.Start.HasBearing && t.End.HasBearing && t.Angles[len(t.Angles)-1].Observed
}

// closesPosition tells whether the coordinates come back to something known.
func (t Traverse) closesPosition() bool {
	if !t.measured() {
		return false
	}
	return t.Ring || t.Start.HasPoint && t.End.HasPoint && t.Start.HasBearing
}

// observed counts the angles that are there.
func (t Traverse) observed() int {
	n := 0
	for _, a := range t.Angles {
		if a.Observed {
			n++
		}
	}
	return n
}

// origin is where the carried coordinates start.
func (t Traverse) origin() Point { return t.Start.Point }

// goal is where the carried coordinates should end.
func (t Traverse) goal() Point {
	if t.Ring {
		return t.Start.Point
	}
	return t.End.Point
}
