package reduction

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/slope"
)

// airOf is the air of a note, dry where nothing else is known: nil where temperature or
// pressure was not read.
func airOf(n *booking.WeatherNote) *slope.Air {
	if n.Celsius == nil || n.Hectopascal == nil {
		return nil
	}
	return &slope.Air{Celsius: *n.Celsius, Pressure: *n.Hectopascal}
}

// airNoted returns the weather note whose air a distance is made right by: the last
// one with temperature and pressure booked before the event with this number (0: the
// last of all), the first one after it where there was none yet. It is nil where that
// is not agreed, or nothing was noted.
func airNoted(s booking.Setup, before uint64) *booking.WeatherNote {
	if m := s.Spec.Making; m == nil || !m.AirNoted {
		return nil
	}
	var found *booking.WeatherNote
	for i := range s.Airs {
		n := &s.Airs[i]
		if airOf(n) == nil {
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
func (r Reduction) MadeSentences(m *spec.DistanceMaking, clock func(time.Time) string) []string {
	if m == nil {
		return nil
	}
	out := []string{m.Sentence()}
	if !m.AirNoted {
		return out
	}
	var notes []*booking.WeatherNote
	targets := map[*booking.WeatherNote][]string{}
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
		out = append(out, lead+airSentence(n, *m, clock))
	}
	return out
}

// airSentence says the air of a note and what it comes to; n may be nil.
func airSentence(n *booking.WeatherNote, m spec.DistanceMaking, clock func(time.Time) string) string {
	if n == nil {
		return "No weather note has temperature and pressure: not corrected for air."
	}
	from := "the weather note"
	if at := clock(n.At); at != "" {
		from += " of " + at
	}
	a := airOf(n)
	text := fmt.Sprintf("Air %.1f °C, %g hPa, taken as dry, from %s: %+.1f ppm.", a.Celsius, a.Pressure, from, m.PPM(a))
	return strings.ReplaceAll(strings.ReplaceAll(text, " -", " −"), "Air -", "Air −")
}

// MadeRight reduces a displayed slope distance, metres, seen under an altitude, as
// agreed in the setup: one line a correction. Where nothing is agreed only the
// slope is taken off. before is the number of the reading's event, for the air that
// was noted: 0 is a reading that is not booked yet.
func MadeRight(s booking.Setup, displayed float64, altitude reduce.Angle, before uint64) slope.Work {
	rule := slope.Rule{Refraction: s.Spec.Refraction}
	if m := s.Spec.Making; m != nil {
		air := m.Air
		if note := airNoted(s, before); note != nil {
			air = airOf(note)
		}
		rule.PPM, rule.Prism, rule.Scale = m.PPM(air), m.Prism.Metres(), m.Scale
		if m.SeaLevel != nil {
			rule.SeaLevel, rule.Height = true, m.SeaLevel.Metres()
		}
	}
	return rule.Correct(displayed, altitude)
}
