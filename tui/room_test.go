package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/tui/look"
)

// pressAnything draws a message a booker, a wet screen or a torn cable may send.
func pressAnything(t *rapid.T) tea.Msg {
	switch rapid.IntRange(0, 9).Draw(t, "what") {
	case 0:
		return tea.KeyMsg{Type: tea.KeyEnter}
	case 1:
		return tea.KeyMsg{Type: rapid.SampledFrom([]tea.KeyType{tea.KeyUp, tea.KeyDown, tea.KeyLeft, tea.KeyRight, tea.KeyPgDown, tea.KeyPgUp, tea.KeyTab, tea.KeyBackspace}).Draw(t, "key")}
	case 2:
		return tea.MouseMsg{X: rapid.IntRange(0, 150).Draw(t, "x"), Y: rapid.IntRange(0, 50).Draw(t, "y"), Action: tea.MouseActionPress, Button: tea.MouseButtonLeft}
	case 3:
		return tea.WindowSizeMsg{Width: rapid.IntRange(0, 150).Draw(t, "w"), Height: rapid.IntRange(0, 50).Draw(t, "h")}
	case 4:
		return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(rapid.StringMatching(`[0-9]{5,7}`).Draw(t, "digits"))}
	case 5:
		return tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune(rapid.String().Draw(t, "paste"))}
	case 6:
		return escDue{}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{rapid.SampledFrom([]rune("shvrpgclwokeqynbxaitf?/.,- 0123456789Ä字é")).Draw(t, "rune")}}
}

// checkRoom fails where the view is larger than the window.
func checkRoom(t *rapid.T, d *driver) {
	view := d.app.View()
	lines := strings.Split(view, "\n")
	if d.app.w > 0 && d.app.h > 0 && len(lines) > d.app.h {
		t.Fatalf("%d lines in a window of %d", len(lines), d.app.h)
	}
	for _, l := range lines {
		if w := ansi.StringWidth(l); w > d.app.w {
			t.Fatalf("a line of %d cells in a window of %d: %q", w, d.app.w, ansi.Strip(l))
		}
	}
}

func TestView_StaysInTheWindow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		port := &fakePort{prefs: preferences{
			Theme:  rapid.SampledFrom(look.Names()).Draw(t, "theme"),
			ASCII:  rapid.Bool().Draw(t, "ascii"),
			Keypad: rapid.Bool().Draw(t, "keypad"),
		}}
		d := newDriver(t, port, Options{})
		if rapid.Bool().Draw(t, "begun") {
			rapid.SampledFrom([]func(*driver) *driver{half, whole, disagree}).Draw(t, "state")(d)
		}
		d.slow = rapid.Bool().Draw(t, "slow")
		d.size(rapid.IntRange(0, 150).Draw(t, "w"), rapid.IntRange(0, 50).Draw(t, "h"))
		checkRoom(t, d)
		for i := rapid.IntRange(1, 40).Draw(t, "presses"); i > 0 && !d.quit; i-- {
			d.at = d.at.Add(second)
			d.send(pressAnything(t))
			if d.slow && rapid.IntRange(0, 3).Draw(t, "answer") == 0 {
				d.answerOne(rapid.IntRange(0, 9).Draw(t, "which"))
			}
			checkRoom(t, d)
		}
		for len(d.waiting) > 0 && !d.quit {
			d.answerOne(0)
			checkRoom(t, d)
		}
		folded(t, d)
	})
}

// folded fails where the setup seen is not the fold of what is on disk.
func folded(t *rapid.T, d *driver) {
	n := d.app.v.setup.Number
	if n == 0 {
		return
	}
	s, err := d.port.Setup(n)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Readings) != len(d.app.v.setup.Readings) || s.LastSeq != d.app.v.setup.LastSeq {
		t.Fatalf("seen: %d readings to event %d, on disk: %d to %d", len(d.app.v.setup.Readings), d.app.v.setup.LastSeq, len(s.Readings), s.LastSeq)
	}
}

// manySpec is a full station: ten targets.
func manySpec() spec.Spec {
	spec := spec.FirstSpec()
	spec.Station, spec.RO = "Weir", "Spire"
	spec.Targets = []string{"Alder", "Quarry", "Mast", "Chapel", "Sluice", "Kiln", "Ridge", "Ford", "Barn"}
	spec.Observer, spec.Booker = "Ines Holm", "Tam Okoro"
	spec.Instrument.Name, spec.Instrument.Serial, spec.Instrument.Sigma = "T-5", "4471", 2*reduce.Arcsecond
	spec.Rounds = 4
	return spec
}

// full opens a station of ten targets with three rounds booked and the fourth
// begun.
func full(d *driver) *driver {
	d.run(d.app.carryOne(openSetup{spec: manySpec()}))
	for d.app.v.slot.Round < 4 || d.app.v.slot.Face == faces.FL {
		k := d.app.v.slot
		a := reduce.Angle(k.Round-1) * reduce.QuarterTurn
		for i, n := range d.app.v.setup.Spec.Names() {
			if n == k.Target {
				a += reduce.Angle(i)*30*reduce.Degree + 10*reduce.Arcminute
			}
		}
		if k.Face == faces.FR {
			a += reduce.HalfTurn
		}
		text := strings.NewReplacer("°", " ", "′", " ", "″", "").Replace(reduce.DirectionAt(a).Format(reduce.DMS, 0))
		d.app.carryOne(bookText{text: text, confirmed: true})
		d.flush()
	}
	return d
}

func BenchmarkUpdateAndView(b *testing.B) {
	d := full(newDriver(b, &fakePort{}, Options{}))
	d.size(100, 30)
	digits := []tea.Msg{tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("2")}, tea.KeyMsg{Type: tea.KeyBackspace}}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		d.app.Update(digits[i%2])
		_ = d.app.View()
	}
}

func BenchmarkView(b *testing.B) {
	d := full(newDriver(b, &fakePort{}, Options{}))
	d.size(100, 30)
	b.ReportAllocs()
	for b.Loop() {
		_ = d.app.View()
	}
}
