package reports

import (
	"time"

	"example.org/readback/booking/day"
	"example.org/readback/booking/network"
)

// A Season document is the JSON of a season at a glance.
type Season struct {
	Books []SeasonOfBook `json:"books"`
}

// SeasonOfBook is the season of one crew.
type SeasonOfBook struct {
	Book
	LastDay string        `json:"last_day,omitempty" what:"when the last reading was observed, else keyed"`
	Behind  bool          `json:"behind" what:"another book of the office has a later day"`
	Setups  []SeasonSetup `json:"setups"`
	Figures []Closure     `json:"figures"`
}

// A SeasonSetup is one setup of a season.
type SeasonSetup struct {
	Setup    int    `json:"setup" what:"its number in the exports of this file"`
	Station  string `json:"station"`
	Day      string `json:"day" what:"when it was observed, else keyed"`
	Observer string `json:"observer,omitempty"`
	State    string `json:"state"`
	Doubt    string `json:"doubt,omitempty" what:"on Hold, or a reading is suspect: health and fieldtest leave it out"`
	Anew     *Anew  `json:"anew,omitempty" what:"a lifted setup judged by today's rule, where that was asked for"`
	Readings int    `json:"readings"`
	Closes   string `json:"closes,omitempty" what:"whether the figures through the station keep their limits: yes, no; missing: nothing checks it"`
}

// Anew is the verdict on a lifted setup by today's rule, beside the one that was
// said.
type Anew struct {
	Said    string   `json:"said"`
	Today   string   `json:"today"`
	Reasons []string `json:"reasons"`
}

// A Closure is how a ring or a link closes.
type Closure struct {
	Title string `json:"title"`
	State string `json:"state"`
	Met   bool   `json:"met"`
}

// day is the day a setup was observed on, else the day it was keyed on.
func dayOf(m day.Summary) string {
	at := m.Opened
	if m.From != nil {
		at = *m.From
	}
	return at.UTC().Format(time.DateOnly)
}

// SeasonOf makes the season of a book from the summaries of its setups and its
// figures.
func SeasonOf(b Book, setups []day.Summary, r network.Report) SeasonOfBook {
	s := SeasonOfBook{Book: b, Setups: []SeasonSetup{}, Figures: []Closure{}}
	closes := map[string]string{}
	for _, f := range r.Figures {
		if f.Kind == network.Open {
			continue
		}
		s.Figures = append(s.Figures, Closure{Title: f.Title(), State: f.State(), Met: f.Met()})
		for _, station := range f.Stations {
			switch {
			case !f.Met():
				closes[station] = "no"
			case closes[station] == "":
				closes[station] = "yes"
			}
		}
	}
	for _, m := range setups {
		d := dayOf(m)
		s.LastDay = max(s.LastDay, d)
		s.Setups = append(s.Setups, SeasonSetup{Setup: m.Setup, Station: m.Station, Day: d, Observer: m.Observer,
			State: m.State, Readings: m.Readings, Closes: closes[m.Station]})
	}
	return s
}

// MarkBehind marks the books that end on an earlier day than the latest one.
func (s *Season) MarkBehind() {
	last := ""
	for _, b := range s.Books {
		last = max(last, b.LastDay)
	}
	for i := range s.Books {
		s.Books[i].Behind = s.Books[i].LastDay < last
	}
}

// OnHold counts the setups that were lifted on Hold or stand on it.
func (s SeasonOfBook) OnHold() int {
	n := 0
	for _, m := range s.Setups {
		if m.State == day.StateHold || m.State == day.StateLiftedOnHold {
			n++
		}
	}
	return n
}
