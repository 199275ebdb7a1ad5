package main

import (
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// What frames a day, and what is written after the lift, stands on the sheet, in
// the audit, in the instrument's health and in the JSON of the reductions.
func TestDay_GoesOut(t *testing.T) {
	file := filepath.Join(t.TempDir(), "day.book")
	bookDay(t, file)
	dayGoesOut(t, file)
}

// bookDay books a station with all that frames a day, and what is written after the
// lift.
func bookDay(t *testing.T, file string) {
	t.Helper()
	c := newBook(t, file, event.BookOpened{})
	c.open(station("Alder"))
	c.observe(0)
	air, err := c.s.Weather("haze", new(18.5), new(1006.0))
	c.do(air, err)
	named, err := c.s.NameFile("weir.jpg", 2048, strings.Repeat("ab", 32), "the mark from the north")
	c.do(named, err)
	c.do(event.Lifted{Verdict: "lift", By: "Tam Okoro"}, nil)
	packed, err := c.s.Pack([]bool{true}, "")
	c.do(packed, err)
	remark, err := c.s.Remark(0, "looked at in the office")
	c.do(remark, err)
	check, err := day.CheckInstrument(c.s.Spec.Instrument, [3]string{day.InOrder}, [4]string{"12 00 20", "192 00 05"}, "Ines Holm")
	if err == nil {
		err = c.l.Append(c.at, check)
	}
	if err == nil {
		err = c.l.Append(c.at, event.HandedOver{Text: "The peg at Kiln is loose.", By: "Tam Okoro"})
	}
	if err != nil {
		t.Fatal(err)
	}
	c.close()
}

func dayGoesOut(t *testing.T, file string) {
	for command, wants := range map[string][]string{
		"audit":               {"weather: haze, 18.5 °C, 1006 hPa", "named the file weir.jpg", "packed up: 1 of 6 done", "remark: looked at in the office (after the lift)", "checked T-5 4471 before work: bubble in order, 2c +15″", "note to the next crew: The peg at Kiln is loose."},
		"sheet":               {"haze, 18.5 °C, 1006 hPa", "weir.jpg, 2048 bytes, sha256 abab", "1 of 6 done", "After the lift"},
		"sheet --cover":       {"Checked before work", "The peg at Kiln is loose."},
		"health":              {"Checked before work", "bubble in order, 2c +15″"},
		"health --json":       {`"two_c_sec": 15`, `"bubble": "in order"`},
		"export --as json":    {`"kind": "weather"`, `"kind": "packed up"`, `"after_lift": true`},
		"export --as jsonl":   {"weir.jpg"},
		"export --as sql":     {"weather,", "\"haze, 18.5 °C, 1006 hPa\"", "instrument checked,", "The peg at Kiln is loose."},
		"export --as landxml": {"Weir"},
	} {
		words := strings.Fields(command)
		code, out, errs := said(append([]string{words[0], file}, words[1:]...)...)
		text := strings.Join(strings.Fields(out), " ")
		for _, w := range wants {
			if code != exitFine || !strings.Contains(strings.ToLower(text), strings.ToLower(w)) {
				t.Errorf("%s: exit code %d, %q is not in\n%.3000s%s", command, code, w, out, errs)
			}
		}
	}
}

// The line of corrections says of which weather note the air is.
func TestDay_AirOfTheNote(t *testing.T) {
	file := filepath.Join(t.TempDir(), "air.book")
	c := newBook(t, file, event.BookOpened{})
	agreed := station("Alder")
	agreed.Distances, agreed.Making = true, &spec.DistanceMaking{AirNoted: true}
	c.open(agreed)
	air, err := c.s.Weather("", new(14.0), new(1002.0))
	c.do(air, err)
	c.observe(0)
	c.do(event.ReadingBooked{Slot: spec.Slot{Quantity: spec.Vertical, Face: faces.FL, Target: "Alder"}, Text: "90 00 00", Value: int64(90 * reduce.Degree), By: "Tam Okoro"}, nil)
	c.do(event.ReadingBooked{Slot: spec.Slot{Quantity: spec.Vertical, Face: faces.FR, Target: "Alder"}, Text: "270 00 00", Value: int64(270 * reduce.Degree), By: "Tam Okoro"}, nil)
	c.do(event.ReadingBooked{Slot: spec.Slot{Quantity: spec.Slope, Target: "Alder"}, Text: "1000", Value: int64(1000 * lengths.Metre), By: "Tam Okoro"}, nil)
	c.close()
	for command, want := range map[string]string{
		"sheet --text --annex": "Air 14.0 °C, 1002 hPa, taken as dry, from the weather note of 0",
		"export --as json":     `"air_noted"`,
	} {
		words := strings.Fields(command)
		code, out, errs := said(append([]string{words[0], file}, words[1:]...)...)
		if code != exitFine || !strings.Contains(strings.Join(strings.Fields(out), " "), want) {
			t.Errorf("%s: exit %d %s\nnot said: %s\n%s", command, code, errs, want, out)
		}
	}
}
