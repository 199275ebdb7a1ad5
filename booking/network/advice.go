package network

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/readback/booking/day"
	"example.org/readback/reduce/places"
)

// A step is what the crew could still do at the tripod that stands.
type step struct {
	targets  []string // sighted once more on both faces, the RO among them
	within   float64  // metres: the larger half axis at 95 % of the weakest place then
	readings int
}

const (
	leastGain      = 1e-4 // metres: what brings it nearer by less is no advice
	leastPart      = 5e-3 // nor what brings it nearer by less than this part
	mostPointings  = 12   // at one setup, that pointings are tried
	mostObservedIn = 2500 // observations of a network that pointings are tried in
)

// Next says what one more round of the setup that stands would bring the weakest
// place to and the minutes it takes, and which pair of pointings brings most for the
// time; empty where nothing can be said. The standard deviations alone decide it, no
// reading does: only the part of reading shrinks, centring stays. The time of a
// reading is that of this setup, from its first to its last.
func (t *Together) Next() string {
	if t.said == nil {
		text := t.next()
		t.said = &text
	}
	return *t.said
}

func (t *Together) next() string {
	part := t.setups[t.current]
	if t.Adjusted == nil || part == nil {
		return ""
	}
	now, name := t.weakest(t.Adjusted)
	m := *part.summary
	if now == 0 || !slices.ContainsFunc(m.Sights, func(l day.SightLine) bool { return l.Rounds > 0 }) {
		return ""
	}
	var all []string
	for _, l := range m.Sights {
		all = append(all, l.Target)
	}
	round, ok := t.tried(part, all)
	if !ok {
		return ""
	}
	text := fmt.Sprintf("Weakest place: %s, within %s at 95 %%. ", name, metres(now))
	if !helps(now, round.within) {
		return text + fmt.Sprintf("One more round at %s would hardly bring it nearer (%s): distances, centring, known stations or another station hold it there.", m.Station, metres(round.within))
	}
	text += fmt.Sprintf("One more round at %s would bring it to %s%s.", m.Station, metres(round.within), minutes(m, round))
	if best, ok := t.bestPair(part, now, round); ok {
		text += fmt.Sprintf(" Most for the time: one more pair of pointings, both faces, at %s: %s%s.", strings.Join(best.targets, " and "), metres(best.within), minutes(m, best))
	}
	return text
}

// helps tells whether a step is worth telling.
func helps(now, then float64) bool { return now-then >= max(leastGain, leastPart*now) }

// bestPair is the pair of pointings that brings more for each reading than a whole
// round; ok is false where none does, or a round is no more than that.
func (t *Together) bestPair(part *setupPart, now float64, round step) (best step, ok bool) {
	m := *part.summary
	if len(m.Sights) < 3 || len(m.Sights) > mostPointings || len(t.Observed) > mostObservedIn {
		return best, false
	}
	rate := func(s step) float64 { return (now - s.within) / float64(s.readings) }
	best = round
	for _, l := range m.Sights {
		if l.Target == m.RO {
			continue
		}
		if s, tried := t.tried(part, []string{m.RO, l.Target}); tried && helps(now, s.within) && rate(s) > rate(best) {
			best, ok = s, true
		}
	}
	return best, ok
}

// tried adjusts the network as it would be with one more sight of each target on both
// faces.
func (t *Together) tried(part *setupPart, targets []string) (step, bool) {
	rounds := map[string]int{}
	for _, l := range part.summary.Sights {
		rounds[l.Target] = max(l.Rounds, 1)
	}
	better, err := t.Adjusted.Reweighted(func(i int, o places.Observation) float64 {
		target := t.Observed[i].To
		if o.Kind != places.Direction || o.Set != part.set || !slices.Contains(targets, target) {
			return 1
		}
		read := t.reading[i]
		n := float64(rounds[target])
		return math.Sqrt(o.SD*o.SD-float64(read*read/(n+1))) / o.SD
	})
	if err != nil {
		return step{}, false
	}
	within, _ := t.weakest(better)
	return step{targets, within, 2 * len(targets)}, true
}

// minutes says how long a step takes as this setup took its readings; empty where
// the book has no times.
func minutes(m day.Summary, s step) string {
	if m.From == nil || m.To == nil || m.Readings < 2 {
		return ""
	}
	took := m.To.Sub(*m.From).Minutes() / float64(m.Readings-1) * float64(s.readings)
	switch {
	case took < 0.05:
		return ""
	case took < 1.5:
		return ", for about a minute"
	}
	return fmt.Sprintf(", for about %.0f minutes", took)
}
