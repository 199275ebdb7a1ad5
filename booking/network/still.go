package network

import (
	"fmt"
	"slices"
	"strings"
)

// mostOpen bounds how many sentences say what is still open.
const mostOpen = 12

// stillOpen says what would have to be observed for more to close.
func (n *net) stillOpen(fs []Figure) []string {
	var out []string
	out = append(out, n.oneSided()...)
	out = append(out, n.notOccupied()...)
	out = append(out, n.hanging(fs)...)
	if len(out) > mostOpen {
		rest := len(out) - mostOpen
		out = append(out[:mostOpen], fmt.Sprintf("And %d more of the kind.", rest))
	}
	return out
}

// oneSided names the legs that one occupied station sights and the other does
// not.
func (n *net) oneSided() []string {
	var out []string
	here := n.current().Station
	for _, a := range n.stations {
		for _, b := range n.targets(a) {
			if !n.occupied(b) || n.sights(b, a) {
				continue
			}
			if b == here {
				out = append(out, fmt.Sprintf("%s sights %s, but %s has not been sighted from here yet.", a, b, a))
			} else {
				out = append(out, fmt.Sprintf("%s sights %s, but %s does not sight %s back.", a, b, b, a))
			}
		}
	}
	return out
}

// notOccupied names the targets that two stations or more sight and that would
// close a ring if they were occupied. Known stations need not be.
func (n *net) notOccupied() []string {
	from := map[string][]string{}
	var names []string
	for _, a := range n.stations {
		for _, t := range n.targets(a) {
			if _, known := n.point(t); known || n.occupied(t) {
				continue
			}
			if len(from[t]) == 0 {
				names = append(names, t)
			}
			from[t] = append(from[t], a)
		}
	}
	var out []string
	for _, t := range names {
		if len(from[t]) > 1 {
			out = append(out, fmt.Sprintf("%s is sighted from %s; occupied, it would close a figure.", t, list(from[t])))
		}
	}
	return out
}

// hanging names the stations that are in no figure, and the open end that a
// figure could be closed from.
func (n *net) hanging(fs []Figure) []string {
	var out []string
	for _, s := range n.stations {
		if slices.ContainsFunc(fs, func(f Figure) bool { return slices.Contains(f.Stations, s) }) {
			continue
		}
		switch near, known := n.near[s], n.knownFrom(s); {
		case len(near) == 0 && len(known) > 0:
			out = append(out, fmt.Sprintf("%s is tied to known stations (%s) and to no other station yet.", s, list(known)))
		case len(near) == 0:
			out = append(out, fmt.Sprintf("%s is tied to no other station yet.", s))
		default:
			out = append(out, fmt.Sprintf("Nothing checks %s: it hangs on %s alone.", s, list(near)))
		}
	}
	return out
}

// knownFrom are the known points that a station sights.
func (n *net) knownFrom(station string) []string {
	return slices.DeleteFunc(slices.Clone(n.targets(station)), func(t string) bool { _, known := n.point(t); return !known })
}

// list prints names as "Weir, Alder and Quarry".
func list(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
