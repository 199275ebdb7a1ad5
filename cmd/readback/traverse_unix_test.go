//go:build unix

package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.org/readback/reduce"
	"example.org/readback/testdata"
)

// A site is where the marks of a made-up job stand, in metres, all level.
type site map[string][2]float64

// bearing and distance from one mark to another.
func (s site) ray(from, to string) (bearing reduce.Angle, distance float64) {
	e, n := s[to][0]-s[from][0], s[to][1]-s[from][1]
	return reduce.FromRadians(math.Atan2(e, n)).Normalize(), math.Hypot(e, n)
}

// A telescope reads what the screen asks for, on a station of the site.
type telescope struct {
	site
	station, ro string
	longer      map[string]float64 // metres that the distance to a mark is read too long
	taller      map[string]float64 // metres that the height of a target is called too large
}

var (
	asksStage   = regexp.MustCompile(`round (\d)( of \d)?, face (left|right)|vertical circle, face (left|right)|distances`)
	asksPart    = regexp.MustCompile(`(round \d(?: of \d)?|vertical circle) FL ([●◆○]+) FR ([●◆○]+)`)
	asksTarget  = regexp.MustCompile(`(?:[Ss]ight|circle on|distance to|target at) ([A-Z]\w+)`)
	asksNothing = "Everything that was called is booked."
)

// asks is what a screen asks for: the part of the programme and the target.
func asks(screen string) string {
	screen = squeezed(screen)
	if strings.Contains(screen, asksNothing) {
		return asksNothing
	}
	target := asksTarget.FindString(screen)
	if part := asksPart.FindStringSubmatch(screen); part != nil && target != "" {
		face := "right"
		if strings.Contains(part[2], "◆") {
			face = "left"
		}
		return part[1] + ", face " + face + ": " + target
	}
	if stage := asksStage.FindString(screen); stage != "" && target != "" {
		return stage + ": " + target
	}
	return ""
}

