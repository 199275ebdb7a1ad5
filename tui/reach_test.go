package tui

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/readback/reduce/faces"
	"example.org/readback/testdata"
	"example.org/readback/tui/input"
)

// places are the rectangles of the window that stand for a press.
func (d *driver) places(p press) (out []place) {
	_ = d.app.View()
	for _, z := range d.app.seen.places {
		if z.p == p {
			if got, ok := d.app.seen.at(z.x+z.w/2, z.y+z.h/2); ok && got == p { // nothing lies over it
				out = append(out, z)
			}
		}
	}
	return out
}

// With the keypad up every action of every screen has a place to touch: on the
// screen, or behind its cell "more". A field of a form has its arrows on the letter
// pad instead of the keys that walk it.
func TestTouch_EveryActionOfEveryScreenIsReachable(t *testing.T) {
	for n, sc := range scenes {
		if strings.HasSuffix(sc.name, "-touch") || sc.name == "booking-keypad" || sc.name == "keys" {
			continue // they are the others with the keypad up
		}
		for i, size := range [][2]int{{60, 20}, {80, 24}, {100, 30}} {
			if !testdata.Sampled(n + i) {
				continue
			}
			d := sc.lead(newDriver(t, &fakePort{prefs: preferences{Keypad: true, Mouse: true}}, Options{}))
			d.size(size[0], size[1])
			missing := unreached(d, func(what string, z place) {
				if z.h < 2 && z.y != 0 && d.app.modal == nil && z.w < size[0]-40 {
					t.Errorf("%s at %v: the place of %s is %d × %d cells", sc.name, size, what, z.w, z.h)
				}
			})
			if len(missing) > 0 {
				t.Errorf("%s at %v: no place for %v in\n%s", sc.name, size, missing, d.plain())
			}
		}
	}
}

// unreached are the actions of the screen that have no place to touch, neither on it
// nor behind its cell "more", which is left open where it was needed. found gets the
// places of the others.
func unreached(d *driver, found func(what string, z place)) map[string]press {
	missing := map[string]press{}
	for _, k := range d.app.shownKeys() {
		missing[k.Help().Key+" "+k.Help().Desc] = pressOf(k)
		if d.app.more && len(d.places(pressOf(k))) == 0 { // its cell closes what it opened
			missing[k.Help().Key+" "+k.Help().Desc] = char('?')
		}
	}
	seen := func() {
		for what, p := range missing {
			zs := d.places(p)
			walks := d.app.field() == input.Text && slices.Contains([]string{"right", "left", "pgdown", "pgup"}, p.name) && len(d.places(named("down"))) > 0
			if len(zs) == 0 && !walks {
				continue
			}
			delete(missing, what)
			for _, z := range zs {
				found(what, z)
			}
		}
	}
	seen()
	if len(missing) > 0 && d.app.moreKeys() && len(d.places(char('?'))) > 0 {
		d.touch(char('?'), "more")
		seen()
	}
	return missing
}

// Wherever taps lead, in a small window with the keypad up, every action of the screen
// has a place to touch.
func TestTouch_EveryActionWhereverTapsLead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		port := &fakePort{prefs: preferences{Keypad: true, Mouse: true}}
		d := rapid.SampledFrom([]func(*driver) *driver{half, whole, disagree}).Draw(t, "begun")(newDriver(t, port, Options{}))
		size := rapid.SampledFrom([][2]int{{60, 20}, {80, 24}}).Draw(t, "size")
		d.size(size[0], size[1])
		way := ""
		for range rapid.IntRange(1, 10).Draw(t, "taps") {
			_ = d.app.View()
			places := d.app.seen.places
			if len(places) == 0 || d.quit {
				return
			}
			z := places[rapid.IntRange(0, len(places)-1).Draw(t, "place")]
			way += " " + z.p.String()
			d.send(tea.MouseMsg{X: z.x + z.w/2, Y: z.y + z.h/2, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
			if !d.app.v.prefs.Keypad || d.quit {
				return
			}
		}
		if missing := unreached(d, func(string, place) {}); len(missing) > 0 {
			t.Fatalf("%v, after%s: no place for %v in\n%s", size, way, missing, d.plain())
		}
	})
}

// Whatever is keyed, asked or answered, the keys of the keypad stand where they
// stood, and the answers of a question are as large as they and lie under nothing.
func TestKeypad_NeverMoves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := half(newDriver(t, &fakePort{prefs: preferences{Keypad: true, Mouse: true}}, Options{}))
		size := rapid.SampledFrom([][2]int{{60, 20}, {79, 23}, {80, 24}, {100, 30}, {140, 45}}).Draw(t, "size")
		d.size(size[0], size[1])
		digits := func() string {
			text := ""
			for _, r := range "0123456789" {
				for _, z := range d.places(char(r)) {
					text += fmt.Sprintf("%c %d %d %d %d ", r, z.x, z.y, z.w, z.h)
				}
			}
			return text
		}
		want := digits()
		if strings.Count(want, " ") != 50 {
			t.Fatalf("not ten digits: %s\n%s", want, d.plain())
		}
		for range rapid.IntRange(1, 12).Draw(t, "presses") {
			switch rapid.IntRange(0, 5).Draw(t, "what") {
			case 0:
				d.special("enter")
			case 1:
				d.special("back")
			case 2:
				d.key("n")
			default:
				d.key(rapid.StringMatching(`[0-9]{1,7}`).Draw(t, "digits"))
			}
			if d.app.active != onBooking || !d.app.v.asks {
				return
			}
			if got := digits(); got != want {
				t.Fatalf("the digits moved from\n%s to\n%s\n%s", want, got, d.plain())
			}
			if d.app.desk.asking == nil {
				continue
			}
			seven := d.places(char('7'))[0]
			for _, answer := range []rune{'y', 'n'} {
				zs := d.places(char(answer))
				if len(zs) == 0 || zs[len(zs)-1].w < seven.w || zs[len(zs)-1].h < seven.h {
					t.Fatalf("the place of %c is %v, of 7 %v\n%s", answer, zs, seven, d.plain())
				}
			}
		}
	})
}

