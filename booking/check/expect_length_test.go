package check

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/lengths"
)

// Heights and lengths are held against what is plausible and what is known (ranges
// assumed, no source): a wild one books only when it was read again.
func TestRead_HeightsAndLengths(t *testing.T) {
	agreed := testSpec()
	agreed.Distances = true
	b := newBench(t, agreed)
	known := Known{Horizontal: func(target string) (float64, float64, string, bool) {
		return 123.4, 0.01, "the known coordinates", target == "Alder"
	}}
	for _, c := range []struct {
		slot  spec.Slot
		text  string
		stops string // what the sentence holds; empty: it passes
	}{
		{spec.Slot{Quantity: spec.InstrumentHeight}, "1.547", ""},
		{spec.Slot{Quantity: spec.InstrumentHeight}, "15.47", "hardly stands"},
		{spec.Slot{Quantity: spec.TargetHeight, Target: "Alder"}, "1.6", ""},
		{spec.Slot{Quantity: spec.TargetHeight, Target: "Alder"}, "16", "hardly stands"},
		{spec.Slot{Quantity: spec.Slope, Target: "Quarry"}, "800.125", ""},
		{spec.Slot{Quantity: spec.Slope, Target: "Quarry"}, "12345.678", "short or long"},
		{spec.Slot{Quantity: spec.Slope, Target: "Alder"}, "124.000", ""},
		{spec.Slot{Quantity: spec.Slope, Target: "Alder"}, "122.400", "shorter than"},
	} {
		e, err := Read(b.s, c.slot, c.text, false, known)
		if c.stops == "" && err != nil {
			t.Errorf("%s %s: %v %+v", c.slot, c.text, err, e.Findings)
		}
		if c.stops != "" && (!errors.Is(err, ErrMarked) || !strings.Contains(e.Findings[0].Text, c.stops)) {
			t.Errorf("%s %s: %v %+v", c.slot, c.text, err, e.Findings)
		}
	}
}

// An instrument height 14 m off the second time holds the tripod.
func TestVerdict_InstrumentHeightAgain(t *testing.T) {
	b := newBench(t, testSpec())
	b.do(event.ReadingBooked{Slot: spec.Slot{Quantity: spec.InstrumentHeight}, Text: "1.547", Value: int64(lengths.FromMetres(1.547)), By: "Tam Okoro"})
	again := spec.Slot{Quantity: spec.InstrumentHeight, Closing: true}
	if _, err := Read(b.s, again, "15.547", false, Known{}); !errors.Is(err, ErrMarked) {
		t.Errorf("14 m: %v", err)
	}
	held := func() bool {
		return slices.ContainsFunc(Judge(b.s).Checks, func(c Check) bool { return c.Name == "instrument height" && !c.Met })
	}
	if b.do(event.ReadingBooked{Slot: again, Text: "1.549", Value: int64(lengths.FromMetres(1.549)), By: "Tam Okoro"}); held() {
		t.Error("2 mm hold the tripod")
	}
	last, _ := b.s.Last()
	strike, err := b.s.Strike(last.Seq, "misread")
	if err != nil {
		t.Fatal(err)
	}
	b.do(strike)
	if b.do(event.ReadingBooked{Slot: again, Text: "15.547", Value: int64(lengths.FromMetres(15.547)), By: "Tam Okoro", Confirmed: true}); !held() {
		t.Error("14 m do not hold the tripod")
	}
}

// What the book sets of plausible lengths is what a setup opened from then on is held
// against; others keep theirs.
func TestRead_LengthsSetInTheBook(t *testing.T) {
	agreed := testSpec()
	agreed.Distances = true
	set := spec.DefaultLengths()
	set.MostInstrument, set.MostTarget, set.MostSlope = 1600*lengths.Millimetre, 2000*lengths.Millimetre, 400*1000*lengths.Millimetre
	set.Again, set.Known = 1*lengths.Millimetre, 10*1000*lengths.Millimetre
	own := agreed
	own.Before.Lengths = &set
	known := Known{Horizontal: func(string) (float64, float64, string, bool) { return 123.4, 0.01, "the known coordinates", true }}
	for _, c := range []struct {
		slot     spec.Slot
		text     string
		as, sets bool // whether it stops as the program takes it, and as the book sets it
	}{
		{spec.Slot{Quantity: spec.InstrumentHeight}, "1.700", false, true},
		{spec.Slot{Quantity: spec.InstrumentHeight, Closing: true}, "1.553", false, true},
		{spec.Slot{Quantity: spec.TargetHeight, Target: "Alder"}, "3", false, true},
		{spec.Slot{Quantity: spec.Slope, Target: "Quarry"}, "500", false, true},
		{spec.Slot{Quantity: spec.Slope, Target: "Alder"}, "120", true, false},
	} {
		for i, agreed := range []spec.Spec{agreed, own} {
			b := newBench(t, agreed)
			if c.slot.Closing {
				b.do(event.ReadingBooked{Slot: spec.Slot{Quantity: spec.InstrumentHeight}, Text: "1.550", Value: int64(lengths.FromMetres(1.55)), By: "Tam Okoro"})
			}
			_, err := Read(b.s, c.slot, c.text, false, known)
			if stops := errors.Is(err, ErrMarked); stops != [2]bool{c.as, c.sets}[i] {
				t.Errorf("%s %s, set %t: %v", c.slot, c.text, i == 1, err)
			}
		}
	}
}
