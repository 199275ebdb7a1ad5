package observer

import (
	"slices"
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// A drill in the order that is set: sound stations lift, a careful learner catches
// every slip.
func TestDrill_TargetByTarget(t *testing.T) {
	for seed := uint64(1); seed <= 10; seed++ {
		s, sc := run(t, Options{Seed: seed, Order: spec.ByTarget, CloseHalves: seed%2 == 0}, false)
		if sc.LiftedWrong != 0 || s.Lift.Verdict != "lift" {
			t.Errorf("seed %d: %+v, %v", seed, sc, check.Judge(s).Reasons())
		}
		for i, r := range s.Readings {
			if i > 0 && r.Slot.Face == faces.FR && r.Slot.Quantity == spec.Horizontal && s.Readings[i-1].Slot != r.Slot.Pair() {
				t.Fatalf("seed %d: %s after %s", seed, r.Slot, s.Readings[i-1].Slot)
			}
		}
		if _, sc := run(t, Options{Seed: seed, Order: spec.ByTarget, SlipEvery: 6}, true); sc.Missed != 0 || sc.Caught != sc.Slips {
			t.Errorf("seed %d, with slips: %+v", seed, sc)
		}
	}
}

// The circle is knocked in the second of three rounds, target by target: the station
// is held, and what is told is that everything from that sight on has turned, never
// that a half has, which this order does not have. Drift goes by the sequence too.
func TestVerdict_TargetByTarget(t *testing.T) {
	const rounds, stations = 3, 24
	from, told, drifts := 0, 0, 0
	for seed := uint64(1); seed <= stations; seed++ {
		o := Options{Seed: 300 + seed, Targets: 4, Rounds: rounds, Order: spec.ByTarget, CloseHalves: true, NoVerticals: true}
		at := 2 + int(seed)%6 // of the ten sights of a round
		o.Faults = []Fault{{Round: 2, From: at, By: 40 * reduce.Arcsecond}}
		s, v := judged(t, o)
		if v.Lift {
			t.Errorf("seed %d: a knocked circle is lifted", seed)
			continue
		}
		want := s.Spec.RoundSlots(2)[at]
		for _, x := range v.Culprits.Suspects {
			if strings.Contains(x.Text, "as a whole") {
				t.Errorf("seed %d: %s", seed, x.Text)
			}
			if x.Kind == slip.MovedAfter && x.Round == 2 {
				told++
				if x.Target == want.Target && x.Face == want.Face && x.Closing == want.Closing {
					from++
				}
				break
			}
		}
		o.Faults = []Fault{{Each: 12 * reduce.Arcsecond}}
		if _, v = judged(t, o); !v.Lift && len(v.Culprits.Suspects) > 0 && v.Culprits.Suspects[0].Kind == slip.Drift {
			drifts++
		}
	}
	if told < stations*9/10 || from < stations/2 || drifts < stations*9/10 {
		t.Errorf("of %d knocks %d are told, %d from the right sight first; of %d drifts %d", stations, told, from, stations, drifts)
	}
}

func judged(t *testing.T, o Options) (booking.Setup, check.Verdict) {
	t.Helper()
	s, err := New(o).Book()
	if err != nil {
		t.Fatal(err)
	}
	return s, check.Judge(s)
}

// Several reference objects: sound stations lift; where the circle is knocked between
// the RO's closing sight and that of the further one, the misclosure on that one holds
// the station, and the RO's does not.
func TestVerdict_SeveralReferenceObjects(t *testing.T) {
	held, lifted := 0, 0
	const stations = 20
	for seed := uint64(1); seed <= stations; seed++ {
		for _, knocked := range []bool{false, true} {
			o := New(Options{Seed: 500 + seed, Targets: 4, Rounds: 3, CloseHalves: true, NoVerticals: true, Order: spec.Order(seed % 2)})
			more := o.Spec.Targets[1]
			o.Spec.MoreROs = []string{more}
			if knocked {
				at := slices.Index(o.Spec.RoundSlots(2), spec.Slot{Quantity: spec.Horizontal, Round: 2, Face: faces.FL, Target: more, Closing: true})
				o.Faults = []Fault{{Round: 2, From: at, By: 40 * reduce.Arcsecond}}
			}
			s, err := o.Book()
			if err != nil {
				t.Fatal(err)
			}
			v := check.Judge(s)
			said := strings.Join(v.Reasons(), " ")
			switch {
			case !knocked && v.Lift:
				lifted++
			case knocked && strings.Contains(said, "Round 2 face left closes on "+more+" with +"):
				held++
			}
			if knocked && strings.Contains(said, "Round 2 face left closes on "+o.Spec.RO) {
				t.Errorf("seed %d: %s", seed, said)
			}
		}
	}
	if held != stations || lifted < stations-2 {
		t.Errorf("%d of %d sound stations lifted, %d of %d knocked ones held by the further reference object", lifted, stations, held, stations)
	}
}

// One angle by repetition: sound stations lift, a careful learner catches every slip; one
// repetition too few, a sum misread by a degree and a single sight off by a minute are
// each held, and named by the check of the mean against the single angle.
func TestVerdict_ByRepetition(t *testing.T) {
	const stations = 20
	lifted, held := 0, 0
	for seed := uint64(1); seed <= stations; seed++ {
		o := Options{Seed: 700 + seed, Order: spec.ByRepetition, NoVerticals: true, LeastCount: []reduce.Angle{1, 5}[seed%2] * reduce.Arcsecond}
		if _, v := judged(t, o); v.Lift {
			lifted++
		}
		at := New(o)
		spoiled := []Fault{
			{Quantity: spec.Accumulated, Round: 2, Face: faces.FR, By: -at.Lines[1].Direction},
			{Quantity: spec.Accumulated, Round: 1, Face: faces.FL, By: reduce.Degree},
			{Round: 1, Face: faces.FL, Target: at.Spec.Targets[0], By: reduce.Arcminute},
		}[seed%3]
		o.Faults = []Fault{spoiled}
		_, v := judged(t, o)
		want := "Round 1 face left: the mean of 6 repetitions to Alder"
		if spoiled.Round == 2 {
			want = "Round 2 face right: the mean of 6 repetitions to Alder"
		}
		if !v.Lift && strings.Contains(strings.Join(v.Reasons(), " "), want) {
			held++
		} else {
			t.Errorf("seed %d: %+v: %v", seed, spoiled, v.Reasons())
		}
		if _, sc := run(t, Options{Seed: seed, Order: spec.ByRepetition, SlipEvery: 6}, true); sc.Missed != 0 || sc.Caught != sc.Slips {
			t.Errorf("seed %d, with slips: %+v", seed, sc)
		}
	}
	if lifted < stations-1 || held != stations {
		t.Errorf("of %d sound stations %d lifted, of as many spoiled ones %d held", stations, lifted, held)
	}
}
