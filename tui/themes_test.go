package tui

import (
	"strings"
	"testing"

	"example.org/readback/testdata"
	"example.org/readback/tui/look"
)

// The frames of each theme with its sequences, ESC shown as ␛.
func TestFrames_Themes(t *testing.T) {
	for _, name := range look.Names() {
		for _, sc := range scenes {
			switch sc.name {
			case "booking-asking", "compare", "page", "lift":
			default:
				continue
			}
			d := newDriver(t, &fakePort{prefs: preferences{Theme: name}}, Options{})
			d.keyed = true
			sc.lead(d)
			golden(t, sc.name+"-"+name+".sgr.txt", strings.ReplaceAll(d.app.View(), "\x1b", "␛"))
		}
	}
}

// Without colour nothing but text is written, and it says the same.
func TestPlain_SaysTheSame(t *testing.T) {
	noColour := func(k string) string {
		return map[string]string{"NO_COLOR": "1", "TERM": "xterm-256color"}[k]
	}
	for n, sc := range scenes {
		if !testdata.Sampled(n) {
			continue
		}
		plain := newDriver(t, &fakePort{}, Options{Getenv: noColour})
		sc.lead(plain)
		if v := plain.app.View(); strings.Contains(v, "\x1b") {
			t.Fatalf("%s: a sequence is written without colour: %q", sc.name, v)
		}
		day := newDriver(t, &fakePort{}, Options{})
		sc.lead(day)
		words := strings.NewReplacer("│", "", "|", "", "▁", "", " ", "", "\n", "", "_", "", "|", "")
		if words.Replace(plain.plain()) != words.Replace(day.plain()) && sc.name != "options" {
			t.Errorf("%s: says\n%s\nin colour\n%s", sc.name, plain.plain(), day.plain())
		}
	}
}

// A choice of theme, signs, keypad and touch is remembered by the port.
func TestOptions_AreRemembered(t *testing.T) {
	d := half(newDriver(t, &fakePort{}, Options{}))
	d.keys("ot").sees("night").keys("akm")
	want := preferences{Theme: "night", ASCII: true, Keypad: true, Mouse: true}
	if d.port.prefs != want {
		t.Fatalf("%+v", d.port.prefs)
	}
	again := newDriver(t, d.port, Options{})
	if again.app.v.theme.Name != "night" || again.app.v.theme.Signs != look.ASCII {
		t.Fatalf("%s %v", again.app.v.theme.Name, again.app.v.theme.Signs)
	}
}

func TestOptions_SecondJournal(t *testing.T) {
	d := half(newDriver(t, &fakePort{}, Options{}))
	d.keys("oc/media/card<enter>").sees("Options", "A second journal is kept in /media/card.")
	b, err := d.port.Book()
	if err != nil || b.Copy != "/media/card" {
		t.Fatalf("%+v, %v", b, err)
	}
}

// With plain signs nothing beyond ASCII is drawn that is not part of a name.
func TestASCII_DrawsNothingElse(t *testing.T) {
	for n, sc := range scenes {
		if !testdata.Sampled(n + 1) {
			continue
		}
		d := sc.lead(newDriver(t, &fakePort{prefs: preferences{ASCII: true}}, Options{}))
		for _, size := range [][2]int{{30, 8}, {80, 24}, {140, 45}} {
			for _, r := range d.size(size[0], size[1]).plain() {
				if r >= 0x80 {
					t.Errorf("%s at %v: %q is drawn", sc.name, size, r)
					break
				}
			}
		}
	}
}
