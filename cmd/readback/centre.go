package main

import (
	"fmt"
	"strings"

	"example.org/readback/booking/event"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
)

// A CentreCmd notes that an instrument, or a target it sighted, stood beside its mark.
type CentreCmd struct {
	Book     string `arg:"" help:"The book."`
	Setup    int    `arg:"" help:"Number of the setup."`
	Target   string `help:"The target that stood beside its mark. Unless given, the instrument did." placeholder:"NAME"`
	Distance string `required:"" help:"Horizontal distance to the mark, metres; 0 takes it back." placeholder:"METRES"`
	Angle    string `help:"Clockwise; at the instrument from the RO to the mark, at a target from its mark to the station: degrees, minutes, seconds, or a decimal and gon." placeholder:"ANGLE" default:"0 00 00"`
	Doer
}

// Help shows how it is called.
func (CentreCmd) Help() string {
	return `Examples:
  readback centre dam.readback 3 --distance 5.800 --angle "0 00 00"
  readback centre dam.readback 3 --target Spire --distance 0.085 --angle "86 40 00"`
}

// Run checks that there is such a sight, and books it.
func (n *CentreCmd) Run(c *Context) error {
	length, err := lengths.Parse(n.Distance, lengths.Metres)
	if err != nil {
		return badInput(fmt.Errorf("--distance: %w", err))
	}
	angle, err := parseAngle(n.Angle)
	if err != nil {
		return badInput(fmt.Errorf("--angle: %w", err))
	}
	picked, done, err := c.choose(n.Book, []int{n.Setup})
	if err != nil {
		return err
	}
	summaries, err := picked.Chapters[0].Summaries()
	done()
	if err != nil {
		return err
	}
	what, noted := "the instrument", event.CentreNoted{Setup: n.Setup, Target: n.Target, Distance: length, Angle: angle, By: n.By}
	for _, m := range summaries {
		if m.Setup == n.Setup {
			if what = "the target " + n.Target; n.Target == "" {
				what = "the instrument at " + m.Station
			}
			if err := noted.Check(append([]string{m.RO}, m.Targets...)); err != nil {
				return badInput(err)
			}
		}
	}
	return c.load(n.Book, noted, fmt.Sprintf("in setup %d %s stood %s m beside its mark", n.Setup, what, length.Format(lengths.Metres, 3)))
}

// parseAngle reads degrees, minutes and seconds, or a decimal followed by gon, deg or
// mil.
func parseAngle(text string) (reduce.Angle, error) {
	for _, u := range reduce.Units() {
		if figure, ok := strings.CutSuffix(strings.TrimSpace(text), u.String()); ok && u.Decimal() {
			return reduce.ParseWritten(strings.TrimSpace(figure), u)
		}
	}
	return reduce.ParseDMS(strings.TrimSpace(text))
}
