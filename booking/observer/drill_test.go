package observer

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/network"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/faces"
)

// A learner books what is called, in a session of one drill.
type learner struct {
	t       *testing.T
	d       *Session
	n       int // number of the setup
	s       booking.Setup
	at      time.Time
	seq     uint64
	careful bool // asks again at every slip
}

func begin(t *testing.T, o Options) (*learner, spec.Spec) {
	obs := New(o)
	return &learner{t: t, d: NewSession(obs), at: time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)}, obs.Spec
}

func (l *learner) do(e event.Event, err error) {
	l.t.Helper()
	if err != nil {
		l.t.Fatal(err)
	}
	l.seq++
	l.at = l.at.Add(5 * time.Second)
	en := event.Entry{Seq: l.seq, At: l.at, Setup: l.n, Event: e}
	if l.s, err = l.s.Apply(en); err != nil {
		l.t.Fatal(err)
	}
	l.d.Booked(en)
}

// station books a whole station and lifts the tripod.
func (l *learner) station(n int, agreed spec.Spec) {
	l.t.Helper()
	l.n, l.s = n, booking.Setup{}
	open, err := booking.Open(agreed)
	l.do(open, err)
	if agreed.Distances {
		h := spec.Slot{Quantity: spec.InstrumentHeight}
		e, err := check.Read(l.s, h, l.d.Prompt(l.s, h, 0, l.at), true, check.Known{})
		l.do(e, err)
	}
	for range 300 {
		p := programme.Expect(l.s)
		if p.Phase == programme.AtVerdict {
			break
		}
		e, err := check.Read(l.s, p.Slot, l.called(p.Slot), true, check.Known{})
		l.do(e, err)
	}
	lift, err := check.Lift(l.s, "end of the drill")
	l.do(lift, err)
}

func (l *learner) called(slot spec.Slot) string {
	text := l.d.Prompt(l.s, slot, 0, l.at)
	if calls := l.d.calls[place{l.s.Number, slot}]; l.careful && len(calls) == 1 && calls[0].Slipped {
		text = l.d.Prompt(l.s, slot, 1, l.at)
	}
	return text
}

// run books a whole station as a learner would, careful or not.
func run(t *testing.T, o Options, careful bool) (booking.Setup, Score) {
	t.Helper()
	l, spec := begin(t, o)
	l.careful = careful
	l.station(1, spec)
	return l.s, l.d.Score()
}

func TestDrill_WithoutSlipsEndsOnLift(t *testing.T) {
	for seed := uint64(1); seed <= 20; seed++ {
		s, sc := run(t, Options{Seed: seed, Distances: true}, false)
		if sc.Slips != 0 || sc.LiftedWrong != 0 || s.Lift.Verdict != "lift" {
			t.Errorf("seed %d: %+v, %v", seed, sc, check.Judge(s).Reasons())
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
	a, b := New(Options{Seed: 7, SlipEvery: 3}), New(Options{Seed: 7, SlipEvery: 3})
	s := booking.Setup{Number: 1, Spec: a.Spec}
	for _, slot := range a.Spec.RoundSlots(1) {
		if a.Call(s, slot, 0) != b.Call(s, slot, 0) {
			t.Fatal(slot)
		}
	}
}

func TestDrill_KindsOfSlips(t *testing.T) {
	l, spec := begin(t, Options{Seed: 3, SlipEvery: 1, Kinds: []slip.Kind{slip.WholeDegree}})
	l.station(1, spec)
	sc := l.d.Score()
	if sc.Slips == 0 || sc.Missed != sc.Slips {
		t.Errorf("%+v", sc)
	}
	for _, w := range sc.MissedWhere {
		if !strings.HasSuffix(w, "whole degree") {
			t.Error(w)
		}
	}
}

// A slip counts when it was answered, and a figure nobody called is told.
func TestScore_WaitsForTheAnswer(t *testing.T) {
	l, spec := begin(t, Options{Seed: 3, SlipEvery: 1})
	l.n = 1
	open, err := booking.Open(spec)
	l.do(open, err)
	slot := programme.Expect(l.s).Slot
	l.d.Prompt(l.s, slot, 0, l.at)
	l.d.Said(l.at.Add(3 * time.Second))
	if sc := l.d.Score(); sc.Slips != 0 {
		t.Errorf("a slip that was only called: %+v", sc)
	}
	e, err := check.Read(l.s, slot, "1 00 00", true, check.Known{})
	l.do(e, err)
	sc := l.d.Score()
	if sc.Slips != 1 || sc.Caught != 1 || sc.Miskeyed != 1 || sc.PerReading != 2*time.Second {
		t.Errorf("%+v", sc)
	}
}

// Three stations of one drill, the second and the third on marks that the first
// sighted: their angles and distances close (the angles of a triangle sum to
// 180°; a fact of geometry).
func TestDrill_NextStationsFitTheFirst(t *testing.T) {
	for seed := uint64(1); seed <= 10; seed++ {
		l, spec := begin(t, Options{Seed: seed, Distances: true, Sigma: 1})
		l.station(1, spec)
		in := network.Input{Settings: network.DefaultSettings(), Setups: []day.Summary{check.Summarize(l.s)}}
		corners := []string{spec.Station, spec.RO, spec.Targets[0]}
		for n := 2; n <= 3; n++ {
			spec.Station, spec.RO, spec.Targets = corners[n-1], corners[n-2], []string{corners[n%3]}
			l.station(n, spec)
			in.Setups = append(in.Setups, check.Summarize(l.s))
		}
		r := network.Work(in)
		if len(r.Figures) != 1 || r.Figures[0].Kind != network.Ring || !r.Figures[0].Met() || slices.ContainsFunc(r.LineChecks(), func(c check.Check) bool { return !c.Met }) || len(r.Lines) != 3 {
			t.Errorf("seed %d:\n%s", seed, network.Text(r))
		}
		if sc := l.d.Score(); sc.Lifted != 3 || sc.LiftedWrong != 0 {
			t.Errorf("seed %d: %+v", seed, sc)
		}
	}
}

func TestHalfBooked_StandsOnFaceRightOfRoundTwo(t *testing.T) {
	o := New(Options{Seed: 1})
	seq := uint64(0)
	list, err := o.HalfBooked(func(e event.Event) event.Entry {
		seq++
		return event.Entry{Seq: seq, At: time.Unix(int64(seq)*20, 0).UTC(), Setup: 1, Event: e}
	})
	if err != nil {
		t.Fatal(err)
	}
	s, err := booking.Fold(list)
	if err != nil {
		t.Fatal(err)
	}
	if p := programme.Expect(s); p.Slot.Round != 2 || p.Slot.Face != faces.FR || p.Slot.Quantity != spec.Horizontal {
		t.Errorf("%+v", p)
	}
}
