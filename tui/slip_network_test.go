package tui

import (
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
)

// lastOf is the last event on disk, as one of a kind.
func lastOf[E event.Event](t *testing.T, d *driver) E {
	t.Helper()
	e, ok := d.port.entries[len(d.port.entries)-1].Event.(E)
	if !ok {
		t.Fatalf("the last event is %+v", d.port.entries[len(d.port.entries)-1].Event)
	}
	return e
}

// A target, and the instrument, that stood beside their marks: the event is the one of
// the command, and what it does to each sight is read back.
func TestSlip_WhatStoodBesideItsMark(t *testing.T) {
	d := whole(newDriver(t, &fakePort{}, Options{})).size(100, 40).keys("d7")
	d.sees("▸ Beside its mark stood ‹ the instrument on Weir ›").keys("<enter>5.8<enter>")
	d.sees("At the instrument, clockwise from Spire to the mark of Weir").keys("<pgdown>o").sees("▸ Angle", "Expected degrees, minutes and seconds")
	d.keys("86 40 00<enter><enter>").sees("The instrument stood 5.800 m beside its mark, at 86°40′00″.").keys("o").sees("reduced to the mark from now on", "at 86°40′00″")
	want := event.CentreNoted{Setup: 1, Distance: 5800 * lengths.Millimetre, Angle: 86*reduce.Degree + 40*reduce.Arcminute, By: "Tam Okoro"}
	if e := lastOf[event.CentreNoted](t, d); e != want {
		t.Fatalf("%+v", e)
	}
	// It is said where it is noted again, taken back, and said of a target.
	d.keys("7").sees("Noted before: the instrument stood 5.800 m").keys("<right><right>").sees("‹ Alder ›").seesNot("Noted before").keys("<enter>0,085<enter>")
	d.sees("Clockwise, from the mark of Alder to Weir, as seen at Alder").keys("90 00 00<pgdown>o").sees("Alder stood 0.085 m")
	if e := lastOf[event.CentreNoted](t, d); e.Target != "Alder" || e.Distance != 85*lengths.Millimetre {
		t.Fatalf("%+v", e)
	}
	d.keys("7<enter>0<pgdown>").sees("The instrument stood on its mark after all.").keys("o")
	if c := d.app.v.book.Centres; len(c) != 1 || c[0].Target != "Alder" {
		t.Fatalf("%+v", c)
	}
	n := len(d.port.entries)
	if d.keys("7<enter>five<pgdown>o").sees("▸ Distance to the mark, m"); len(d.port.entries) != n {
		t.Error("something was written")
	}
}

// In gon the form speaks gon, in feet feet.
func TestSlip_BesideItsMarkInGon(t *testing.T) {
	d := gonStation(newDriver(t, &fakePort{}, Options{})).size(60, 20).keys("d7<enter>1.5<enter>")
	d.sees("▸ Angle, gon").seesNot("°").keys("86 40 00<pgdown>o").sees("▸ Angle, gon", "one plain decimal of gon").keys("<back><back><back><back><back><back><back><back>96.5<pgdown>")
	d.sees("at 96.5000 gon", "Weir to Spire").seesNot("°").keys("o")
	if e := lastOf[event.CentreNoted](t, d); e.Angle != 965*reduce.Gon/10 {
		t.Fatalf("%+v", e)
	}
}

// Levelled differences are keyed one after the other, each going on where the last
// ended, and one that does not stand is taken out; the event holds all that count, as
// that of the command does.
func TestSlip_LevelledDifferences(t *testing.T) {
	d := whole(newDriver(t, &fakePort{}, Options{})).size(100, 40).keys("d8")
	d.sees("▸ From").keys("<pgdown>o").sees("Nothing is keyed, and nothing taken out").keys("<pgup>Wier").sees("Do you mean Weir, known from setup 1?")
	d.keys("<back><back><back><back>Weir<enter>Alder<enter>1,2345<enter><enter><pgdown>o").sees("▸ σ, mm", "is not a standard deviation").keys("2<pgdown>")
	d.sees("Weir to Alder +1.2345 m, σ 2 mm; levelled by Tam Okoro. 1 difference counts then.").keys("o").sees("The heights of figures are worked with it")
	d.keys("8").sees("From ▌Alder", "σ, mm 2").keys("<enter>Mast<enter>-0.31<enter><pgdown>").sees("Alder to Mast −0.3100 m, σ 2 mm").keys("o").sees("2 differences, last Alder to Mast")
	d.keys("8<pgdown><up><up><right>").sees("‹ taken out ›").keys("<pgdown>").sees("Weir to Alder +1.2345 m, σ 2 mm is taken out", "1 difference counts then").keys("o")
	e := lastOf[event.LevelsLoaded](t, d)
	if want := (event.LevelledRise{From: "Alder", To: "Mast", Rise: -310 * lengths.Millimetre, SD: 2 * lengths.Millimetre}); len(e.Rises) != 1 || e.Rises[0] != want {
		t.Fatalf("%+v", e)
	}
	d.keys("8<pgdown><up><right><pgdown>o")
	if b, err := d.port.Book(); err != nil || len(b.Levels) != 0 {
		t.Fatalf("%+v %v", b.Levels, err)
	}
	newDriver(t, &fakePort{}, Options{}).keys("<esc>d7").sees("written beside a setup, and none is open").keys("8").sees("▸ From")
}

// A short form completes names with the key of the setup form: what was keyed by the names
// that begin so, one after the other and back, a slip by the name it is near to, nothing
// written by all there are; a touch takes one and goes on. Crew and instrument too.
func TestSlip_NamesAreCompleted(t *testing.T) {
	d := whole(newDriver(t, &fakePort{}, Options{})).size(100, 40).keys("d8")
	d.sees("▸ From", "→ complete").keys("we").sees("→ Weir").keys("<right>").sees("From ▌Weir").keys("<enter>alder<enter>1.2<enter>2<enter>")
	d.keys("<back><back><back><back><back><back><back><back><back>In<right>").sees("Levelled by ▌Ines Holm").keys("<pgdown>o")
	d.keys("8Wier").sees("Do you mean Weir").keys("<right>").sees("From ▌Weir").keys("<enter><right>").sees("To ▌Spire").keys("<right>").sees("To ▌Alder").keys("<left>").sees("To ▌Spire")
	d.keys("<left><right>").keys("<back><back><back><back><back>").tap("Quarry").sees("To Quarry", "▸ Rise, metres")
	d.keys("<esc><esc>ltynAlder<enter>Weir<enter>Spire<enter>")
	f := d.app.screen().(*setupScreen)
	for f.form.Chosen != fObserver {
		d.keys("<up>")
	}
	d.keys("<back><back><back><back><back><back><back><back><back>Ta<right>").sees("Observer ▌Tam Okoro")
}
