package drill

import (
	"testing"
	"time"

	"example.org/readback/booking"
)

// run books a whole station as a learner would who asks again at every mark.
func run(t *testing.T, o Options, careful bool) (booking.Setup, Score) {
	t.Helper()
	spec, obs := New(o)
	d := NewSession(obs)
	at := time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)
	var s booking.Setup
	seq := uint64(0)
	do := func(e booking.Event) {
		t.Helper()
		seq++
		at = at.Add(5 * time.Second)
		en := booking.Entry{Seq: seq, At: at, Setup: 1, Event: e}
		n, err := s.Apply(en)
		if err != nil {
			t.Fatal(err)
		}
		s = n
		d.Booked(en)
	}
	open, err := booking.Open(spec)
	if err != nil {
		t.Fatal(err)
	}
	do(open)
	for range 300 {
		p := s.Expect()
		if p.Phase == booking.AtVerdict {
			break
		}
		text := d.Prompt(s, p.Slot, 0, at)
		if careful && len(d.calls[place{1, p.Slot}]) == 1 && d.calls[place{1, p.Slot}][0].Slip != "" {
			text = d.Prompt(s, p.Slot, 1, at)
		}
		e, err := s.Read(p.Slot, text, true, booking.Known{})
		if err != nil {
			t.Fatalf("%s %q: %v", p.Slot, text, err)
		}
		do(e)
	}
	lift, err := s.LiftTripod("end of the drill")
	if err != nil {
		t.Fatal(err)
	}
	do(lift)
	return s, d.Score()
}

func TestDrill_WithoutSlipsEndsOnLift(t *testing.T) {
	for seed := uint64(1); seed <= 20; seed++ {
		s, sc := run(t, Options{Seed: seed, Distances: true}, false)
		if sc.Slips != 0 || sc.LiftedWrong != 0 || s.Lift.Verdict != "lift" {
			t.Errorf("seed %d: %+v, %v", seed, sc, s.Verdict().Reasons())
		}
		if sc.PerReading != 5*time.Second {
			t.Errorf("seed %d: %v a reading", seed, sc.PerReading)
		}
	}
}

func TestDrill_CarefulLearnerCatchesEverySlip(t *testing.T) {
	slips := 0
	for seed := uint64(1); seed <= 20; seed++ {
		_, sc := run(t, Options{Seed: seed, SlipEvery: 6}, true)
		slips += sc.Slips
		if sc.Missed != 0 || sc.Caught != sc.Slips {
			t.Errorf("seed %d: %+v", seed, sc)
		}
	}
	if slips < 20 {
		t.Errorf("only %d slips in 20 drills with one in six", slips)
	}
}

func TestDrill_CarelessLearnerIsTold(t *testing.T) {
	missed, wrong := 0, 0
	for seed := uint64(1); seed <= 20; seed++ {
		_, sc := run(t, Options{Seed: seed, SlipEvery: 6}, false)
		missed += sc.Missed
		wrong += sc.LiftedWrong
	}
	if missed == 0 || wrong == 0 {
		t.Errorf("missed %d, lifted wrongly %d", missed, wrong)
	}
}

func TestDrill_SameSeedCallsTheSame(t *testing.T) {
	specA, a := New(Options{Seed: 7, SlipEvery: 3})
	_, b := New(Options{Seed: 7, SlipEvery: 3})
	s := booking.Setup{Number: 1, Spec: specA}
	for _, slot := range specA.RoundSlots(1) {
		if a.Call(s, slot, 0) != b.Call(s, slot, 0) {
			t.Fatal(slot)
		}
	}
}

func TestHalfBooked_StandsOnFaceRightOfRoundTwo(t *testing.T) {
	spec, o := New(Options{Seed: 1})
	seq := uint64(0)
	list, err := HalfBooked(spec, o, func(e booking.Event) booking.Entry {
		seq++
		return booking.Entry{Seq: seq, At: time.Unix(int64(seq)*20, 0).UTC(), Setup: 1, Event: e}
	})
	if err != nil {
		t.Fatal(err)
	}
	s, err := booking.Fold(list)
	if err != nil {
		t.Fatal(err)
	}
	if p := s.Expect(); p.Slot.Round != 2 || p.Slot.Face != booking.FR || p.Slot.Quantity != booking.Horizontal {
		t.Errorf("%+v", p)
	}
}
