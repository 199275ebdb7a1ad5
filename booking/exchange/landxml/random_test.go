package landxml

import (
	"bytes"
	"fmt"
	"html"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/event"
	"example.org/readback/booking/page/sheet"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
	"pgregory.net/rapid"
)

// Whatever a crew does and however things are called, the file keeps the rules,
// holds every circle reading once, and the sheets hold every reading.
func TestOutputs_AnySetup(t *testing.T) {
	var docs []string // for the validator, all in one call
	defer func() { validate(t, docs...) }()
	rapid.Check(t, func(r *rapid.T) {
		s := anySetup(r)
		b := sheet.Binder{Name: text(r, "book"), Printed: made, Sheets: []sheet.Sheet{{Name: "a.book", Setup: s, Hash: "00"}}}
		var out, page, plain bytes.Buffer
		if err := Write(&out, Document{Title: b.Title(), Made: made, Sheets: walk(b.Sheets)}); err != nil {
			r.Fatal(err)
		}
		if err := faultIn(out.String()); err != nil {
			r.Fatalf("%v\n%s", err, out.String())
		}
		if err := b.HTML(&page); err != nil {
			r.Fatal(err)
		}
		if err := b.Text(&plain, 80); err != nil {
			r.Fatal(err)
		}
		docs = append(docs, out.String())
		circle, struck := 0, 0
		for _, x := range s.Readings {
			if x.Slot.Quantity.Angular() {
				circle++
			}
			if !x.Stands() {
				struck++
			}
			if event := fmt.Sprintf(`label="event" value="%d"`, x.Seq); x.Slot.Quantity.Angular() && strings.Count(out.String(), event) != 1 {
				r.Fatalf("reading %d is not in the file once", x.Seq)
			}
			if shown := figure(s, x); !strings.Contains(html.UnescapeString(page.String()), shown) || !strings.Contains(plain.String(), shown) {
				r.Fatalf("%s, %s, is not on the sheets", x.Slot, shown)
			}
		}
		if strings.Count(page.String(), "<del>") != struck || strings.Count(out.String(), `status="deleted"`) < struckCircle(s) {
			r.Fatal("a struck reading is not shown as struck")
		}
		if strings.Contains(page.String(), "<script") {
			r.Fatal("a name became a part of the page")
		}
		for _, bad := range []string{"NaN", "+Inf", "-Inf", "ZgotmplZ", "%!d", "%!s", "%!v", "%!f"} {
			if strings.Contains(page.String(), bad) || strings.Contains(plain.String(), bad) {
				r.Fatalf("a sheet holds %q", bad)
			}
		}
	})
}

func struckCircle(s booking.Setup) int {
	n := 0
	for _, r := range s.Readings {
		if !r.Stands() && r.Slot.Quantity.Angular() {
			n++
		}
	}
	return n
}

// figure is a reading as it was booked.
func figure(s booking.Setup, r booking.Reading) string {
	if i := s.Spec.Instrument; r.Slot.Quantity.Angular() {
		return r.Direction().Format(i.Unit, i.Places())
	}
	return r.Text
}

// text is any short text, with what breaks files and screens among it.
func text(r *rapid.T, label string) string {
	return rapid.OneOf(
		rapid.StringMatching(`[A-Z][a-z]{0,8}`),
		rapid.SampledFrom([]string{"a\nb", "<script>", "\x00", "\u202e", `"'&;}`, "字"}),
		rapid.StringN(1, 12, 40), rapid.StringMatching(`[:/?#a]{1,3}`),
	).Draw(r, label)
}

// anySetup does whatever the core allows, up to 60 steps.
func anySetup(r *rapid.T) booking.Setup {
	spec := anySpec(r)
	open, err := booking.Open(spec)
	if err != nil {
		r.Skip(err)
	}
	var s booking.Setup
	seq := uint64(0)
	do := func(e event.Event, err error) {
		if err != nil {
			return // not possible now
		}
		seq++
		n, err := s.Apply(event.Entry{Seq: seq, At: made.Add(time.Duration(seq) * time.Minute), Setup: 1, Event: e})
		if err != nil {
			r.Fatalf("%T: %v", e, err)
		}
		s = n
	}
	do(open, nil)
	for range rapid.IntRange(0, 60).Draw(r, "steps") {
		anyStep(r, s, do)
	}
	return s
}

