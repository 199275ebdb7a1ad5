//go:build unix

package main

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/reduce"
	"example.org/readback/store"
	"example.org/readback/testdata"
)

// Mistakes by keys on the built program: an instrument height on the form that is
// beyond what the book sets is asked for again; rounds that do not agree hold, and the
// first press of A calls another round although one was called of itself; a height 14 m
// off the second time holds.
func TestVerdict_MistakesByKeys(t *testing.T) {
	if !*testdata.Long {
		t.Skip("on the built program: -long; package tui keys it without one")
	}
	file := filepath.Join(t.TempDir(), "weir.book")
	if o := runs(t, "limits", file, "--instrument-most", "1.9", "--by", "Tam Okoro"); o.code != exitFine {
		t.Fatal(o.errs)
	}
	b := bookerAt(open(t, 100, 36, "book", file)).sees("New setup")
	b.writes("Weir", "Spire", "Alder, Quarry, Mast", "2.2", "Ines Holm", "Tam Okoro", "T-5", "4471").presses(pageDown, "o")
	b.sees("The instrument height was not booked.", "expected 0.200 m to 1.900 m").calls("1.475")
	b.sees("Set the circle between 0° and 1°.", "✓ saved").books(round1...)
	b.books("900510", "1351025", "2103000").confirms("3400105").confirms("1600115").books("303005", "3151030", "2700515")
	b.sees("round 3 FL ◆○○○")
	for i, r := range round1 {
		b.books(turned(t, r, 180, []int{0, 5, -5, 0, 5, 5, 0, -5}[i]))
	}
	b.sees("Read the vertical circle on Spire.").books(verticals...)
	b.presses("l").sees("The tripod stays.", "Mast, round 2").presses("a").sees("round 4 FL ◆○○○", "Set the circle between 270° and 271°.")
	b.presses("l").sees("The tripod stays.").presses("i").sees("Chosen by you", "○ empty").calls("15.476")
	b.sees("Has the observer read it again?", "An instrument hardly stands that high").presses("y")
	b.sees("The tripod stays.", "measured again differs by 14.0010 m, limit 0.0050 m").presses("w").sees("Work list").quits()
}

// A setup of the first edition, which booked no rule with the verdict (the pinned record
// 11-lifted), keeps what was said; asked for, today's verdict stands beside it, in the
// season and by J on the screen.
func TestVerdict_AnewInABookOfTheFirstEdition(t *testing.T) {
	file := filepath.Join(t.TempDir(), "first.book")
	const said = "The spread of 2c over the setup is 15″, limit 10″."
	firstEdition(t, file, event.Lifted{Verdict: "hold", Reasons: []string{said}, Despite: "the light is going", By: "Tam Okoro"})
	if o := runs(t, "export", file, "--as", "jsonl"); !strings.Contains(o.out, `"despite":"the light is going"`) || strings.Contains(o.out, `"rule"`) {
		t.Fatalf("not as the first edition booked it: %s", o.out)
	}
	if o := runs(t, "season", file, "--anew"); o.code != exitFine || !strings.Contains(o.out, "said hold, by today's rule lift.") {
		t.Errorf("%s%s", o.out, o.errs)
	}
	b := bookerAt(open(t, 100, 36, "book", file)).sees("Work list").presses(enter).sees("least count").presses("j")
	b.sees("Judged anew", "Said when the tripod was lifted: hold.", said, "By today's rule: lift.").presses("w").sees("Work list").quits()
}

// firstEdition makes a book with one setup that was lifted as given.
func firstEdition(t *testing.T, file string, lifted event.Lifted) {
	t.Helper()
	l, err := book.Open(file, true, event.BookOpened{}, store.Options{Reserve: -1})
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	spec := spec.FirstSpec()
	spec.Station, spec.RO, spec.Targets = "Weir", "Spire", []string{"Alder", "Quarry", "Mast"}
	spec.Observer, spec.Booker, spec.Instrument.Name, spec.Instrument.Serial = "Ines Holm", "Tam Okoro", "T-5", "4471"
	var s booking.Setup
	at := time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)
	do := func(e event.Event) {
		t.Helper()
		at = at.Add(20 * time.Second)
		if s, err = l.Record(s, 1, at, e); err != nil {
			t.Fatal(err)
		}
	}
	do(event.SetupOpened{Spec: spec})
	for _, reading := range append(append(append([]string{}, round1...), round2...), verticals...) {
		a, err := reduce.ParseKeyed(reading, reduce.DMS, reduce.Arcsecond)
		if err != nil {
			t.Fatal(err)
		}
		do(event.ReadingBooked{Slot: programme.Expect(s).Slot, Text: reading, Value: int64(a), By: "Tam Okoro"})
	}
	do(lifted)
}
