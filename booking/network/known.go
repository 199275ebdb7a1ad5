package network

import (
	"fmt"
	"math"

	"example.org/readback/booking/check"
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/reduce"
	"example.org/readback/reduce/traverse"
)

// knownStation returns the known station of that name.
func knownStation(stations []event.KnownStation, name string) (event.KnownStation, bool) {
	for _, k := range stations {
		if k.Name == name {
			return k, true
		}
	}
	return event.KnownStation{}, false
}

// knownPoint returns the place of a known station.
func knownPoint(k event.KnownStation) traverse.Point {
	return traverse.Point{E: k.East, N: k.North}
}

// knownBearing returns the bearing from one known station to another. ok is false
// where one of them is not known or both are at one place.
func knownBearing(stations []event.KnownStation, from, to string) (bearing reduce.Direction, length float64, ok bool) {
	a, okA := knownStation(stations, from)
	b, okB := knownStation(stations, to)
	if !okA || !okB {
		return bearing, 0, false
	}
	bearing, err := traverse.Bearing(knownPoint(a), knownPoint(b))
	return bearing, traverse.Distance(knownPoint(a), knownPoint(b)), err == nil
}

// knownDirection returns the direction from the RO to a target at a station where
// the coordinates of all three are known, and its standard deviation in
// seconds, with placeSD the standard deviation, metres, of one known station against
// another.
func knownDirection(stations []event.KnownStation, placeSD float64, station, ro, target string) (d reduce.Direction, sd float64, ok bool) {
	back, toRO, okRO := knownBearing(stations, station, ro)
	fore, toTarget, okTarget := knownBearing(stations, station, target)
	if !okRO || !okTarget {
		return d, 0, false
	}
	sd = reduce.FromRadians(placeSD * math.Hypot(1/toRO, 1/toTarget)).Seconds()
	return reduce.DirectionAt(fore.Sub(back)), sd, true
}

// Known returns what is known of the directions of a setup before its first
// sight: from the latest earlier setup on the same station that sighted both
// the RO and the target, else from coordinates. It answers the entry check; a
// direction from here is never shown. settings says how well known stations stand
// against each other.
func Known(stations []event.KnownStation, settings Settings, earlier []day.Summary, station, ro string) check.Known {
	return check.Known{Horizontal: knownDistances(stations, settings.PlaceSD, earlier, station), Direction: func(target string) (reduce.Direction, float64, bool) {
		for i := len(earlier) - 1; i >= 0; i-- {
			if earlier[i].Station != station {
				continue
			}
			if d, sd, ok := between(earlier[i], ro, target); ok {
				return d, sd, true
			}
		}
		return knownDirection(stations, settings.PlaceSD, station, ro, target)
	}}
}

// lineSD is the standard deviation, metres, taken for a distance measured before.
const lineSD = 0.01

// knownDistances tells the horizontal distance from a station to a target: from
// the latest earlier setup that measured the line, at either end, else from
// coordinates.
func knownDistances(stations []event.KnownStation, placeSD float64, earlier []day.Summary, station string) func(string) (float64, float64, string, bool) {
	return func(target string) (metres, sd float64, from string, ok bool) {
		for i := len(earlier) - 1; i >= 0; i-- {
			far := target
			switch earlier[i].Station {
			case station:
			case target:
				far = station
			default:
				continue
			}
			for _, l := range earlier[i].Sights {
				if l.Target == far && l.Horizontal > 0 {
					return l.Horizontal, lineSD, fmt.Sprintf("the one measured from %s in setup %d", earlier[i].Station, earlier[i].Setup), true
				}
			}
		}
		a, okA := placeOf(stations, station)
		b, okB := placeOf(stations, target)
		if !okA || !okB {
			return 0, 0, "", false
		}
		return math.Hypot(a.East-b.East, a.North-b.North), placeSD * math.Sqrt2, "the known coordinates", true
	}
}

func placeOf(stations []event.KnownStation, name string) (event.KnownStation, bool) {
	for _, k := range stations {
		if k.Name == name {
			return k, true
		}
	}
	return event.KnownStation{}, false
}

// between returns the direction from ro to target in an earlier setup.
func between(m day.Summary, ro, target string) (d reduce.Direction, sd float64, ok bool) {
	var from, to *day.SightLine
	for i := range m.Sights {
		switch m.Sights[i].Target {
		case ro:
			from = &m.Sights[i]
		case target:
			to = &m.Sights[i]
		}
	}
	if from == nil || to == nil {
		return d, 0, false
	}
	sd = max(math.Hypot(from.SD, to.SD), m.Instrument.LeastCount.Seconds())
	return reduce.DirectionAt(to.Direction.Sub(from.Direction)), sd, true
}
