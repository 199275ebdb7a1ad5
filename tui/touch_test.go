package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// touch taps the middle of the place that stands for a press, and fails where
// the word that should be printed there is not.
func (d *driver) touch(p press, word string) {
	d.t.Helper()
	lines := strings.Split(d.plain(), "\n")
	for _, z := range d.app.seen.places {
		if z.p != p {
			continue
		}
		x, y := z.x+z.w/2, z.y+z.h/2
		printed := ""
		for _, l := range lines[z.y : z.y+z.h] {
			printed += ansi.Cut(l, z.x, z.x+z.w)
		}
		if !strings.Contains(printed, word) {
			continue
		}
		d.at = d.at.Add(second)
		d.send(tea.MouseMsg{X: x, Y: y, Action: tea.MouseActionPress, Button: tea.MouseButtonLeft})
		d.send(tea.MouseMsg{X: x, Y: y, Action: tea.MouseActionMotion, Button: tea.MouseButtonLeft})
		d.send(tea.MouseMsg{X: x, Y: y, Action: tea.MouseActionRelease, Button: tea.MouseButtonLeft})
		return
	}
	d.t.Fatalf("%q is nowhere to touch in\n%s", word, d.plain())
}

// touched books readings on the keypad of the screen.
func (d *driver) padded(readings ...string) *driver {
	d.t.Helper()
	for _, r := range readings {
		for _, c := range r {
			d.touch(char(c), strings.ReplaceAll(string(c), " ", "space"))
		}
		d.touch(named("enter"), "Enter")
	}
	return d
}

// A station after the first, from its opening to the work list, without a key.
func TestWholeStation_ByTouch(t *testing.T) {
	d := whole(newDriver(t, &fakePort{prefs: preferences{Keypad: true, Mouse: true}}, Options{}))
	d.keys("lty").sees("Press N at the next station")
	d.tap("next station  ").sees("Next station")
	for _, n := range []string{"Alder", "Weir", "Spire", "Quarry"} {
		d.touch(touching(onOffer(n)), n)
	}
	d.tap("Enter").tap("open the setup").sees("Set the circle between 0° and 1°.")
	d.padded("00510", "451020", "1203000").padded("3003010", "2251025", "1800515")
	d.padded("900510", "1351025", "2103000").padded("303005", "3151030", "2700515")
	d.sees("vertical circle", "circle on Weir.")
	d.tap("strike").tap("Weir, face right").tap("misread").sees("Its figure is struck.", "~270°05′15″~")
	d.padded("270 5 10").sees("Booked: Weir")
	d.padded("923435", "893000", "880010").padded("2715955", "2703005", "2672530")
	d.tap("the verdict").tap("lift the tripod").tap("lift it").sees("Press N at the next station")
	d.tap("work list").sees("2 setups").tap("1 Weir").sees("looking back", "Weir setup 1")
}

func TestTouch_EveryActionIsReachable(t *testing.T) {
	d := half(newDriver(t, &fakePort{prefs: preferences{Keypad: true, Mouse: true}}, Options{}))
	d.touch(char('?'), "more")
	for _, b := range listed((&bookingScreen{}).actions(&d.app.v)) {
		d.sees(b.Help().Desc)
	}
	d.tap("options").sees("Second journal").tap("Keypad on the screen").tap("B booking")
	d.tap("? all keys").tap("every setup of the book").sees("Work list")
}

func TestTouch_DragBooksNothing(t *testing.T) {
	d := half(newDriver(t, &fakePort{prefs: preferences{Keypad: true}}, Options{}))
	for x := 0; x < 80; x++ {
		for _, a := range []tea.MouseAction{tea.MouseActionMotion, tea.MouseActionRelease} {
			d.send(tea.MouseMsg{X: x, Y: 8, Action: a, Button: tea.MouseButtonLeft})
		}
	}
	d.sees("empty")
}
