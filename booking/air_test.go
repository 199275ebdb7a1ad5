package booking_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking/event"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/booking/spec/field"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
	"example.org/readback/reduce/slope"
)

// Where the air is that of the weather notes, a distance takes the last note with
// temperature and pressure booked before it, else the first one after it, and the line of
// corrections says which. What the air comes to is the published closed formula (resolution
// 3 of the International Association of Geodesy, 1999; reduce/slope holds a published
// value): the display right at 15 °C and 1013.25 hPa, dry.
func TestAir_OfTheWeatherNotes(t *testing.T) {
	p := &procedure{t: t, at: time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)}
	if err := p.do("open", "targets=Alder,Mast distances"); err != nil {
		t.Fatal(err)
	}
	agreed := p.s.Spec
	var faults []field.Fault
	if agreed.Making, faults = (spec.MakingTexts{Air: "Noted"}).Parse(); len(faults) > 0 || agreed.Making.Texts().Air != "noted" {
		t.Fatal(faults, agreed.Making)
	}
	a, err := p.s.Amend(agreed, nil, "the air counts")
	if err != nil {
		t.Fatal(err)
	}
	p.store(a)
	put := func(slot spec.Slot, text string, value int64) {
		p.store(event.ReadingBooked{Slot: slot, Text: text, Value: value, By: "Tam Okoro"})
	}
	level := func(target string) {
		put(spec.Slot{Quantity: spec.Vertical, Face: faces.FL, Target: target}, "90 00 00", int64(90*reduce.Degree))
		put(spec.Slot{Quantity: spec.Vertical, Face: faces.FR, Target: target}, "270 00 00", int64(270*reduce.Degree))
		put(spec.Slot{Quantity: spec.Slope, Target: target}, "1000", int64(1000*lengths.Metre))
	}
	weather := func(text string, celsius, hectopascal *float64) {
		w, err := p.s.Weather(text, celsius, hectopascal)
		if err != nil {
			t.Fatal(err)
		}
		p.store(w)
	}
	clock := func(at time.Time) string { return at.Format("15:04") }
	says := func(want ...string) {
		t.Helper()
		got := reduction.Of(p.s).MadeSentences(p.s.Spec.Making, clock)[1:]
		if len(got) != len(want) {
			t.Fatalf("said %q, want %q", got, want)
		}
		for i := range want {
			if !strings.HasPrefix(got[i], want[i]) {
				t.Errorf("said %q, want %q", got[i], want[i])
			}
		}
	}
	wants := func(target string, celsius, hectopascal float64) {
		t.Helper()
		ppm := slope.Air{Celsius: 15, Pressure: 1013.25}.Refractivity(0.85) - slope.Air{Celsius: celsius, Pressure: hectopascal}.Refractivity(0.85)
		for _, v := range reduction.Of(p.s).Verticals {
			if v.Target == target && math.Abs(v.Work.Atmosphere-ppm/1000) > 1e-9 {
				t.Errorf("%s: air %+.6f m, want %+.6f", target, v.Work.Atmosphere, ppm/1000)
			}
		}
	}

	level("Alder")
	says("No weather note has temperature and pressure")
	weather("haze", new(30.0), nil) // no pressure: it says nothing of the air
	says("No weather note has temperature and pressure")
	weather("", new(14.0), new(1002.0))
	noon := clock(p.s.Airs[1].At)
	says("Air 14.0 °C, 1002 hPa, taken as dry, from the weather note of " + noon + ": ")
	wants("Alder", 14, 1002) // the first one after it
	weather("", new(-4.5), new(998.0))
	level("Mast")
	says("Alder: Air 14.0 °C, 1002 hPa", "Mast: Air −4.5 °C, 998 hPa")
	wants("Alder", 14, 1002)
	wants("Mast", -4.5, 998)
	weather("", new(40.0), new(1010.0))
	wants("Mast", -4.5, 998)
	if w := reduction.MadeRight(p.s, 1000, 0, 0); w.Atmosphere < 0.02 { // what is keyed next: the hot air of the last note
		t.Errorf("%+.4f m for the next distance", w.Atmosphere)
	}

	keyed := p.s
	keyed.Spec.Making = &spec.DistanceMaking{Air: &slope.Air{Celsius: 20, Pressure: 1000}}
	for _, v := range reduction.Of(keyed).Verticals { // air that is keyed rules, whatever was noted
		if want := 1000 * keyed.Spec.Making.Air.AtmospherePPM(0.85, spec.DefaultCarrier().Refractivity, 0) * 1e-6; v.Work.Atmosphere != want || v.Air != nil {
			t.Errorf("%s: %+.6f, want %+.6f", v.Target, v.Work.Atmosphere, want)
		}
	}
}
