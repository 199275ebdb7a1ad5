package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/readback/booking/exchange/reports"
	"example.org/readback/booking/network"
	"example.org/readback/booking/page"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/output"
)

// A SeasonCmd shows a season at a glance: every setup with its verdict and whether
// its figures close, every figure, and which crews are behind.
type SeasonCmd struct {
	Book string `arg:"" help:"The office book, or a field book."`
	JSON bool   `help:"Print the season as JSON."`
	Anew bool   `help:"Judge every lifted setup by today's rule too, and print both verdicts."`
	output.Flags
}

// Help shows how it is called.
func (SeasonCmd) Help() string {
	return `Examples:
  readback season office.readback
  readback season office.readback --anew
  readback season office.readback --json -o season.json`
}

// Run prints the season.
func (s *SeasonCmd) Run(c *Context) error {
	return c.hand(s.Flags, []string{s.Book}, s.print)
}

func (s *SeasonCmd) print(c *Context) error {
	picked, done, err := c.choose(s.Book, nil)
	if err != nil {
		return err
	}
	defer done()
	season, err := seasonOf(picked, s.Anew)
	if err != nil {
		return err
	}
	if s.JSON {
		err = c.json(season)
	} else {
		for _, b := range season.Books {
			printSeason(c, b)
		}
	}
	if err != nil {
		return err
	}
	return c.tie(picked)
}

// seasonOf gathers the season of every book.
func seasonOf(picked book.Chosen, anew bool) (reports.Season, error) {
	season := reports.Season{Books: []reports.SeasonOfBook{}}
	for _, ch := range picked.Chapters {
		made, err := ch.Made(picked)
		if err != nil {
			return season, err
		}
		in, err := book.FigureInput(ch)
		if err != nil && !errors.Is(err, book.ErrNoSetups) {
			return season, err
		}
		doubts, err := ch.Doubts()
		if err != nil {
			return season, err
		}
		b := reports.SeasonOf(made, in.Setups, network.Work(in))
		today := map[int]*reports.Anew{}
		if anew {
			if today, err = ch.Anew(); err != nil {
				return season, err
			}
		}
		for i := range b.Setups {
			b.Setups[i].Anew = today[b.Setups[i].Setup]
			b.Setups[i].Doubt = doubts[b.Setups[i].Setup]
		}
		season.Books = append(season.Books, b)
	}
	season.MarkBehind()
	return season, nil
}

// printSeason prints the season of one book.
func printSeason(c *Context, b reports.SeasonOfBook) {
	last := b.LastDay
	if last == "" {
		last = "nothing booked yet"
	}
	if b.Behind {
		last += ", behind"
	}
	fmt.Fprintf(c.Out, "%s: setups %d, on Hold %d, last day %s, last event %d, hash %.16s\n", page.Visible(b.Name), len(b.Setups), b.OnHold(), last, b.LastEvent, b.LastHash)
	fmt.Fprintf(c.Out, "  identity %.16s, crew %s\n", b.Book.Book, page.Visible(strings.Join(b.Crew, ", ")))
	if b.Drill {
		fmt.Fprintln(c.Out, "DRILL: its readings were never observed.")
	}
	wide := len("Station")
	for i := range b.Setups {
		s := &b.Setups[i]
		s.Station, s.Doubt = page.Visible(s.Station), page.Visible(s.Doubt)
		wide = max(wide, ansi.StringWidth(s.Station))
	}
	fmt.Fprintf(c.Out, "  %5s  %-*s  %-10s  %8s  %-14s  %s\n", "Setup", wide, "Station", "Day", "Readings", "State", "Closes")
	for _, s := range b.Setups {
		closes := s.Closes
		if closes == "" {
			closes = "open"
		}
		pad := strings.Repeat(" ", wide-ansi.StringWidth(s.Station))
		fmt.Fprintf(c.Out, "  %5d  %s%s  %-10s  %8d  %-14s  %s\n", s.Setup, s.Station, pad, s.Day, s.Readings, s.State, closes)
	}
	for _, s := range b.Setups {
		if s.Doubt != "" {
			fmt.Fprintf(c.Out, "  Setup %d (%s): %s.\n", s.Setup, s.Station, s.Doubt)
		}
		if a := s.Anew; a != nil {
			said := fmt.Sprintf("said %s, by today's rule %s.", a.Said, a.Today)
			fmt.Fprintf(c.Out, "  Setup %d (%s): %s\n", s.Setup, s.Station, page.Visible(strings.Join(append([]string{said}, a.Reasons...), " ")))
		}
	}
	for _, f := range b.Figures {
		fmt.Fprintf(c.Out, "  %s: %s.\n", page.Visible(f.Title), page.Visible(f.State))
	}
}
