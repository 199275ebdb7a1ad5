package day_test

import (
	"testing"

	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/reduce"
)

// Known bearings of several loads add up; one between the same two stations takes the
// place of the earlier one, either way round.
func TestBook_KnownBearingsAddUp(t *testing.T) {
	load := func(from, to string, degrees int64) event.Event {
		return event.KnownLoaded{Bearings: []event.KnownBearing{{From: from, To: to, Bearing: reduce.DirectionAt(reduce.Angle(degrees) * reduce.Degree)}}}
	}
	var b day.Book
	for i, e := range []event.Event{load("Weir", "Spire", 12), load("Alder", "Spire", 40), event.KnownLoaded{Stations: []event.KnownStation{{Name: "Weir"}}}, load("Spire", "Weir", 193)} {
		var err error
		if b, err = b.Apply(event.Entry{Seq: uint64(i + 1), Event: e}); err != nil {
			t.Fatal(err)
		}
	}
	if len(b.Bearings) != 2 || b.Bearings[0].From != "Alder" || b.Bearings[1].From != "Spire" || b.Bearings[1].Bearing.Angle() != 193*reduce.Degree || len(b.Known) != 1 {
		t.Errorf("%+v", b.Bearings)
	}
}
