//go:build unix

package main

import (
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.org/readback/reduce"
)

// A site is where the marks of a made-up job stand, in metres, all level.
type site map[string][2]float64

// bearing and distance from one mark to another.
func (s site) ray(from, to string) (bearing reduce.Angle, distance float64) {
	e, n := s[to][0]-s[from][0], s[to][1]-s[from][1]
	return reduce.FromRadians(math.Atan2(e, n)).Normalize(), math.Hypot(e, n)
}

// An observer reads what the screen asks for, on a station of the site.
type observer struct {
	site
	station, ro string
	longer      map[string]float64 // metres that the distance to a mark is read too long
}

var (
	asksStage   = regexp.MustCompile(`round (\d)( of \d)?, face (left|right)|vertical circle, face (left|right)|distances`)
	asksTarget  = regexp.MustCompile(`(?:[Ss]ight|circle on|distance to|target at) ([A-Z]\w+)`)
	asksNothing = "Everything that was called is booked."
)

// asks is what a screen asks for: the part of the programme and the target.
func asks(screen string) string {
	screen = squeezed(screen)
	if strings.Contains(screen, asksNothing) {
		return asksNothing
	}
	stage, target := asksStage.FindString(screen), asksTarget.FindString(screen)
	if stage == "" || target == "" {
		return ""
	}
	return stage + ": " + target
}

// reads answers what a screen asks for.
func (o observer) reads(asked string) string {
	stage, target := asksStage.FindStringSubmatch(asked), asksTarget.FindStringSubmatch(asked)[1]
	bearing, distance := o.ray(o.station, target)
	var a reduce.Angle
	switch {
	case strings.Contains(asked, "distance to"):
		return fmt.Sprintf("%.3f", distance+o.longer[target])
	case strings.Contains(asked, "target at"):
		return "1.500"
	case stage[4] == "left": // a level line
		a = 90 * reduce.Degree
	case stage[4] == "right":
		a = 270 * reduce.Degree
	default:
		zero, _ := o.ray(o.station, o.ro)
		a = bearing - zero + reduce.Angle(stage[1][0]-'1')*reduce.QuarterTurn + 10*reduce.Arcminute
		if stage[3] == "right" {
			a += reduce.HalfTurn
		}
	}
	a = a.Round(5 * reduce.Arcsecond).Normalize()
	return fmt.Sprintf("%d%02d%02d", a/reduce.Degree, a%reduce.Degree/reduce.Arcminute, a%reduce.Arcminute/reduce.Arcsecond)
}

// answersAll books everything that is called on a station.
func (b *booker) answersAll(o observer) *booker {
	b.t.Helper()
	for range 100 {
		asked := asks(b.screen())
		switch asked {
		case asksNothing:
			return b
		case "":
			b.t.Fatalf("nothing to read in\n%s", b.screen())
		}
		b.calls(o.reads(asked)).until("another pointing after "+asked, func(screen string) bool {
			next := asks(screen)
			return next != asked && next != "" && strings.Contains(screen, "all saved")
		})
	}
	b.t.Fatalf("no end of readings:\n%s", b.screen())
	return b
}

// goesTo goes to a field of a form from above.
func (b *booker) goesTo(label string) *booker {
	b.t.Helper()
	b.presses("\x1b[5~").sees("› Station")
	for range 40 {
		if strings.Contains(squeezed(b.screen()), "› "+label) {
			return b
		}
		n := b.amount()
		b.presses(down).until("the next field", func(string) bool { return b.amount() > n })
	}
	b.t.Fatalf("no field %q:\n%s", label, b.screen())
	return b
}

// A ring of four stations is booked live. One leg is measured a metre too long
// from both its ends; at the last station the figure says so, and which leg,
// before the tripod is lifted.
func TestTraverse_BadLegIsFoundBeforeTheLastLift(t *testing.T) {
	marks := site{"Weir": {1000, 2000}, "Alder": {1120, 2012}, "Quarry": {1141, 1893}, "Chapel": {1008, 1879}}
	ring := []string{"Weir", "Alder", "Quarry", "Chapel"}
	long := map[string]map[string]float64{"Alder": {"Quarry": 1}, "Quarry": {"Alder": 1}}
	file := filepath.Join(t.TempDir(), "ring.book")
	b := bookerAt(open(t, 100, 36, "book", file))
	for i, name := range ring {
		back, fore := ring[(i+3)%4], ring[(i+1)%4]
		b.sees("› Station").writes(name, back).key(fore)
		b.sees("Targets " + fore + "_")
		if i == 0 {
			b.key(enter).writes("1.500", "Ines Holm", "Tam Okoro", "T-5", "4471").goesTo("Distances").presses(right)
		} else {
			b.goesTo("Instrument height").writes("1.500")
		}
		b.presses(pageDown, enter).sees(fmt.Sprintf("%s, setup %d", name, i+1))
		b.answersAll(observer{site: marks, station: name, ro: back, longer: long[name]})
		b.presses(enter).sees("Checks that are met")
		if i == 3 {
			break
		}
		b.misses("does not close")
		b.presses("t").sees("Lift the tripod").presses("y").sees("The tripod is lifted.").presses("n")
	}
	b.sees("Ring Weir–Alder–Quarry–Chapel–Weir: does not close.",
		"One leg explains it: Alder–Quarry.", "The misclosure is close to 1 m", "Measure the distance Alder–Quarry again from either end")
	b.presses("g").sees("The figure of this book", "One leg explains it: Alder–Quarry.", "The coordinates miss by 1.00")
	b.presses("b").sees("Everything that was called is booked.").leaves()
	if o := runs(t, "figure", file); o.code != exitFine || !strings.Contains(squeezed(o.out), "One leg explains it: Alder–Quarry.") {
		t.Errorf("exit code %d: %s%s", o.code, o.out, o.errs)
	}
}
