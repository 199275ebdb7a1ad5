package tui

import (
	"slices"
	"strings"
	"testing"

	"example.org/readback/testdata"
)

// longNames fills a station whose names are longer than their places.
func longNames(d *driver) *driver {
	spec := manySpec()
	spec.Station, spec.RO = "Old mill chimney by the weir, north side", "Reference mark 12 on the water tower"
	spec.Targets = []string{"St. Nicholas-under-the-hill, spire of", "Überlandleitungsmast 4711", "塔 north of the reservoir"}
	spec.Observer, spec.Booker = "Wilhelmina Featherstonehaugh-Cholmondeley", "Bartholomew Ó Súilleabháin-Wotherspoon"
	spec.Instrument.Name, spec.Instrument.Serial = "Theodolite with the grey lid", "4471-0098-2211-A"
	spec.Rounds = 2
	d.port.status.Path = "/media/tablet/surveys/brackenfold/second-epoch/brackenfold-dam-and-weir.book"
	d.port.status.Journal = d.port.status.Path + "-journal"
	d.port.status.CopyDir = "/media/card-of-the-second-crew/brackenfold/second-epoch/copies"
	d.run(d.app.carryOne(openSetup{spec: spec}))
	return d
}

// No sentence, name or path is cut at any size: it wraps, or a shorter one is written
// for the place.
func TestNames_NoneIsCut(t *testing.T) {
	ways := []string{"", "30", "p", "pa", "g", "s", "s<enter>", "c", "l", "lt", "w", "wf", "o", "oc", "m", "m<pgdown>", "d", "d1", "d3", "d4", "h", "r", "v", "?", "wg", "wh", "q", "35900", "30300pb"}
	if len(ways) < 20 {
		t.Fatal("few screens")
	}
	for _, done := range []bool{false, true} {
		book := longNames(newDriver(t, &fakePort{}, Options{}))
		book.unseen(func() {
			book.book(roundOne...).book(roundTwo[:5]...)
			if done {
				book.book(roundTwo[5:]...).book("923435", "893000", "880010", "871500").book("2724500", "2715955", "2703005", "2672530")
			}
		})
		for i, size := range [][2]int{{40, 12}, {60, 20}, {80, 24}, {100, 30}, {140, 45}} {
			for n, way := range ways {
				for _, keypad := range []bool{false, true} {
					if !testdata.OneOf(7, n+i) {
						continue
					}
					port := &fakePort{entries: slices.Clone(book.port.entries), head: book.port.head, status: book.port.status, prefs: preferences{Keypad: keypad}}
					d := newDriver(t, port, Options{}).size(size[0], size[1]).keys(way)
					if v := d.plain(); strings.Contains(v, "…") {
						t.Errorf("%v, keypad %v, done %v, %q:\n%s", size, keypad, done, way, v)
					}
				}
			}
		}
	}
}

// Names and paths longer than their place are all there.
func TestNames_AreWhole(t *testing.T) {
	for _, size := range [][2]int{{40, 12}, {60, 20}, {80, 24}, {100, 30}} {
		d := longNames(newDriver(t, &fakePort{}, Options{})).size(size[0], size[1])
		d.book(roundOne...).book(roundTwo[:5]...)
		whole := func(way string, words ...string) {
			t.Helper()
			d.keys(way)
			for _, w := range words {
				for _, piece := range strings.Fields(w) {
					if !strings.Contains(strings.ReplaceAll(d.plain(), "\n", ""), piece) && !strings.Contains(strings.Join(strings.Fields(d.plain()), ""), piece) {
						t.Errorf("%v, %q: %q is not whole in\n%s", size, way, w, d.plain())
					}
				}
			}
		}
		whole("", d.app.v.slot.Target)
		whole("w", "brackenfold-dam-and-weir.book", d.app.v.setup.Spec.Station)
		whole("bg", "Überlandleitungsmast 4711")
		if size[1] > 20 {
			whole("bo", d.port.status.CopyDir)
			whole("<pgdown>", d.port.status.Journal)
		}
	}
}
