package reduction_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/booking/spec/field"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

func dms(d, m int, s float64) int64 {
	return int64(reduce.Angle(d)*reduce.Degree + reduce.Angle(m)*reduce.Arcminute + reduce.FromSeconds(s))
}

// repeated books rounds by repetition, RO, single sight and sum on each face, and
// returns the setup; a negative figure is not booked.
func repeated(t *testing.T, n int, rounds ...[6]int64) booking.Setup {
	t.Helper()
	agreed := spec.FirstSpec()
	agreed.Station, agreed.RO, agreed.Targets, agreed.Observer, agreed.Booker = "Weir", "Spire", []string{"Alder"}, "Ines Holm", "Tam Okoro"
	agreed.Distances, agreed.KeyedAfterwards = true, &spec.KeyedAfterwards{By: "Ada Brandt", File: "weir.csv"}
	agreed.CloseHalves, agreed.Order, agreed.Repetitions, agreed.Rounds = false, spec.ByRepetition, n, 2
	agreed.Instrument.LeastCount, agreed.Instrument.Sigma = reduce.Arcsecond, 2*reduce.Arcsecond
	if faults := agreed.Validate(); len(faults) > 0 {
		t.Fatal(faults)
	}
	at := time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)
	entries := []event.Entry{{Seq: 1, Setup: 1, At: at, Event: event.SetupOpened{Spec: agreed}}}
	for i, r := range rounds {
		for k, slot := range agreed.RoundSlots(i + 1) {
			if r[k] < 0 {
				continue
			}
			at = at.Add(time.Minute)
			entries = append(entries, event.Entry{Seq: uint64(len(entries) + 1), Setup: 1, At: at, Event: event.ReadingBooked{Slot: slot, Value: r[k], By: "Tam Okoro"}})
		}
	}
	s, err := booking.Fold(entries)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The pointings of a round by repetition, written out (common practice, no source).
func TestRepetition_TheProgrammeOfARound(t *testing.T) {
	s := spec.Spec{RO: "Spire", Targets: []string{"Alder"}, Order: spec.ByRepetition, Repetitions: 6}
	var got []string
	for _, k := range s.RoundSlots(2) {
		got = append(got, strings.TrimPrefix(k.String(), "round 2 "))
	}
	want := "FL Spire horizontal, FL Alder horizontal, FL Alder accumulated, FR Spire horizontal, FR Alder horizontal, FR Alder accumulated"
	if strings.Join(got, ", ") != want {
		t.Errorf("%s", strings.Join(got, ", "))
	}
}

// Two rounds of six repetitions worked by hand with (final − initial + k · 360°) / n
// (common practice, no source):
//
//	round 1 FL: 0°12′10″, single 75°30′33″ − 0°12′10″ = 75°18′23″; 6 times that is
//	            451°50′18″, one circle and more: k = 1. Final 92°02′20″: 91°50′10″ + 360°
//	            is 451°50′10″, a sixth 75°18′21.666667″, 1.333333″ less than the single.
//	round 1 FR: 180°12′06″, single 255°30′28″: 75°18′22″. Final 272°02′28″: 91°50′22″ + 360°,
//	            a sixth 75°18′23.666667″, 1.666667″ more.
//	            mean 75°18′22.666667″; 2c of the sights: RO +4″, Alder +5″.
//	round 2 FL: 90°00′05″, single 165°18′27″, final 181°50′23″: 91°50′18″, a sixth 75°18′23″
//	round 2 FR: 270°00′05″, single 345°18′28″, final 1°50′17″: 91°50′12″, across north, a
//	            sixth 75°18′22″; mean 75°18′22.5″.
//
// The mean of both rounds is 75°18′22.583333″ (…22.5833335 in whole micro-arcseconds).
func TestRepetition_WorkedByHand(t *testing.T) {
	s := repeated(t, 6,
		[6]int64{dms(0, 12, 10), dms(75, 30, 33), dms(92, 2, 20), dms(180, 12, 6), dms(255, 30, 28), dms(272, 2, 28)},
		[6]int64{dms(90, 0, 5), dms(165, 18, 27), dms(181, 50, 23), dms(270, 0, 5), dms(345, 18, 28), dms(1, 50, 17)})
	r := reduction.Of(s)
	w := r.Rounds[0]
	if !w.Complete || len(w.Pairs) != 2 || len(w.Repeated) != 2 {
		t.Fatalf("%+v", w)
	}
	if a := w.Repeated[0]; a.Turns != 1 || a.Single != reduce.Angle(dms(75, 18, 23)) || a.Mean != reduce.Angle(dms(75, 18, 21)+666_667) || a.Off() != -1_333_333 {
		t.Errorf("face left: %+v, off %d", a, a.Off())
	}
	if a := w.Repeated[1]; a.Mean != reduce.Angle(dms(75, 18, 23)+666_667) || a.Off() != 1_666_667 {
		t.Errorf("face right: %+v, off %d", a, a.Off())
	}
	if p := w.Pairs[1]; p.TwoC != 5*reduce.Arcsecond || w.Pairs[0].TwoC != 4*reduce.Arcsecond {
		t.Errorf("2c %s, %s", w.Pairs[0].TwoC, p.TwoC)
	}
	for i, want := range []int64{dms(75, 18, 22) + 666_667, dms(75, 18, 22.5)} {
		if d, ok := r.Rounds[i].Direction("Alder"); !ok || int64(d.Angle()) != want {
			t.Errorf("round %d: %d, want %d", i+1, int64(d.Angle()), want)
		}
	}
	if d := r.Directions[0].Direction.Angle(); (d - reduce.Angle(dms(75, 18, 22)+583_333)).Abs() > 1 {
		t.Errorf("mean %d", int64(d))
	}
}

