package book

import (
	"fmt"
	"slices"
	"time"

	"example.org/readback/booking/exchange/reports"
)

// Made names the books that were chosen, for the documents made from them.
func (c Chosen) Made() ([]reports.Book, error) {
	list := []reports.Book{}
	for _, ch := range c.Chapters {
		b, err := ch.Made(c)
		if err != nil {
			return nil, err
		}
		list = append(list, b)
	}
	return list, nil
}

// Made names one of the books that were chosen.
func (c Chapter) Made(all Chosen) (reports.Book, error) {
	b := reports.Book{Book: fmt.Sprintf("%x", c.src.ID()), Name: c.Name(all)}
	last, err := c.Last()
	if err != nil {
		return b, err
	}
	b.LastEvent, b.LastHash = last.Seq, fmt.Sprintf("%x", last.Hash)
	state, err := c.Book()
	if err != nil {
		return b, err
	}
	b.Job, b.Client, b.Place, b.Drill = state.Job, state.Client, state.Place, state.Drill
	for s, err := range c.eachSummary() {
		if err != nil {
			return b, err
		}
		for _, who := range []string{s.Observer, s.Booker} {
			if who != "" && !slices.Contains(b.Crew, who) {
				b.Crew = append(b.Crew, who)
			}
		}
		for _, at := range []*time.Time{s.From, s.To} {
			if at == nil {
				continue
			}
			day := at.UTC().Format(time.DateOnly)
			if b.FirstDay == "" || day < b.FirstDay {
				b.FirstDay = day
			}
			b.ToDay = max(b.ToDay, day)
		}
	}
	return b, err
}