// reads answers what a screen asks for.
func (o telescope) reads(asked string) string {
	stage, target := asksStage.FindStringSubmatch(asked), asksTarget.FindStringSubmatch(asked)[1]
	bearing, distance := o.ray(o.station, target)
	var a reduce.Angle
	switch {
	case strings.Contains(asked, "distance to"):
		return fmt.Sprintf("%.3f", distance+o.longer[target])
	case strings.Contains(asked, "target at"):
		return fmt.Sprintf("%.3f", 1.5+o.taller[target])
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
func (b *booker) answersAll(o caller) *booker {
	b.t.Helper()
	for range 100 {
		asked := ""
		b.terminal.until("what is to be read", func(screen string) bool { // a frame may be half drawn
			asked = asks(screen)
			return asked != ""
		})
		if asked == asksNothing {
			return b
		}
		marked := func(screen string) bool { return strings.Contains(screen, "Has the observer read it again?") }
		after := func(screen string) bool {
			next := asks(screen)
			return next != asked && next != "" && strings.Contains(screen, "✓ saved") && !marked(screen)
		}
		b.calls(o.reads(asked)).until("another pointing after "+asked, func(screen string) bool { return marked(screen) || after(screen) })
		if marked(b.screen()) { // it stands until it is answered: the observer reads the same again
			b.presses("y").until("another pointing after "+asked, after)
		}
	}
	b.t.Fatalf("no end of readings:\n%s", b.screen())
	return b
}

// goesTo goes to a field of a form from above.
func (b *booker) goesTo(label string) *booker {
	b.t.Helper()
	b.presses("\x1b[5~").sees("▸ Station")
	for range 40 {
		before := ""
		b.terminal.until("the chosen field", func(screen string) bool { // a frame may be half drawn
			before = chosenField(screen)
			return before != ""
		})
		if strings.HasPrefix(before, label) {
			return b
		}
		b.presses(down).until("the next field", func(screen string) bool {
			now := chosenField(screen)
			return now != "" && now != before
		})
	}
	b.t.Fatalf("no field %q:\n%s", label, b.screen())
	return b
}

// chosenField is the field of a form with the mark of the chosen one, empty while
// the screen is half drawn and shows none or two.
func chosenField(screen string) string {
	if strings.Count(screen, "▸ ") != 1 {
		return ""
	}
	_, rest, _ := strings.Cut(screen, "▸ ")
	line, _, _ := strings.Cut(rest, "\n")
	return squeezed(line)
}

// opensCorner fills the form of a station of a ring: what is behind it is its RO,
// what is ahead its target.
func (b *booker) opensCorner(number int, name, back, fore string) *booker {
	b.t.Helper()
	if number > 1 {
		b.presses("\x1b[5~") // it may begin where a proposal leaves something to give
	}
	b.sees("▸ Station").writes(name, back).key(fore).sees("Targets ▌" + fore)
	if number == 1 {
		b.key(enter).writes("1.500", "Ines Holm", "Tam Okoro", "T-5", "4471").goesTo("Distances").presses(right).sees("‹ yes ›")
	} else {
		b.goesTo("Instrument height").writes("1.500")
	}
	b.presses(pageDown, "o")
	return b.sees(fmt.Sprintf("%s setup %d", name, number))
}

// nextCorner lifts the tripod and goes to the form of the next station.
func (b *booker) nextCorner() *booker {
	b.t.Helper()
	b.presses(enter).sees("Checks met").misses("does not close")
	b.presses("t").sees("Lift the tripod from").presses("y").sees("the tripod is lifted")
	return b.presses("n")
}

var (
	corners = []string{"Weir", "Alder", "Quarry", "Chapel"}
	marks   = site{"Weir": {1000, 2000}, "Alder": {1120, 2012}, "Quarry": {1141, 1893}, "Chapel": {1008, 1879}}
)

// corner is the observer on a station of the ring.
func corner(i int) telescope {
	return telescope{site: marks, station: corners[i], ro: corners[(i+3)%4], longer: map[string]float64{}}
}

// A ring of four stations is booked live. One leg is measured a metre too long
// from both its ends; the network holds the tripod at its second end, and at the last
// station the figure says so, and which leg, and holds the tripod.
func TestTraverse_BadLegIsFoundBeforeTheLastLift(t *testing.T) {
	if !*testdata.Long {
		t.Skip("on the built program: -long; package tui keys it without one")
	}
	file := filepath.Join(t.TempDir(), "ring.book")
	b := bookerAt(open(t, 100, 36, "book", file))
	for i, name := range corners {
		b.opensCorner(i+1, name, corners[(i+3)%4], corners[(i+1)%4])
		o := corner(i)
		switch name {
		case "Alder":
			o.longer["Quarry"] = 1
		case "Quarry":
			o.longer["Alder"] = 1
		}
		b.answersAll(o)
		switch {
		case name == "Quarry": // Chapel is sighted from Weir and from here: it shows one station before the ring closes
			b.presses(enter).sees("The tripod stays.", "The network does not agree", "the distances of the line Alder–Quarry")
			b.presses("t").sees("Lift the tripod on Hold").presses("1").sees("Lift the tripod from Quarry?").presses("y").sees("Lifted on Hold").presses("n")
		case i < 3:
			b.nextCorner()
		}
	}
	b.presses(enter).sees("The tripod stays.", "Ring Weir–Alder–Quarry–Chapel–Weir: does not close.", "One leg explains it: Alder–Quarry.",
		"The misclosure is close to 1 m", "Measure the distance Alder–Quarry again from either end")
	b.presses("g").sees("The figure of this book", "One leg explains it: Alder–Quarry.", "The coordinates miss by 1.00")
	b.presses("b").sees("Everything that was called is booked.")
	b.presses("l").sees("The tripod stays.").presses("t").sees("Lift the tripod on Hold").presses("1").sees("Lift the tripod from Chapel?").presses("y")
	b.sees("Lifted on Hold: the site must be cleared")
	b.leaves()
	if o := runs(t, "figure", file); o.code != exitFine || !strings.Contains(squeezed(o.out), "One leg explains it: Alder–Quarry.") {
		t.Errorf("exit code %d: %s%s", o.code, o.out, o.errs)
	}
	if o := runs(t, "audit", file); !strings.Contains(o.out, "lifted on Hold: the site must be cleared") {
		t.Errorf("%s%s", o.out, o.errs)
	}
}

// A leg measured too long from one end only is told when its other end is booked.
func TestTraverse_ThereAndBack(t *testing.T) {
	b := bookerAt(open(t, 100, 36, "book", filepath.Join(t.TempDir(), "ring.book")))
	long := corner(0)
	long.longer["Alder"] = 0.2
	b.opensCorner(1, "Weir", "Chapel", "Alder").answersAll(long).nextCorner()
	b.opensCorner(2, "Alder", "Weir", "Quarry").answersAll(corner(1))
	b.presses(enter).sees("The tripod stays.", "Weir–Alder: distance", "there and back 200 mm apart", "Before this tripod is lifted, measure the distance to Weir again.")
}

// A target height two decimetres too large is told when the other end of the
// line is booked, with both rises and the one that the known heights support. It is left
// out in the lifted setup, and the station may lift.
func TestTraverse_TheHeightOfATarget(t *testing.T) {
	dir := t.TempDir()
	file, known := filepath.Join(dir, "rise.book"), filepath.Join(dir, "known.csv")
	if err := os.WriteFile(known, []byte("name,E,N,H\nWeir,1000,2000,50\nAlder,1120,2012,50\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if o := runs(t, "known", file, known); o.code != exitFine {
		t.Fatal(o.out, o.errs)
	}
	b := bookerAt(open(t, 100, 36, "book", file))
	tall := corner(0)
	tall.taller = map[string]float64{"Alder": 0.2}
	b.opensCorner(1, "Weir", "Chapel", "Alder").answersAll(tall)
	b.presses(enter).sees("The tripod stays.").presses("t").sees("Lift the tripod on Hold").presses("3").sees("Lift the tripod from Weir?").presses("y").sees("the tripod is lifted").presses("n")
	b.opensCorner(2, "Alder", "Weir", "Quarry").answersAll(corner(1))
	b.presses(enter).sees("The tripod stays.", "Weir–Alder: rise −0.199 m from Weir, +0.001 m from Alder, there and back 198 mm apart",
		"The known heights support Alder's own +0.001: they give 0.000.")
	b.presses("g").sees("The figure of this book").presses("b").sees("Everything that was called is booked.")
	for _, args := range [][]string{{"figure", file}, {"figure", file, "--json"}} {
		if o := runs(t, args...); !strings.Contains(squeezed(o.out), "The known heights support Alder's own +0.001") {
			t.Errorf("%v: %s%s", args, o.out, o.errs)
		}
	}
	b.presses("w").sees("Work list", "✓ saved").presses(down).presses(enter).sees("Weir", "looking back")
	b.presses("s").sees("Strike a reading").goesToRow("1.700").presses("x").sees("out of the means").presses("2").sees("Weir", "looking back")
	b.presses("b").sees("Everything that was called is booked.").presses("l").sees("Checks met").misses("The tripod stays.")
	b.leaves()
}
