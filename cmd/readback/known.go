package main

import (
	"fmt"
	"strings"

	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/network"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/reduce"
)

// A KnownCmd loads known stations and bearings into a book: from then on a first
// sighting is held against them, and figures close on them.
type KnownCmd struct {
	Book    string   `arg:"" help:"The book; it is made when it is not there."`
	File    string   `arg:"" optional:"" help:"Known stations as CSV: name,E,N,H in metres, H may be empty. They take the place of those loaded before. Without a file and without --bearing, what is loaded is listed."`
	Bearing []string `help:"A known bearing: FROM,TO,BEARING, such as Weir,Spire,45 10 20 (or 50.1234 gon, 802.5 mil, N 45 10 20 E)." placeholder:"FROM,TO,BEARING" sep:"none"`
	South   bool     `name:"from-south" help:"The bearings given here are counted clockwise from south."`
	Doer
}

// Help shows how it is called.
func (KnownCmd) Help() string {
	return `Examples:
  readback known dam.readback
  readback known dam.readback stations.csv --by "Ines Holm"
  readback known dam.readback --bearing "Weir,Spire,45 10 20"`
}

// Run checks everything before it books anything.
func (k *KnownCmd) Run(c *Context) error {
	e := event.KnownLoaded{File: k.File, By: k.By}
	if k.File == "" && len(k.Bearing) == 0 {
		return k.list(c)
	}
	if k.File != "" {
		var err error
		if e.Stations, err = file(c, k.File, "known stations", inFile(network.ParseKnown)); err != nil {
			return err
		}
	}
	for _, b := range k.Bearing {
		kb, err := parseBearing(b)
		if err != nil {
			return badInput(err)
		}
		if k.South {
			kb.Bearing = kb.Bearing.Add(reduce.HalfTurn)
		}
		e.Bearings = append(e.Bearings, kb)
	}
	return c.load(k.Book, e, fmt.Sprintf("known stations %d, known bearings %d", len(e.Stations), len(e.Bearings)))
}

// list prints what is known in the book: the stations as CSV, then the bearings.
func (k *KnownCmd) list(c *Context) error {
	return c.eachBook(k.Book, func(name string, _ book.Chapter, b day.Book) error {
		fmt.Fprintf(c.Out, "%s: known stations %d, known bearings %d.\n", name, len(b.Known), len(b.Bearings))
		for _, s := range b.Known {
			height := ""
			if s.Elev != nil {
				height = fmt.Sprintf("%.3f", *s.Elev)
			}
			fmt.Fprintf(c.Out, "%s,%.3f,%.3f,%s\n", s.Name, s.East, s.North, height)
		}
		settings, err := network.DefaultSettings().Recorded(b.Figures)
		if err != nil {
			return err
		}
		for _, w := range b.Bearings {
			text := settings.BearingText(w.Bearing, reduce.DMS, 0)
			if settings.Zero != 0 && !settings.Quadrants {
				text += " from south"
			}
			fmt.Fprintf(c.Out, "%s to %s: %s\n", w.From, w.To, text)
		}
		return nil
	})
}

// parseQuadrant reads a bearing, or one that is counted within its quadrant: N 45 10 20 E
// is 45°10′20″, S 45 10 20 E is 134°49′40″.
func parseQuadrant(text string) (reduce.Angle, error) {
	ns, ew := text[:min(1, len(text))], text[max(0, len(text)-1):]
	if !strings.ContainsAny(ns, "NS") || !strings.ContainsAny(ew, "EW") {
		return parseAngle(text)
	}
	a, err := parseAngle(strings.TrimSpace(text[1 : len(text)-1]))
	if err == nil && a > reduce.QuarterTurn {
		err = fmt.Errorf("%q: expected 90 degrees at the most within a quadrant", text)
	}
	if ns == "S" {
		a = reduce.HalfTurn - a
	}
	if ew == "W" {
		a = (-a).Normalize()
	}
	return a, err
}

// parseBearing reads FROM,TO,BEARING. The bearing is degrees, minutes and
// seconds, or a decimal followed by gon.
func parseBearing(s string) (event.KnownBearing, error) {
	parts := strings.Split(s, ",")
	if len(parts) != 3 {
		return event.KnownBearing{}, fmt.Errorf("--bearing %q: expected FROM,TO,BEARING", s)
	}
	text := strings.TrimSpace(parts[2])
	a, err := parseQuadrant(text)
	if err != nil {
		return event.KnownBearing{}, fmt.Errorf("--bearing %q: %w", s, err)
	}
	from, to := strings.TrimSpace(parts[0]), strings.TrimSpace(parts[1])
	if from == "" || to == "" || from == to {
		return event.KnownBearing{}, fmt.Errorf("--bearing %q: expected the names of two stations", s)
	}
	return event.KnownBearing{From: from, To: to, Bearing: reduce.DirectionAt(a)}, nil
}
