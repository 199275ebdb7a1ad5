package tui

import (
	"testing"

	"example.org/readback/booking/event"
)

// From the figure screen one key shows what the plan brings, another the network laid onto
// the known stations; G is the way back, and what is missing is said.
func TestFigure_PlanAndKnownStations(t *testing.T) {
	d := half(newDriver(t, &fakePort{}, Options{})).size(100, 40)
	d.keys("wgf").sees("What the plan of this book brings", "There is no plan: load one").keys("g").sees("The figure of this book")
	d.keys("t").sees("The network laid onto its known stations", "The book has no known station: two or more are needed").keys("b").sees("Weir")

	port := &fakePort{}
	port.entries = []event.Entry{{Seq: 1, Event: event.BookOpened{}},
		{Seq: 2, Event: event.PlanLoaded{Stations: []event.PlannedStation{{Station: "Weir", RO: "Spire", Targets: []string{"Alder"}, Rounds: 4, Distances: true}}}},
		{Seq: 3, Event: event.KnownLoaded{Stations: []event.KnownStation{{Name: "Weir", East: 1000, North: 2000}, {Name: "Spire", East: 700, North: 2600}, {Name: "Alder", East: 1180, North: 2040}}}}}
	port.head = 3
	d = newDriver(t, port, Options{}).size(100, 40).keys("<esc>")
	d.keys("gf").sees("Expected of the 1 planned setups", "Ellipse 95 % mm").keys("g").sees("The figure of this book")
}
