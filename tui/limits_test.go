package tui

import (
	"strings"
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/booking/network"
)

// Every setting of figures has its field, with the value in force, the unit it is
// keyed in and what is taken unless it is set; what is booked is what the command
// books, and the figures are worked with it.
func TestLimits_EverySettingHasItsField(t *testing.T) {
	d := whole(newDriver(t, &fakePort{}, Options{})).size(100, 40).keys("wgl")
	s := d.app.slip
	list := network.DefaultSettings().List(nil)
	if len(s.form.Fields) != len(list)+1 {
		t.Fatalf("%d fields for %d settings", len(s.form.Fields), len(list))
	}
	for i, x := range list {
		f := s.form.Fields[i]
		if f.Value() != x.Number() || !strings.HasSuffix(f.Label, x.Unit) || !strings.Contains(f.Hint, capital(x.What)) {
			t.Errorf("%s: %q says %q, with %q", x.Name, f.Label, f.Value(), f.Hint)
		}
	}
	d.keys("10000<enter><enter><enter><enter>0,003<enter>0.01<pgdown>")
	d.sees("Least ratio 10000, was 5000; centring 0.003 m, was 0.002 m; known σ 0.01 m, as it was; set by Tam Okoro.")
	d.keys("o").sees("Written down. Figures are worked with it from now on.")
	e, ok := d.port.entries[len(d.port.entries)-1].Event.(event.FiguresSet)
	if !ok || len(e.Values) != 3 || e.Values[0].Name != "least-ratio" || *e.Values[0].Value != 10000 || e.Values[1].Name != "centring" || *e.Values[1].Value != 0.003 || e.By != "Tam Okoro" {
		t.Fatalf("%+v", d.port.entries[len(d.port.entries)-1].Event)
	}
	b, _ := d.port.Book()
	if set, err := network.DefaultSettings().Recorded(b.Figures); err != nil || set.LeastRatio != 10000 || set.Centring != 0.003 {
		t.Fatalf("%+v %v", set, err)
	}
	if d.app.v.text.page == nil || d.app.v.text.loading {
		t.Error("the figures are not worked anew")
	}
	// Emptied, what the program takes holds again; what is not touched is not booked.
	d.keys("l").sees("Unless set: 5000. Empty takes that again.").keys("<back><enter>x<pgdown>").sees("Direction σ, ″:", "a plain decimal")
	d.keys("o").sees("▸ Direction σ, ″").keys("<back>0<pgup><back><back><back><back><back><pgdown>")
	d.sees("Least ratio at the program's own value, was 10000").keys("o")
	e, _ = d.port.entries[len(d.port.entries)-1].Event.(event.FiguresSet)
	if len(e.Values) == 0 || e.Values[0].Name != "least-ratio" || e.Values[0].Value != nil {
		t.Fatalf("%+v", e)
	}
}

// What does not do is refused by the rule of the command, beside its field, and
// nothing is written; nor is anything where nothing is changed.
func TestLimits_WhatDoesNotDoIsSaid(t *testing.T) {
	d := half(newDriver(t, &fakePort{}, Options{})).size(100, 40).keys("wgl")
	n := len(d.port.entries)
	d.keys("<pgdown>o").sees("Nothing is changed yet")
	_, want := network.DefaultSettings().With("least-ratio", -1, "")
	_, said, _ := strings.Cut(want.Error(), ": ")
	d.keys("<pgup>-1<enter>").sees(capital(said)).keys("<pgdown>o").sees("▸ Least ratio", capital(said))
	d.keys("<esc>").sees("The figure of this book")
	if len(d.port.entries) != n {
		t.Error("something was written")
	}
}

// A circle in gon, mils or degrees: an angle is keyed in seconds, as on the command
// line, and what the small unit of the circle comes to in it stands beside it.
func TestLimits_SayWhatTheSmallUnitIs(t *testing.T) {
	d := gonStation(newDriver(t, &fakePort{}, Options{})).size(100, 40).keys("wgl<enter>")
	d.sees("▸ Direction σ, ″", "1 mgon is 3.24″.")
	half(newDriver(t, &fakePort{}, Options{})).size(100, 40).keys("wgl<enter>").sees("▸ Direction σ, ″").seesNot("mgon")
}

// Settings whose write fails: what the file says of the book holds, as of a setup.
func TestFailedWrite_OfLimits(t *testing.T) {
	for _, lost := range []bool{true, false} {
		d := half(newDriver(t, &fakePort{}, Options{})).size(100, 40).keys("wgl10000<pgdown>")
		d.port.hold = true
		d.keys("o")
		if len(d.app.v.book.Figures) != 1 {
			t.Fatalf("%+v", d.app.v.book.Figures)
		}
		if lost {
			d.port.lose = map[uint64]bool{d.port.head: true}
		}
		d.send(Written{Seq: d.port.head, Err: errDisk})
		d.port.hold = false
		d.keys("o")
		if got := len(d.app.v.book.Figures); lost == (got == 1) {
			t.Errorf("lost %v: the book on the screen has %d settings", lost, got)
		}
		word := "5000"
		if d.keys("b"); !lost {
			word = "10000"
		}
		d.keys("wgl").sees("▸ Least ratio", word)
	}
}

// A least above its largest is refused in the form of the book and in that of a setup.
func TestLimits_LeastAboveLargest(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{}).size(100, 45).keys("<esc>gl")
	for d.app.slip.form.Fields[d.app.slip.form.Chosen].Label != "Distance least, m" {
		d.keys("<down>")
	}
	d.keys("9000<pgdown>").sees("The least plausible distance, 9000 m, is above the largest, 8000 m.")
	n := len(d.port.entries)
	if d.keys("o"); len(d.port.entries) != n {
		t.Error("it was booked")
	}
	d.keys("<esc>bwn")
	s := d.app.screen().(*setupScreen)
	d.keys("Weir<enter>Spire<enter>Alder, Mast<enter>")
	for s.form.Chosen < fRange {
		d.keys("<down>")
	}
	d.keys("<back><back><back>4<pgdown>o").sees("▸ Instrument least, m", "the least plausible instrument height, 4 m, is above the largest, 2.5 m")
	if d.app.v.open {
		t.Error("it was opened")
	}
}
