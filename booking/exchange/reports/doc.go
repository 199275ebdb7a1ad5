// Package reports writes what follows from several setups as JSON: the figures of
// books, the history of instruments, the field test. They are the reports that
// screens and text print, in numbers.
//
// Angles are decimal degrees, small angles seconds, lengths metres, times UTC
// (RFC 3339). A value that does not exist is left out. Every document names the
// books it was made from, with the last event and its hash. The schemas are made
// from the same declarations as the documents.
package reports

import (
	"math"
	"strconv"
	"time"

	"example.org/readback/booking/check"
)

// A Book is a book that a document was made from.
type Book struct {
	Book      string   `json:"book" what:"identity: what its first event follows on"`
	Name      string   `json:"name" what:"what its file is called"`
	Job       string   `json:"job,omitempty"`
	Client    string   `json:"client,omitempty"`
	Place     string   `json:"place,omitempty"`
	Drill     bool     `json:"drill,omitempty" what:"nothing in it was observed"`
	Crew      []string `json:"crew,omitempty" what:"who observed and who booked, in the order in which they first did"`
	FirstDay  string   `json:"first_day,omitempty" what:"of its readings, as observed, YYYY-MM-DD in UTC; left out where no time is known"`
	ToDay     string   `json:"to_day,omitempty" what:"the last day of its readings"`
	LastEvent uint64   `json:"last_event"`
	LastHash  string   `json:"last_hash" what:"it proves all events before it"`
}

// A Check is one thing that was held against a limit.
type Check struct {
	Name     string `json:"name"`
	Met      bool   `json:"met"`
	Sentence string `json:"sentence"`
	Again    string `json:"again,omitempty" what:"what to observe again"`
	From     string `json:"limit_from,omitempty"`
}

func checksOf(list []check.Check) []Check {
	out := []Check{}
	for _, c := range list {
		out = append(out, Check{c.Name, c.Met, c.Text, c.Again, c.From})
	}
	return out
}

// rounded keeps six decimals and ten figures, which every processor gives alike;
// what is no number does not exist.
func rounded(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	v = math.Round(v*1e6) / 1e6
	if n, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 10, 64), 64); err == nil {
		v = n
	}
	if v == 0 {
		v = 0 // a minus zero loses its sign
	}
	return &v
}

// some is a number that exists only where ok.
func some(ok bool, v float64) *float64 {
	if !ok {
		return nil
	}
	return rounded(v)
}

// utc is a time without its zone; a zero one does not exist.
func utc(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	t = t.UTC()
	return &t
}
