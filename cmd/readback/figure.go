package main

import (
	"fmt"
	"strings"

	"example.org/readback/booking/event"
	"example.org/readback/booking/exchange/reports"
	"example.org/readback/booking/network"
	"example.org/readback/booking/page"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/output"
)

// A FigureCmd works the rings and traverses that the setups of a book make.
type FigureCmd struct {
	Book      string `arg:"" help:"The book."`
	Known     string `help:"Known stations as CSV (name,E,N,H in metres) instead of those loaded into the book." placeholder:"FILE"`
	JSON      bool   `help:"Print the figures as JSON." xor:"form"`
	Points    bool   `help:"Print the coordinates that figures give as CSV, in the form of known stations." xor:"form"`
	Feet      bool   `help:"Print the tables of figures in international feet of 0.3048 m." xor:"form,laid"`
	Onto      string `help:"Lay the places of the book onto the known stations of this file (name,E,N,H) by a similarity, with what each misses by, and print it instead." placeholder:"FILE" xor:"laid"`
	OntoKnown bool   `name:"onto-known" help:"The same onto the known stations of the book, its network being worked without them: whether they hold together." xor:"laid"`
	Rigid     bool   `help:"Hold the scale of --onto at 1."`
	FigureSettings
	output.Flags
}

// Help shows how it is called.
func (FigureCmd) Help() string {
	return `Examples:
  readback figure dam.readback
  readback figure dam.readback --known stations.csv -o figure.txt
  readback figure dam.readback --feet
  readback figure dam.readback --points -o points.csv
  readback figure dam.readback --onto office.csv
  readback figure dam.readback --onto-known`
}

// Run prints the figures of each book.
func (f *FigureCmd) Run(c *Context) error {
	return c.hand(f.Flags, []string{f.Book, f.Known, f.Onto}, f.print)
}

func (f *FigureCmd) print(c *Context) error {
	stations, err := f.stations(c, f.Known)
	if err != nil {
		return err
	}
	onto, err := f.stations(c, f.Onto)
	if err != nil {
		return err
	}
	picked, done, err := c.choose(f.Book, nil)
	if err != nil {
		return err
	}
	defer done()
	document := reports.Figures{Books: []reports.FiguresOfBook{}}
	var places []network.Place
	for _, ch := range picked.Chapters {
		r, laid, err := f.worked(picked, ch, stations, onto)
		if err != nil {
			return err
		}
		if f.Points {
			places = append(places, r.Places()...)
			continue
		}
		b, err := ch.Made(picked)
		if err != nil {
			return err
		}
		if f.JSON {
			figures := reports.FiguresOf(b, r)
			if laid != nil {
				figures.Onto = reports.OntoOf(laid)
			}
			document.Books = append(document.Books, figures)
			continue
		}
		if err := picked.MarkDrill(c.Out, ch); err != nil {
			return err
		}
		text := network.Text(r)
		if laid != nil {
			text = laid.Page().String(network.TextWidth)
		}
		if _, err := fmt.Fprintf(c.Out, "%s\n%s", headingOf(b), text); err != nil {
			return err
		}
	}
	switch {
	case f.JSON:
		err = c.json(document)
	case f.Points:
		err = c.points(places)
	}
	if err != nil {
		return err
	}
	return c.tie(picked)
}

// worked works the figures of one book, and lays them onto other points where that is
// asked for.
func (f *FigureCmd) worked(picked book.Chosen, ch book.Chapter, stations, onto []event.KnownStation) (r network.Report, laid *network.Laid, err error) {
	in, err := book.FigureInput(ch, f.over)
	if err != nil {
		return r, nil, err
	}
	if f.Known != "" {
		in.Known = stations
	}
	r = network.Work(in)
	r.Feet = f.Feet
	if f.Onto != "" || f.OntoKnown {
		if laid, err = network.Onto(in, onto, f.Rigid); err != nil {
			err = fmt.Errorf("%s: %w", ch.Name(picked), err)
		}
	}
	return r, laid, err
}

// points prints coordinates, and says when they are no survey's.
func (c *Context) points(places []network.Place) error {
	local, err := reports.WritePoints(c.Out, places)
	if err == nil && local {
		c.say([]string{"The coordinates are local: no figure stands on known stations. The first station was given 0, 0."})
	}
	return err
}

// stations reads the file of known stations, where one is named.
func (f *FigureCmd) stations(c *Context, name string) ([]event.KnownStation, error) {
	if name == "" {
		return nil, nil
	}
	return file(c, name, "known stations", inFile(network.ParseKnown))
}

// headingOf names the book above a text: file, identity, last event, crew and days.
func headingOf(b reports.Book) string {
	text := fmt.Sprintf("%s, identity %.16s, %d events", page.Visible(b.Name), b.Book, b.LastEvent)
	if b.Job != "" {
		text += ", job " + page.Visible(b.Job)
	}
	text += "\n"
	if b.FirstDay != "" {
		text += "Observed " + b.FirstDay
		if b.ToDay != b.FirstDay {
			text += " to " + b.ToDay
		}
		text += ". "
	}
	if len(b.Crew) > 0 {
		text += "Crew: " + page.Visible(strings.Join(b.Crew, ", ")) + "."
	}
	return strings.TrimRight(text, " \n") + "\n"
}
