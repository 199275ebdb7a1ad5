package landxml

import (
	"strings"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/spec"
)

// fromPaper dates the readings of a setup as paper did: observed in April, keyed in
// May.
func fromPaper(s booking.Setup, observer string, dated bool) booking.Setup {
	s.Spec.KeyedAfterwards = &spec.KeyedAfterwards{By: "Tam Okoro", File: "april.csv"}
	s.Spec.Observer = observer
	s.Readings = append([]booking.Reading(nil), s.Readings...)
	for i := range s.Readings {
		if s.Readings[i].ReadAt = ""; dated {
			s.Readings[i].ReadAt = time.Date(2026, 4, 2, 9, i, 0, 0, time.UTC).Format(time.RFC3339)
		}
	}
	return s
}

// What an office reads: surveys by observer, dated by when they were observed, the
// reference object with its zero, local coordinates with their note, and a repeated
// measurement as one more observation.
func TestWrite_ForTheOffice(t *testing.T) {
	first, second, third := weir(t), fromPaper(weir(t), "Ada Birk", true), fromPaper(weir(t), "Cy Dahl", false)
	again := first.Readings[len(first.Readings)-2] // the slope distance of the RO
	again.Seq, again.Slot.Repeat, again.Text, again.Value = 1900, 1, "512.342", again.Value+2_000_000
	first.Readings = append(first.Readings, again)
	second.Number, third.Number = 2, 3
	d := document(first, second, third)
	h := 1.25
	d.Points = map[string]Point{"Weir": {Local: true, Elev: &h, LocalElev: true}}
	text := written(t, d)
	validate(t, text)
	for _, want := range []string{
		`<Survey date="2026-05-04">`, `<Survey date="2026-04-02">`, "<Survey>",
		`surveyor="Ines Holm"`, `surveyor="Ada Birk"`, `surveyor="Cy Dahl"`,
		`startTime="2026-04-02T09:00:00Z"`, "Of 1 setups the time of observing is not known",
		`horizAngle="0.0000"`, `slopeDistance="512.342"`, "Repeated measurement 2.",
		"Local coordinates in metres", "Elevations are over the first station.", `circlePositionSet="2"`,
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s", want)
		}
	}
	if n := strings.Count(text, `slopeDistance="512.34"`); n != 3+3 { // observed and reduced, in each setup
		t.Errorf("the slope distance stands %d times", n)
	}
	if strings.Contains(text, `startTime="2026-05-04T08:00:20Z" endTime="2026-05-04T08:00:20Z"`) {
		t.Error("a time of keying is given for one of observing")
	}
}

// What was measured again is held against its limit in a note of its setup, once, and
// what was amended stands beside it with the reason.
func TestWrite_RepeatsAndAmendments(t *testing.T) {
	c := atWeir(t)
	plain := written(t, document(c.Setup))
	slot, err := c.Setup.Again(spec.Slot{Quantity: spec.Slope, Target: "Spire"})
	if err != nil {
		t.Fatal(err)
	}
	again, err := check.Read(c.Setup, slot, "512.342", true, check.Known{})
	c.Do(again, err)
	spec := c.Setup.Spec
	spec.Instrument.Serial = "4472"
	e, err := c.Setup.Amend(spec, nil, "misread on the label")
	c.Do(e, err)
	text := written(t, document(c.Setup))
	validate(t, text)
	for _, want := range []string{"The distance to Spire was measured 2 times: mean 512.3410 m, spread 2.0 mm, limit", "Reason: misread on the label"} {
		if strings.Count(text, want) != 1 || strings.Contains(plain, want) {
			t.Errorf("%q stands %d times:\n%s", want, strings.Count(text, want), text)
		}
	}
}