// The whole circles come from the single angle: none at a small angle, all but one at an
// angle just under the full circle, and the nearest also where the sum falls short of
// nothing. A mean is exact.
func TestRepetition_WholeCircles(t *testing.T) {
	for _, c := range []struct {
		n                                int
		single, final, mean, turns, from int64
	}{
		{6, dms(0, 0, 10), dms(0, 1, 3), dms(0, 0, 10.5), 0, 0},
		{6, dms(59, 59, 59), dms(359, 59, 57), dms(59, 59, 59.5), 0, 0},
		{6, dms(60, 0, 0), dms(359, 59, 57), dms(59, 59, 59.5), 0, 0}, // six times the single is a whole circle, the sum just short of it
		{6, dms(59, 59, 59), dms(0, 0, 3), dms(60, 0, 0.5), 1, 0},
		{6, dms(359, 59, 50), dms(359, 58, 57), dms(359, 59, 49.5), 5, 0},
		{6, dms(0, 0, 0), dms(359, 59, 57), dms(359, 59, 59.5), -1, 0}, // a nothing of an angle
		{24, dms(200, 0, 0), dms(120, 0, 24), dms(200, 0, 1), 13, dms(350, 0, 0)},
		{2, dms(180, 0, 0), dms(0, 0, 1), dms(180, 0, 0.5), 1, dms(10, 0, 0)},
	} {
		on := func(a int64) int64 { return int64(reduce.Angle(a + c.from).Normalize()) }
		s := repeated(t, c.n, [6]int64{c.from, on(c.single), on(c.final), -1, -1, -1})
		got := reduction.Of(s).Rounds[0].Repeated
		if len(got) != 1 || int64(got[0].Mean) != c.mean || got[0].Turns != c.turns {
			t.Errorf("%d times %d to %d: %+v, want %d and %d circles", c.n, c.single, c.final, got, c.mean, c.turns)
		}
	}
}

// What the order does not allow is said; a spec without it has no repetitions.
func TestRepetition_Validate(t *testing.T) {
	for want, change := range map[string]func(*spec.Spec){
		"":                                    func(*spec.Spec) {},
		"1 repetitions: expected 2 to 24":     func(s *spec.Spec) { s.Repetitions = 1 },
		"25 repetitions: expected 2 to 24":    func(s *spec.Spec) { s.Repetitions = 25 },
		"name one target, and not 2":          func(s *spec.Spec) { s.Targets = []string{"Alder", "Mast"} },
		"no half closes on the RO":            func(s *spec.Spec) { s.CloseHalves = true },
		"repeats an angle, not by halves":     func(s *spec.Spec) { s.Order = spec.ByHalves },
		"the order of observing is not known": func(s *spec.Spec) { s.Order = 3 },
	} {
		s := repeated(t, 6).Spec
		change(&s)
		faults := s.Validate()
		said := slices.ContainsFunc(faults, func(f field.Fault) bool {
			return f.Field == field.Order && strings.Contains(f.Text, want)
		})
		if said != (want != "") || want == "" && len(faults) > 0 {
			t.Errorf("%q: %v", want, faults)
		}
	}
}

// Once a sum is booked the order stands; a single sight that is hidden calls no sum.
func TestRepetition_AmendAndSkip(t *testing.T) {
	s := repeated(t, 6, [6]int64{dms(0, 12, 10), dms(75, 30, 33), dms(92, 2, 20), -1, -1, -1})
	agreed := s.Spec
	agreed.Repetitions = 5
	if _, err := s.Amend(agreed, nil, "five"); err == nil || !strings.Contains(err.Error(), "is booked after 6 repetitions") {
		t.Error(err)
	}
	agreed.Order, agreed.Repetitions = spec.ByHalves, 0
	if _, err := s.Amend(agreed, nil, "halves"); err == nil {
		t.Error("the order is amended over a sum")
	}
	s = repeated(t, 6, [6]int64{dms(0, 12, 10), -1, -1, -1, -1, -1})
	skip, err := s.Skip(programme.Expect(s).Slot, true, "mist")
	if err != nil {
		t.Fatal(err)
	}
	if s, err = s.Apply(event.Entry{Seq: 3, Setup: 1, Event: skip}); err != nil {
		t.Fatal(err)
	}
	if k := programme.Expect(s).Slot; k.Face != faces.FR || k.Target != "Spire" {
		t.Errorf("called: %s", k)
	}
}
