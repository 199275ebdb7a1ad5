package reduction_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// The sequences of a round, written out (common practice, no source).
func TestOrder_TheProgrammeOfARound(t *testing.T) {
	for _, c := range []struct {
		order  spec.Order
		closed bool
		more   []string
		want   string
	}{
		{spec.ByHalves, false, nil, "Spire FL, Alder FL, Mast FL | Mast FR, Alder FR, Spire FR"},
		{spec.ByHalves, true, nil, "Spire FL, Alder FL, Mast FL, Spire again FL | Spire again FR, Mast FR, Alder FR, Spire FR"},
		{spec.ByTarget, false, nil, "Spire FL, Spire FR, Alder FL, Alder FR, Mast FL, Mast FR"},
		{spec.ByTarget, true, nil, "Spire FL, Spire FR, Alder FL, Alder FR, Mast FL, Mast FR, Spire again FL, Spire again FR"},
		{spec.ByHalves, true, []string{"Mast", "Alder"}, "Spire FL, Alder FL, Mast FL, Spire again FL, Alder again FL, Mast again FL | Mast again FR, Alder again FR, Spire again FR, Mast FR, Alder FR, Spire FR"},
		{spec.ByTarget, true, []string{"Mast"}, "Spire FL, Spire FR, Alder FL, Alder FR, Mast FL, Mast FR, Spire again FL, Spire again FR, Mast again FL, Mast again FR"},
	} {
		s := spec.Spec{RO: "Spire", Targets: []string{"Alder", "Mast"}, Order: c.order, CloseHalves: c.closed, MoreROs: c.more}
		var sweeps []string
		for _, sweep := range s.Sweeps(1) {
			var names []string
			for _, k := range sweep {
				name := k.Target
				if k.Closing {
					name += " again"
				}
				names = append(names, name+" "+k.Face.String())
			}
			sweeps = append(sweeps, strings.Join(names, ", "))
		}
		if got := strings.Join(sweeps, " | "); got != c.want {
			t.Errorf("%v, closed %v: %s", c.order, c.closed, got)
		}
		for _, face := range []faces.Face{faces.FL, faces.FR} {
			all := slices.DeleteFunc(s.RoundSlots(1), func(k spec.Slot) bool { return k.Face != face })
			if half := s.HalfSlots(1, face); !slices.Equal(half, all) {
				t.Errorf("%v, closed %v: %s alone: %v", c.order, c.closed, face, half)
			}
		}
	}
}

// Two rounds target by target, worked by hand with the formulas of a pair and of a
// closed RO (mean of both faces; the RO is the mean of its two sights):
//
//	round 1: RO (12.5″ + 17.5″)/2 = 15.0″, Alder 45°10′22.5″ → 45°05′07.5″, Mast 250°00′45″ → 249°55′30″
//	round 2: RO (12.5″ + 12.5″)/2 = 12.5″, Alder 45°10′27.5″ → 45°05′15.0″, Mast 250°00′42.5″ → 249°55′30″
//
// (seconds over 0°05′ and 90°05′); means 45°05′11.25″ and 249°55′30″.
func TestOrder_ReducedByHand(t *testing.T) {
	s := spec.Spec{Station: "Weir", RO: "Spire", Targets: []string{"Alder", "Mast"}, Rounds: 2, Order: spec.ByTarget, CloseHalves: true,
		ClosingRule: faces.ClosingMean, Instrument: spec.Instrument{LeastCount: 5 * reduce.Arcsecond, Unit: reduce.DMS}, Limits: spec.DefaultLimits(5 * reduce.Arcsecond)}
	entries := []event.Entry{{Seq: 1, Setup: 1, Event: event.SetupOpened{Spec: s}}}
	for n, texts := range [][]string{
		{"0 05 10", "180 05 15", "45 10 20", "225 10 25", "250 00 40", "70 00 50", "0 05 15", "180 05 20"},
		{"90 05 10", "270 05 15", "135 10 25", "315 10 30", "340 00 40", "160 00 45", "90 05 10", "270 05 15"},
	} {
		for i, k := range s.RoundSlots(n + 1) {
			a, err := reduce.ParseKeyed(texts[i], reduce.DMS, 5*reduce.Arcsecond)
			if err != nil {
				t.Fatal(err)
			}
			seq := uint64(len(entries) + 1)
			entries = append(entries, event.Entry{Seq: seq, Setup: 1, At: time.Unix(int64(seq), 0), Event: event.ReadingBooked{Slot: k, Text: texts[i], Value: int64(a)}})
		}
	}
	setup, err := booking.Fold(entries)
	if err != nil {
		t.Fatal(err)
	}
	r := reduction.Of(setup)
	for i, want := range []string{"45°05′11.25″", "249°55′30.00″"} {
		if got := r.Directions[i].Direction.Format(reduce.DMS, 2); got != want {
			t.Errorf("%s: %s, by hand %s", r.Directions[i].Target, got, want)
		}
	}
	first := []reduction.Closing{{Target: "Spire", Face: faces.FL, Misclosure: 5 * reduce.Arcsecond}, {Target: "Spire", Face: faces.FR, Misclosure: 5 * reduce.Arcsecond}}
	if r.Dof != 2 || !slices.Equal(r.Rounds[0].Closings, first) || r.Rounds[1].Closings[1].Misclosure != 0 {
		t.Errorf("dof %d, closes %v, %v", r.Dof, r.Rounds[0].Closings, r.Rounds[1].Closings)
	}
}

