package check

import (
	"fmt"
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"pgregory.net/rapid"
)

// Whatever is booked, skipped or struck before, no sentence about an entry holds
// the figure that was expected, nothing panics, and the check at the key and the
// check of the whole entry say the same.
func TestExpectation_KeepsTheFigure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := testSpec()
		spec.Verticals = true
		spec.CloseHalves = rapid.Bool().Draw(t, "closed")
		s, err := booking.Setup{}.Apply(event.Entry{Seq: 1, Setup: 1, Event: event.SetupOpened{Spec: spec}})
		if err != nil {
			t.Fatal(err)
		}
		seq := uint64(1)
		do := func(e event.Event) {
			seq++
			if s, err = s.Apply(event.Entry{Seq: seq, Setup: 1, Event: e}); err != nil {
				t.Fatal(err)
			}
		}
		for range rapid.IntRange(1, 50).Draw(t, "steps") {
			slot := programme.Expect(s).Slot
			if !slot.Quantity.Angular() {
				return
			}
			switch rapid.IntRange(0, 12).Draw(t, "step") {
			case 0:
				e, _ := s.Skip(slot, false, "")
				do(e)
				continue
			case 1:
				if last, ok := s.Last(); ok {
					e, _ := s.Strike(last.Seq, "read again")
					do(e)
				}
				continue
			}
			text := keyedNear(t, s, slot)
			exp := Expect(s, slot, Known{})
			e, err := Read(s, slot, text, true, Known{})
			if err != nil {
				continue
			}
			stopped := len(e.Findings) > 0 && e.Findings[0].Severity == event.Stop
			if stopped != (exp.OffAt(text) > 0) {
				t.Fatalf("%s %q: stopped %v, off at %d", slot, text, stopped, exp.OffAt(text))
			}
			for _, f := range e.Findings {
				keepsSecret(t, f.Text, exp, reduce.Angle(e.Value))
			}
			do(e)
		}
	})
}

// keyedNear draws an entry: mostly near what fits, now and then anywhere.
func keyedNear(t *rapid.T, s booking.Setup, slot spec.Slot) string {
	a := reduce.Angle(rapid.IntRange(0, 359*3600/5).Draw(t, "anywhere")) * 5 * reduce.Arcsecond
	if e := Expect(s, slot, Known{}); len(e.bands) > 0 && rapid.IntRange(0, 3).Draw(t, "slip") > 0 {
		off := rapid.SampledFrom([]reduce.Angle{0, 5, 10, 60, 600, 3600, 180 * 3600}).Draw(t, "off")
		a = (e.bands[0].centre.Round(5*reduce.Arcsecond) + off*reduce.Arcsecond).Normalize()
	}
	return fmt.Sprintf("%d %02d %02d", a/reduce.Degree, a%reduce.Degree/reduce.Arcminute, a%reduce.Arcminute/reduce.Arcsecond)
}

// keepsSecret fails where a sentence holds the expected figure, the keyed one
// aside, in one of the ways it could be written. From a reading near 0° every
// difference is the figure itself: those are left out.
func keepsSecret(t *rapid.T, text string, e Expectation, keyed reduce.Angle) {
	for _, b := range e.bands {
		c := b.centre.Round(5 * reduce.Arcsecond).Normalize()
		if c == keyed || c < 2*reduce.Degree || keyed < 15*reduce.Degree || b.sd == 0 {
			continue
		}
		d, m, sec := c/reduce.Degree, c%reduce.Degree/reduce.Arcminute, c%reduce.Arcminute/reduce.Arcsecond
		for _, figure := range []string{
			c.Format(reduce.DMS, 0), fmt.Sprintf("%d %02d %02d", d, m, sec), fmt.Sprintf("%d%02d%02d", d, m, sec),
		} {
			if strings.Contains(text, figure) {
				t.Fatalf("%q holds what was expected, %s", text, figure)
			}
		}
	}
}
