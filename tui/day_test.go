package tui

import (
	"strings"
	"testing"

	"example.org/readback/booking/event"
)

// The check of the instrument before work is a short form: one pair on both faces
// gives 2c and index error as they are read back, and it stands in its health.
func TestDay_CheckOfTheInstrument(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{}).size(100, 40)
	d.keys("<esc>").sees("Work list").keys("d").sees("The day", "Check the instrument before work").keys("1")
	d.keys("T-5<enter>4471<enter><enter><enter><enter>").sees("▸ Bubble").keys("<right><enter><right><right><enter><enter>")
	d.keys("12 00 20<enter>192 00 05<enter>88 10 00<enter>271 50 10<enter>Ines Holm<enter>")
	d.sees("T-5 4471: bubble in order, plummet was out, put right, 2c +15″, index error +5″, checked by Ines Holm.").keys("o").sees("The check is written down", "2c +15″")
	if c := d.app.v.book.Checks; len(c) != 1 || c[0].Heights != "" || c[0].Instrument.Serial != "4471" {
		t.Fatalf("%+v", c)
	}
	d.keys("h").sees("No setup was booked with it yet", "2c +15″").keys("w")
	d.keys("n").sees("T-5", "4471", "Ines Holm") // what was checked stands in the form of the first setup
}

func TestDay_WhatDoesNotDoIsSaid(t *testing.T) {
	d := firstSetup(newDriver(t, &fakePort{}, Options{})).size(100, 40)
	d.keys("d1<down><down><down>12 00 20<pgdown>").sees("A pair has a reading on both faces").keys("o").sees("both faces")
	if n := len(d.app.v.book.Checks); n != 0 {
		t.Errorf("%d checks", n)
	}
	d.keys("<esc>2<enter>185<pgdown>o").sees("185 °C: expected")
	d.keys("<esc>3<pgdown>o").sees("Give the name of the file").keys("<esc>3gone.jpg<pgdown>o").sees("Not named: Open gone.jpg: no such file")
	if s := d.app.v.setup; len(s.Airs)+len(s.Files)+len(s.Packed) != 0 {
		t.Errorf("%+v", s)
	}
}

// Weather with a decimal comma, a photo by its name, the list of the pack-up and a
// note to the next crew: none of them is asked for, none is in the way.
func TestDay_BesideAReading(t *testing.T) {
	d := firstSetup(newDriver(t, &fakePort{}, Options{})).size(100, 40).book("00510")
	d.keys("d2haze<enter>18,5<enter>1006<enter>").sees("Haze, 18.5 °C, 1006 hPa.").keys("o").sees("The weather is written down", "08:", "18.5 °C")
	d.keys("3weir.jpg<enter>the mark<enter>o").sees("weir.jpg is named, with its hash.", "1 file, last weir.jpg")
	d.keys("4<right><enter><right><enter><pgdown>").sees("2 of 6 done; not done:").keys("o").sees("2 of 6 done")
	d.keys("5").sees("Note to the next crew").keys("The peg at Kiln is loose.<enter>").sees("The peg at Kiln is loose.")
	d.keys("b").sees("and sight Alder").keys("w").sees("Note of 4 May", "Tam Okoro: The peg at Kiln is loose.")
	s := d.app.v.setup
	if len(s.Files) != 1 || s.Files[0].SHA256 != strings.Repeat("ab", 32) || len(s.Readings) != 1 || *s.Airs[0].Celsius != 18.5 {
		t.Fatalf("%+v", s)
	}
	b, err := d.port.Book()
	if err != nil || len(b.Notes) != 1 {
		t.Fatal(b, err)
	}
}

// After the lift the pack-up and the weather can still be written down; in a book
// without a setup they say what they need.
func TestDay_AfterTheLiftAndBeforeTheFirst(t *testing.T) {
	d := whole(newDriver(t, &fakePort{}, Options{})).keys("lty").size(100, 40)
	d.keys("d4").sees("A rod or target stands beside the mark on Weir, plumb").keys("<right><pgdown>o").sees("1 of 6 done").keys("b").sees("Weir to Spire")
	if p := d.app.v.setup.Packed; len(p) != 1 || len(p[0].Left) != 5 {
		t.Errorf("%+v", p)
	}
	d = newDriver(t, &fakePort{}, Options{}).keys("<esc>d4").sees("written beside a setup, and none is open")
	d.keys("b").sees("Work list")
}

// Job, client and place stand in the form as the book has them; what is changed is
// written, what is left or emptied stays, and nothing new is refused.
func TestDay_JobClientAndPlace(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{}).size(100, 40)
	d.keys("<esc>d").sees("6 Say job, client and place nothing yet").keys("6").sees("▸ Job", "Sheets and files carry it")
	d.keys("<pgdown>o").sees("Nothing here is new").keys("<pgup>Brackenfold dam, epoch 7<enter>Water Board<enter><enter>")
	d.sees("Job Brackenfold dam, epoch 7, client Water Board.").keys("o").sees("Sheets and files carry it from now on", "job Brackenfold dam, epoch 7, client Water Board")
	d.keys("6<enter><back>d<enter>East  bank<enter>").sees("client Water Board, place East bank").keys("o") // the client is emptied of a letter and has it again
	if b := d.app.v.book; b.Job != "Brackenfold dam, epoch 7" || b.Client != "Water Board" || b.Place != "East bank" {
		t.Fatalf("%+v", b)
	}
	n := len(d.port.entries)
	d.keys("6").sees("▌Brackenfold dam, epoch 7", "Water Board", "East bank").keys("<esc>").sees("The day")
	if len(d.port.entries) != n {
		t.Error("looking at it writes")
	}
	if e, ok := d.port.entries[n-1].Event.(event.BookDescribed); !ok || e.Job != "" || e.Client != "" || e.Place != "East bank" {
		t.Errorf("more is written than what is new: %+v", d.port.entries[n-1].Event)
	}
}

// A file whose hash comes when another setup is at work is not named in that one.
func TestDay_AHashThatComesLate(t *testing.T) {
	d := firstSetup(newDriver(t, &fakePort{}, Options{}))
	d.send(fileRead{setup: 9, name: "weir.jpg", bytes: 1, sha256: strings.Repeat("ab", 32)})
	if n := len(d.app.v.setup.Files); n != 0 {
		t.Errorf("%d files", n)
	}
	d.sees("was read for another setup")
}