// A station by keys alone in the smallest window, in one of 60 columns and in a
// large one: face, target, round, the entry, its state and what was booked last are
// seen at every reading.
func TestStation_ByKeysAtThreeSizes(t *testing.T) {
	for _, size := range [][2]int{{40, 12}, {60, 20}, {140, 45}} {
		d := firstSetup(newDriver(t, &fakePort{}, Options{}))
		d.size(size[0], size[1])
		last := ""
		for _, r := range append(append([]string{}, roundOne...), roundTwo...) {
			k := d.app.v.slot
			d.sees(d.app.v.setup.Spec.Station, fmt.Sprintf("round %d of 2", k.Round), "empty")
			if size[0] == 40 { // tall letters are no text
				d.sees(k.Face.String()+" "+k.Target, last)
			}
			d.key(r).sees("ready")
			if k.Face == faces.FR && !strings.Contains(d.plain(), "2c ") {
				t.Fatalf("2c is not said:\n%s", d.plain())
			}
			d.special("enter")
			booked, _ := d.app.v.setup.Last()
			last = slotShort(booked.Slot) + " " + readingText(d.app.v.setup.Spec, booked)
			d.sees(last)
		}
		d.book("923435", "893000", "880010", "871500").book("2724500", "2715955", "2703005", "2672530")
		d.sees("Lift").keys("<enter>").sees("✓ Every check is met.").keys("ty").sees("lifted")
	}
}

// A station by touch alone in the smallest window that has a keypad.
func TestStation_ByTouchAt60Columns(t *testing.T) {
	d := whole(newDriver(t, &fakePort{prefs: preferences{Keypad: true, Mouse: true}}, Options{}))
	d.keys("lty").size(60, 20)
	d.touch(char('n'), "next station")
	d.sees("Next station")
	for _, r := range "ALDER" {
		d.touch(char(r), string(r))
	}
	d.touch(named("enter"), "Enter")
	d.touch(touching(onOffer("Weir")), "Weir")
	for _, n := range []string{"Spire", "Quarry"} {
		d.touch(touching(onOffer(n)), n)
	}
	for range 40 {
		if d.app.field() != input.Text {
			break
		}
		d.touch(named("enter"), "Enter")
	}
	d.touch(char('o'), "open")
	d.sees("Set the circle", "between 0° and", "1°. Sight Weir,", "the RO.")
	d.padded("00510", "451020", "1203000").padded("3003010", "2251025", "1800515")
	d.padded("900510", "1351025", "2103000").padded("303005", "3151030", "2700515")
	d.padded("923435", "893000", "880010").padded("2715955", "2703005", "2672530")
	d.touch(named("enter"), "the verdict")
	d.touch(char('t'), "lift the tripod")
	d.touch(char('y'), "lift it")
	d.sees("the tripod is lifted")
	if s := d.app.v.setup; s.Lift == nil || s.Spec.Station != "Alder" || len(s.Readings) != 18 {
		t.Fatalf("%+v", s)
	}
}

// Names that act on terminals, turn lines round, join, are wide or have no end are
// shown inside the window on every screen, and nothing but colours is written.
func TestNames_HostileOnEveryScreen(t *testing.T) {
	hostile := rapid.SampledFrom([]string{"\x1b[2J", "\u202egnol", "字字字字字字字字字字", "e\u0301\u0301\u0301\u0301", "👩‍👩‍👧", strings.Repeat("Chapel of the Hill ", 6), "a\tb\nc", "\u200d\u200b", "🇩🇪🇫🇷", "\x07\x9b31m", "~●▸", "x"})
	rapid.Check(t, func(t *rapid.T) {
		port := &fakePort{prefs: preferences{Keypad: rapid.Bool().Draw(t, "keypad"), ASCII: rapid.Bool().Draw(t, "ascii")}}
		d := newDriver(t, port, Options{})
		spec := manySpec()
		name := func(label string) string { return label + hostile.Draw(t, label) }
		spec.Station, spec.RO, spec.Targets = name("S"), name("R"), []string{name("A"), name("B")}
		spec.Observer, spec.Booker = name("O"), name("K")
		spec.Instrument.Name, spec.Instrument.Serial = name("I"), name("N")
		d.run(d.app.carryOne(openSetup{spec: spec}))
		d.flush()
		d.size(rapid.IntRange(1, 150).Draw(t, "w"), rapid.IntRange(1, 50).Draw(t, "h"))
		for _, keys := range []string{"", "00510", "g", "b", "s", "b", "p", "a", "b", "c", "l", "b", "w", "b", "h", "o", "?", "m", "l"} {
			d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(keys)})
			d.at = d.at.Add(second)
			checkRoom(t, d)
			if text := ansi.Strip(d.app.View()); strings.ContainsFunc(text, func(r rune) bool { return r < 0x20 && r != '\n' || r == 0x7f || r == 0x9b || r == 0x202e }) {
				t.Fatalf("%q", text)
			}
			if d.app.field() == input.Text {
				d.special("esc")
			}
		}
	})
}