// Several reference objects, worked by hand: the second sight of Mast is a check and
// goes into no mean, its misclosure is said by half as that of the RO.
//
//	round 1: RO (12.5″ + 17.5″)/2 = 15.0″ over 0°05′, Mast 250°00′45″ from its first sight → 249°55′30″
//	Mast closes 250°00′50″ − 40″ = +10″ on face left; on face right 70°00′45″ − 50″ = −5″
func TestOrder_SeveralReferenceObjects(t *testing.T) {
	s := spec.Spec{Station: "Weir", RO: "Spire", Targets: []string{"Alder", "Mast"}, Rounds: 2, CloseHalves: true, MoreROs: []string{"Mast"},
		ClosingRule: faces.ClosingMean, Instrument: spec.Instrument{LeastCount: 5 * reduce.Arcsecond, Unit: reduce.DMS}, Limits: spec.DefaultLimits(5 * reduce.Arcsecond)}
	entries := []event.Entry{{Seq: 1, Setup: 1, Event: event.SetupOpened{Spec: s}}}
	for i, k := range s.RoundSlots(1) {
		text := []string{"0 05 10", "45 10 20", "250 00 40", "0 05 15", "250 00 50", "70 00 45", "180 05 20", "70 00 50", "225 10 25", "180 05 15"}[i]
		a, err := reduce.ParseKeyed(text, reduce.DMS, 5*reduce.Arcsecond)
		if err != nil {
			t.Fatal(err)
		}
		seq := uint64(len(entries) + 1)
		entries = append(entries, event.Entry{Seq: seq, Setup: 1, At: time.Unix(int64(seq), 0), Event: event.ReadingBooked{Slot: k, Text: text, Value: int64(a)}})
	}
	setup, err := booking.Fold(entries)
	if err != nil {
		t.Fatal(err)
	}
	w := reduction.WorkRound(setup, setup.Rounds[0])
	var closes []string
	for _, c := range w.Closings {
		closes = append(closes, c.Target+" "+c.Face.String()+" "+c.Misclosure.FormatSmall(reduce.DMS))
	}
	if got := strings.Join(closes, ", "); got != "Spire FL +5″, Spire FR +5″, Mast FL +10″, Mast FR −5″" {
		t.Error(got)
	}
	if d, ok := w.Direction("Mast"); !ok || !w.Complete || d.Format(reduce.DMS, 2) != "249°55′30.00″" {
		t.Errorf("Mast %v, complete %v", d, w.Complete)
	}
	for want, change := range map[string]func(*spec.Spec){
		"no target":                  func(s *spec.Spec) { s.MoreROs = []string{"Quarry"} },
		"named twice":                func(s *spec.Spec) { s.MoreROs = []string{"Mast", "Mast"} },
		"let it close them too":      func(s *spec.Spec) { s.CloseHalves = false },
		"round 1 is begun: its halv": func(s *spec.Spec) { s.MoreROs = []string{"Alder"} },
	} {
		changed := s
		change(&changed)
		if _, err := setup.Amend(changed, nil, "it was meant so"); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", want, err)
		}
	}
	renamed := s.Rename([]spec.Rename{{From: "Mast", To: "Pole"}})
	if e, err := setup.Amend(renamed, []spec.Rename{{From: "Mast", To: "Pole"}}, "misspelt"); err != nil || e.Spec.MoreROs[0] != "Pole" {
		t.Errorf("%+v, %v", e, err)
	}
}