func anySpec(r *rapid.T) spec.Spec {
	spec := weirSpec()
	spec.Station, spec.RO, spec.Targets = text(r, "station"), text(r, "ro"), nil
	for range rapid.IntRange(0, 4).Draw(r, "targets") {
		spec.Targets = append(spec.Targets, text(r, "target"))
	}
	for range rapid.IntRange(0, 1).Draw(r, "heights only") {
		spec.HeightsOnly = append(spec.HeightsOnly, text(r, "target"))
	}
	spec.Observer, spec.Weather, spec.Instrument.Name = text(r, "observer"), text(r, "weather"), text(r, "instrument")
	spec.CloseHalves, spec.ClosingRule = rapid.Bool().Draw(r, "close"), rapid.SampledFrom([]faces.ClosingRule{0, faces.ClosingMean, faces.ClosingSpread}).Draw(r, "rule")
	spec.Instrument.Circle = rapid.SampledFrom([]faces.Circle{faces.Zenith, faces.Horizon}).Draw(r, "circle")
	if rapid.Bool().Draw(r, "gon") {
		spec.Instrument.Unit, spec.Instrument.LeastCount = reduce.GonUnit, reduce.Gon/10000
	}
	if rapid.Bool().Draw(r, "feet") {
		spec.LengthUnit = lengths.Feet
	}
	return spec
}

// anyStep does one thing: mostly it books what is called.
func anyStep(r *rapid.T, s booking.Setup, do func(event.Event, error)) {
	slot := programme.Expect(s).Slot
	switch what := rapid.IntRange(0, 15).Draw(r, "step"); {
	case what == 0:
		if n := len(s.Readings); n > 0 {
			e, err := s.Strike(s.Readings[rapid.IntRange(0, n-1).Draw(r, "which")].Seq, text(r, "reason"))
			do(e, err)
		}
	case what == 1:
		e, err := s.Skip(slot, rapid.Bool().Draw(r, "blocked"), text(r, "reason"))
		do(e, err)
	case what == 2:
		e, err := s.VoidRound(slot, text(r, "reason"))
		do(e, err)
	case what == 3:
		e, err := s.LeaveOut(rapid.IntRange(1, 4).Draw(r, "round"), text(r, "reason"))
		do(e, err)
	case what == 4:
		e, err := s.Remark(0, text(r, "remark"))
		do(e, err)
	case what == 5 && len(s.Readings) > 20:
		e, err := check.Lift(s, text(r, "despite"))
		do(e, err)
	default:
		if programme.Expect(s).Phase == programme.AtVerdict {
			slot = spec.Slot{Quantity: spec.InstrumentHeight, Closing: rapid.Bool().Draw(r, "again")}
		}
		e, err := check.Read(s, slot, anyReading(r, s, slot), true, check.Known{})
		do(e, err)
	}
}

// anyReading is a reading that the instrument could show.
func anyReading(r *rapid.T, s booking.Setup, slot spec.Slot) string {
	if !slot.Quantity.Angular() {
		return rapid.StringMatching(`[1-9][0-9]{0,3}\.[0-9]{3}`).Draw(r, "length")
	}
	if s.Spec.Instrument.Unit == reduce.GonUnit {
		return fmt.Sprintf("%d.%04d", rapid.IntRange(0, 399).Draw(r, "gon"), rapid.IntRange(0, 9999).Draw(r, "decimals"))
	}
	return fmt.Sprintf("%d %02d %02d", rapid.IntRange(0, 359).Draw(r, "deg"), rapid.IntRange(0, 59).Draw(r, "min"), 5*rapid.IntRange(0, 11).Draw(r, "sec"))
}
