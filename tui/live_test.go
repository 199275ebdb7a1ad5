package tui

import (
	"fmt"
	"strings"
	"testing"

	"example.org/readback/booking/check"
	"example.org/readback/booking/programme"
	"example.org/readback/reduce/faces"
)

// What is said of a mistake stands whole on the booking screen, large and small.
func TestLive_MistakesAreSaid(t *testing.T) {
	for _, size := range [][2]int{{100, 30}, {80, 24}} {
		for _, c := range []struct {
			name   string
			booked []string // confirmed where it is asked
			keyed  string   // with Enter behind it
			sees   []string
		}{
			{"kick, the first sight", append(append([]string{}, roundOne...), "900510", "1351025"), "2103040",
				[]string{"Has the observer read it again?", "+3", "Read again. If it reads the same, book it: the next sight tells"}},
			{"kick, the second sight", append(append([]string{}, roundOne...), "900510", "1351025", "2103040"), "3400120",
				[]string{"Everything since Quarry on face left is about", "the circle or the tripod has moved. Void the round and begin it again.", "V void round"}},
			{"other circle", append([]string{}, roundOne[:5]...), "2714010",
				[]string{"This looks like a reading of the other circle: which one was read?", "F other"}},
			{"same figure", []string{"00510", "451020"}, "451020",
				[]string{"This is the figure booked for Alder: which of the two is sighted?"}},
			{"digits over the border", append(append([]string{}, roundOne...), "900510"), "1351205",
				[]string{"Two digits over the border of minutes and seconds look exchanged"}},
		} {
			t.Run(fmt.Sprintf("%s %dx%d", c.name, size[0], size[1]), func(t *testing.T) {
				d := firstSetup(newDriver(t, &fakePort{}, Options{})).size(size[0], size[1])
				for _, r := range c.booked {
					d.book(r)
					if strings.Contains(d.plain(), "Has the observer") {
						d.key("y")
					}
				}
				d.book(c.keyed)
				d.reads(c.sees...)
			})
		}
	}
}

// reads looks for words that may be broken over rows.
func (d *driver) reads(words ...string) *driver {
	d.t.Helper()
	var rows []string
	for _, l := range strings.Split(d.plain(), "\n") {
		l, _, _ = strings.Cut(l, "│") // the pictures at the right
		l, _, _ = strings.Cut(l, "┌")
		l, _, _ = strings.Cut(l, "└")
		rows = append(rows, l)
	}
	screen := strings.Join(strings.Fields(strings.Join(rows, " ")), " ")
	for _, w := range words {
		if !strings.Contains(screen, w) {
			d.t.Fatalf("%q is not seen in\n%s", w, d.plain())
		}
	}
	return d
}

// A reading found the same moves the suspicion to the other face: F books it, strikes
// that one with a reason, and it is called.
func TestLive_TheOtherFaceIsCalled(t *testing.T) {
	d := firstSetup(newDriver(t, &fakePort{}, Options{})).book("00510", "451020", "1213000", "2500045", "700050")
	d.book("3003010").reads("Here or on face left: The degrees look one out", "F other")
	d.keys("f").reads("Strike 121°30′00″ of Quarry, face left, round 1", "face right read again and found the same")
	d.keys("1").reads("Sight Quarry and read it again.")
	if k := d.slot(); k.Target != "Quarry" || k.Face != faces.FL {
		t.Errorf("%s is called", k)
	}
	d.book("1203000").book("2251025", "1800515").reads("Set the circle between 90° and 91°.")
	if v := check.Judge(d.app.v.setup); len(v.Culprits.Suspects) > 0 {
		t.Errorf("%+v", v.Culprits.Suspects)
	}
}

// A suspect is named before the verticals, and one key calls another round.
func TestLive_ARoundBeforeTheVerticals(t *testing.T) {
	for _, size := range [][2]int{{100, 30}, {80, 24}} {
		d := firstSetup(newDriver(t, &fakePort{}, Options{})).size(size[0], size[1]).book(roundOne...)
		for i, r := range roundTwo {
			if i == 2 {
				r = "2103030"
			}
			if d.book(r); d.app.desk.asking != nil {
				d.key("y")
			}
		}
		if d.app.v.prompt.Phase == programme.InRounds {
			t.Fatalf("another round is called of itself: %s", d.slot())
		}
		d.reads("suspect", "Quarry, face left, round 2 does not fit the other readings.", "A calls another round before the rest.")
		d.keys("a").reads("Set the circle between")
		if k := d.slot(); k.Round != 3 {
			t.Errorf("%s is called", k)
		}
	}
}

// A lifted setup is judged anew by one key, from its page and from its verdict: both
// verdicts are shown, and nothing is booked.
func TestLive_JudgedAnew(t *testing.T) {
	d := whole(newDriver(t, &fakePort{}, Options{}))
	d.keys("lty").sees("Press N at the next station")
	n := len(d.port.entries)
	d.keys("j").reads("Judged anew", "Said when the tripod was lifted: lift.", "By today's rule: lift.")
	d.keys("j").seesNot("Judged anew").keys("p").keys("j").reads("Said when the tripod was lifted: lift.")
	if len(d.port.entries) != n {
		t.Error("judging anew books something")
	}
}

// The first press of A on Hold calls another round, also where rounds were called of
// themselves before.
func TestLive_AnotherRoundAtTheFirstPress(t *testing.T) {
	d := firstSetup(newDriver(t, &fakePort{}, Options{})).book(roundOne...)
	book := func(readings []string) {
		for _, r := range readings {
			if d.book(r); d.app.desk.asking != nil {
				d.key("y")
			}
		}
	}
	book([]string{"900510", "1351025", "2103100", "3400040", "1600050", "303105", "3151030", "2700515"})
	book([]string{"450510", "901025", "1653000", "2950040", "1150050", "3453005", "2701030", "2250515"})
	book([]string{"1350510", "1801025", "2553100", "250040", "2050050", "753105", "01030", "3150515"})
	if d.app.v.prompt.Phase == programme.InRounds {
		t.Fatalf("%s is still called", d.slot())
	}
	d.keys("l").sees("The tripod stays.").keys("a")
	if k := d.slot(); k.Round != 5 || k.Target != "Spire" {
		t.Errorf("%s is called at the first press", k)
	}
}
