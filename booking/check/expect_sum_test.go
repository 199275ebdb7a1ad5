package check

import (
	"strings"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// The circle after six repetitions is expected at six times the single angle: from
// 0°12′10″ and 75°30′33″, 75°18′23″ once, at 92°02′28″ (451°50′18″ and the initial
// reading, less a circle; worked by hand, common practice, no source). What is keyed is
// marked where it is off by a degree, and where it fits five repetitions, 16°44′05″.
func TestExpect_AfterTheRepetitions(t *testing.T) {
	lc := reduce.Arcsecond
	spec := spec.Spec{Station: "Weir", RO: "Spire", Targets: []string{"Alder"}, Rounds: 2, Order: spec.ByRepetition, Repetitions: 6, Plan: spec.FreePlan,
		Observer: "Ines Holm", Booker: "Tam Okoro", Instrument: spec.Instrument{Name: "T-5", LeastCount: lc, Unit: reduce.DMS, Circle: faces.Zenith, Sigma: 2 * lc},
		Limits: spec.DefaultLimits(5 * lc), Refraction: spec.DefaultRefraction, LengthUnit: lengths.Metres, ClosingRule: faces.ClosingMean}
	s, seq := booking.Setup{}, uint64(0)
	do := func(e event.Event, err error) {
		t.Helper()
		if seq++; err == nil {
			s, err = s.Apply(event.Entry{Seq: seq, Setup: 1, At: time.Unix(int64(seq), 0), Event: e})
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	do(event.SetupOpened{Spec: spec}, nil)
	for _, text := range []string{"01210", "753033"} {
		e, err := Read(s, programme.Expect(s).Slot, text, true, Known{})
		do(e, err)
	}
	e := Expect(s, programme.Expect(s).Slot, Known{})
	for text, want := range map[string]string{
		"92 02 28": "The mean of 6 differs by +0″ from the single angle.",
		"92 02 16": "The mean of 6 differs by −2″ from the single angle.",
		"93 02 28": "The circle differs by about +1°",
		"92 12 28": "The minutes look ten out",
		"16 44 05": "It fits 5 repetitions: count them.",
	} {
		a, err := s.Parse(programme.Expect(s).Slot, text)
		if err != nil {
			t.Fatal(err)
		}
		said, marked := "", false
		for _, f := range e.Check(a) {
			said, marked = said+f.Text, marked || f.Severity == event.Stop
		}
		if sound := strings.HasPrefix(text, "92 02"); !strings.Contains(said, want) || marked == sound || e.Marked(text) == sound {
			t.Errorf("%s: %q, marked %v and while it is typed %v", text, said, marked, e.Marked(text))
		}
	}
	for _, text := range []string{"93 02 28", "180 12 06", "255 30 28", "272 02 28"} {
		e, err := Read(s, programme.Expect(s).Slot, text, true, Known{})
		do(e, err)
	}
	r := reduction.Of(s)
	if cs := singleAgainstMean(s, r); len(cs) != 2 || cs[0].Met || !cs[1].Met || !strings.Contains(cs[0].Text, "Round 1 face left: the mean of 6 repetitions to Alder differs by") {
		t.Errorf("%+v", cs)
	}
}
