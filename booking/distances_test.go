package booking_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// Every correction of a displayed distance stands by itself and they add up; what they
// are was worked with the published refractivity (P27 of the tests of reduce: 20 °C,
// 1013.25 hPa, 60 % is N 273.878 at 850 nm, the display counting with 279.178: +5.30
// ppm), with R = 6371 km and by hand for the rest.
func TestMadeRight_LineByLine(t *testing.T) {
	making, faults := spec.MakingTexts{Air: "20 1013.25 60", Carrier: "0.85 279.178", PPMSet: "2", Prism: "−34,5", SeaLevel: "412", Scale: "0.99985"}.Parse()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	s := booking.Setup{Spec: spec.Spec{Refraction: 0.13, Making: making}}
	w := reduction.MadeRight(s, 1000, 0, 0)
	for _, c := range []struct {
		what       string
		got, want  float64
		tolerances float64
	}{{"air", w.Atmosphere, 0.0033, 5e-6}, {"prism", w.Prism, -0.0345, 1e-9}, {"slope", w.Slope, 999.9688, 5e-6}, {"to level", w.Bow, 0, 1e-9},
		{"sea level", w.SeaLevel, -0.06466, 5e-6}, {"scale", w.Scale, -0.149986, 5e-6}, {"grid", w.Grid, 999.754155, 5e-6}} {
		if math.Abs(c.got-c.want) > c.tolerances {
			t.Errorf("%s: %.6f, by hand %.6f", c.what, c.got, c.want)
		}
	}
	if again, faults := making.Texts().Parse(); len(faults) > 0 || again.Texts() != making.Texts() {
		t.Errorf("%+v, %v: not the same read again", again, faults)
	}
}

// Nothing is corrected where nothing is agreed, and what cannot be is refused by name.
func TestMadeRight_NothingAgreed(t *testing.T) {
	making, faults := spec.MakingTexts{}.Parse()
	if making != nil || faults != nil {
		t.Errorf("%+v, %v", making, faults)
	}
	for _, c := range []spec.MakingTexts{{Air: "20"}, {Air: "a b"}, {Carrier: "1"}, {Scale: "1 1"}, {Prism: "x"}, {SeaLevel: "1 2"}, {PPMSet: "NaN"}} {
		if _, faults := c.Parse(); len(faults) != 1 {
			t.Errorf("%+v: %v", c, faults)
		}
	}
	for _, c := range []spec.MakingTexts{{Air: "200 1000"}, {Carrier: "8 280"}, {Scale: "2"}, {Prism: "2000"}, {SeaLevel: "99999"}, {PPMSet: "5000"}} {
		m, _ := c.Parse()
		if len(m.Faults()) != 1 {
			t.Errorf("%+v: %v", c, m.Faults())
		}
	}
}

// Three scale factors are joined as (a + 4m + b)/6 (P29 of the tests of reduce).
func TestMadeRight_ScaleAlongTheLine(t *testing.T) {
	m, _ := spec.MakingTexts{Scale: "1.000206404 1.000209086 1.00021177"}.Parse()
	if math.Abs(m.Scale-1.000209086) > 0.5e-9 {
		t.Error(m.Scale)
	}
}

// Agreed or amended, the settings are what the horizontal distance of a setup is
// worked by; the amendment says what it was and is.
func TestAmend_DistancesMadeRight(t *testing.T) {
	p := &procedure{t: t, at: time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)}
	if err := p.do("open", "targets=Alder distances"); err != nil {
		t.Fatal(err)
	}
	put := func(slot spec.Slot, text string, value int64) {
		p.store(event.ReadingBooked{Slot: slot, Text: text, Value: value, By: "Tam Okoro"})
	}
	put(spec.Slot{Quantity: spec.Vertical, Face: faces.FL, Target: "Alder"}, "90 00 00", int64(90*reduce.Degree))
	put(spec.Slot{Quantity: spec.Vertical, Face: faces.FR, Target: "Alder"}, "270 00 00", int64(270*reduce.Degree))
	put(spec.Slot{Quantity: spec.Slope, Target: "Alder"}, "1000", int64(1000*lengths.Metre))
	horizontal := func() float64 {
		for _, v := range reduction.Of(p.s).Verticals {
			if v.Target == "Alder" {
				return v.Horizontal
			}
		}
		return 0
	}
	if got := horizontal(); got != 1000 {
		t.Fatal(got)
	}
	agreed := p.s.Spec
	agreed.Making, _ = spec.MakingTexts{Scale: "0.9996"}.Parse()
	a, err := p.s.Amend(agreed, nil, "the grid was forgotten")
	if err != nil {
		t.Fatal(err)
	}
	p.store(a)
	if got := horizontal(); math.Abs(got-999.6) > 1e-9 {
		t.Errorf("%.6f on the grid", got)
	}
	if said := strings.Join(booking.Amendment{Was: spec.Spec{}, SetupAmended: event.SetupAmended{Spec: spec.Spec{Making: agreed.Making}}}.Changes(), "; "); !strings.Contains(said, "scale factor 0.9996, was none") {
		t.Error(said)
	}
}
