package booking

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/readback/reduce/slope"
)

// airNoted is what is keyed for the air where distances take that of the weather
// notes.
const airNoted = "noted"

// air is the air of a note, dry where nothing else is known: nil where temperature or
// pressure was not read.
func (n WeatherNote) air() *slope.Air {
	if n.Celsius == nil || n.Hectopascal == nil {
		return nil
	}
	return &slope.Air{Celsius: *n.Celsius, Pressure: *n.Hectopascal}
}

// airNoted returns the weather note whose air a distance is made right by: the last
// one with temperature and pressure booked before the event with this number (0: the
// last of all), the first one after it where there was none yet. It is nil where that
// is not agreed, or nothing was noted.
func (s Setup) airNoted(before uint64) *WeatherNote {
	if m := s.Spec.Making; m == nil || !m.AirNoted {
		return nil
	}
	var found *WeatherNote
	for i := range s.Airs {
		n := &s.Airs[i]
		if n.air() == nil {
			continue
		}
		if found == nil || before == 0 || n.Seq < before {
			found = n
		}
	}
	return found
}

// MadeSentences say by what the distances of a setup were made right, and of which
// weather notes the air was, one sentence a note; clock writes the time of a note, or
// nothing. There are none where nothing is agreed.
func (r Reduction) MadeSentences(m *DistanceMaking, clock func(time.Time) string) []string {
	if m == nil {
		return nil
	}
	out := []string{m.sentence()}
	if !m.AirNoted {
		return out
	}
	var notes []*WeatherNote
	targets := map[*WeatherNote][]string{}
	for _, v := range r.Verticals {
		if v.Work == nil {
			continue
		}
		if !slices.Contains(notes, v.Air) {
			notes = append(notes, v.Air)
		}
		targets[v.Air] = append(targets[v.Air], v.Target)
	}
	for _, n := range notes {
		lead := ""
		if len(notes) > 1 {
			lead = strings.Join(targets[n], ", ") + ": "
		}
		out = append(out, lead+n.airSentence(*m, clock))
	}
	return out
}

// airSentence says the air of a note and what it comes to; n may be nil.
func (n *WeatherNote) airSentence(m DistanceMaking, clock func(time.Time) string) string {
	if n == nil {
		return "No weather note has temperature and pressure: not made right for air."
	}
	from := "the weather note"
	if at := clock(n.At); at != "" {
		from += " of " + at
	}
	a := n.air()
	text := fmt.Sprintf("Air %.1f °C, %g hPa, taken as dry, from %s: %+.1f ppm.", a.Celsius, a.Pressure, from, m.ppm(a))
	return strings.ReplaceAll(strings.ReplaceAll(text, " -", " −"), "Air -", "Air −")
}
