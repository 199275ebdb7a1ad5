package check

import (
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

// A bench books setups in tests as a crew would.
type bench struct {
	t   *testing.T
	s   booking.Setup
	seq uint64
	at  time.Time
}

func newBench(t *testing.T, spec spec.Spec) *bench {
	b := &bench{t: t, at: time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)}
	open, err := booking.Open(spec)
	if err != nil {
		t.Fatal(err)
	}
	b.do(open)
	return b
}

func testSpec() spec.Spec {
	lc := 5 * reduce.Arcsecond
	return spec.Spec{
		Station: "Weir", RO: "Spire", Targets: []string{"Alder", "Quarry", "Mast"},
		Instrument: spec.Instrument{Name: "T-5", Serial: "4471", LeastCount: lc, Unit: reduce.DMS, Circle: faces.Zenith, Sigma: 2 * reduce.Arcsecond},
		Observer:   "Ines Holm", Booker: "Tam Okoro", Rounds: 2, Plan: spec.QuarterPlan,
		ClosingRule: faces.ClosingMean, Limits: spec.DefaultLimits(lc), LengthUnit: lengths.Metres, Refraction: spec.DefaultRefraction,
	}
}

func (b *bench) do(e event.Event) {
	b.t.Helper()
	b.seq++
	b.at = b.at.Add(10 * time.Second)
	kind, version, body, err := event.Encode(e)
	if err != nil {
		b.t.Fatal(err)
	}
	back, err := event.Decode(kind, version, body)
	if err != nil {
		b.t.Fatal(err)
	}
	n, err := b.s.Apply(event.Entry{Seq: b.seq, At: b.at, Setup: 1, Event: back})
	if err != nil {
		b.t.Fatal(err)
	}
	b.s = n
}

// key books the text at the pointing that is called.
func (b *bench) key(text string) {
	b.t.Helper()
	e, err := Read(b.s, programme.Expect(b.s).Slot, text, true, Known{})
	if err != nil {
		b.t.Fatalf("%s at %s: %v", text, programme.Expect(b.s).Slot, err)
	}
	b.do(e)
}

func TestSetup_TwoRoundsToLift(t *testing.T) {
	b := newBench(t, testSpec())
	p := programme.Expect(b.s)
	if !p.SetCircle || p.From != 0 || p.To != reduce.Degree || p.Slot.Face != faces.FL || p.Slot.Target != "Spire" {
		t.Fatalf("first prompt: %+v", p)
	}
	for _, k := range []string{"0 05 10", "45 10 20", "120 30 00", "250 00 45"} {
		b.key(k)
	}
	if p := programme.Expect(b.s); p.Slot.Face != faces.FR || p.Slot.Target != "Mast" || !p.Transit {
		t.Fatalf("after the first half: %+v", p)
	}
	for _, k := range []string{"70 00 50", "300 30 10", "225 10 25", "180 05 15"} {
		b.key(k)
	}
	if p := programme.Expect(b.s); !p.SetCircle || p.From != 90*reduce.Degree || p.Slot.Round != 2 || p.Transit != true {
		t.Fatalf("second round: %+v", p)
	}
	if Judge(b.s).Lift {
		t.Fatal("one round is not enough to lift")
	}
	for _, k := range []string{"90 05 10", "135 10 25", "210 30 00", "340 00 40", "160 00 50", "30 30 05", "315 10 30", "270 05 15"} {
		b.key(k)
	}
	if p := programme.Expect(b.s); p.Phase != programme.AtVerdict {
		t.Fatalf("after two rounds that agree: %+v", p)
	}
	v := Judge(b.s)
	if !v.Lift {
		t.Fatalf("%+v", v.Reasons())
	}
	r := reduction.Of(b.s)
	if len(r.Directions) != 3 || r.Dof != 3 {
		t.Fatalf("%+v", r)
	}
	lift, err := Lift(b.s, "")
	if err != nil {
		t.Fatal(err)
	}
	b.do(lift)
	if programme.Expect(b.s).Phase != programme.AfterLift || Summarize(b.s).State != "lifted" {
		t.Fatal("not lifted")
	}
}
