package check

import (
	"errors"
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// keys books texts at the pointings that are called.
func (b *bench) keys(texts ...string) {
	b.t.Helper()
	for _, k := range texts {
		b.key(k)
	}
}

func TestExpectation_MarksAtTheDigit(t *testing.T) {
	b := newBench(t, testSpec())
	at := func(text string) int {
		e := Expect(b.s, programme.Expect(b.s).Slot, Known{})
		return e.OffAt(text)
	}
	if at("7") != 1 || at("0 30 00") != 0 || at("59 30") != 1 || at("3595830") != 0 {
		t.Errorf("circle setting 0° to 1°: %d %d %d %d", at("7"), at("0 30 00"), at("59 30"), at("3595830"))
	}
	b.key("0 05 10")
	if at("99") != 0 || at("3000000") != 0 {
		t.Error("nothing is expected of a first sight on face left")
	}
	b.keys("45 10 20", "120 30 00", "250 00 45")
	// Face right of Mast: 70°00′45″ less 2c, of which nothing is known yet.
	if at("700050") != 0 || at("710050") != 2 || at("250") != 1 {
		t.Errorf("face right, 2c not known: %d %d %d", at("700050"), at("710050"), at("250"))
	}
	b.key("70 00 50")
	// Quarry: 300°30′00″ and 2c −5″.
	if at("3003010") != 0 || at("3003100") != 5 || at("3003050") != 6 || at("3003") != 0 || at("303") != 3 {
		t.Errorf("face right: %d %d %d %d", at("3003010"), at("3003100"), at("3003050"), at("303"))
	}
}

func TestExpectation_StopsAndNames(t *testing.T) {
	b := newBench(t, testSpec())
	b.keys("0 05 10", "45 10 20", "120 30 00", "250 00 45", "70 00 50", "300 30 10", "225 10 25", "180 05 15")
	b.keys("90 05 10")
	slot := programme.Expect(b.s).Slot // Alder: 135°10′20″
	check := func(text string) ([]event.Finding, error) {
		e, err := Read(b.s, slot, text, false, Known{})
		return e.Findings, err
	}
	if fs, err := check("135 10 25"); err != nil || len(fs) != 1 || fs[0].Severity != event.Note {
		t.Errorf("clean: %+v %v", fs, err)
	}
	for text, kind := range map[string]slip.Kind{
		"136 10 20": slip.WholeDegree, "135 20 20": slip.TenMinutes, "153 10 20": slip.DigitsExchanged,
		"210 30 00": slip.WrongTarget, "44 59 55": slip.Anticlockwise,
	} {
		fs, err := check(text)
		if !errors.Is(err, ErrMarked) || len(fs) == 0 || fs[0].Severity != event.Stop {
			t.Errorf("%s: %+v %v", text, fs, err)
			continue
		}
		if want := slip.Sentence(kind, partOf(kind), reduce.DMS); !strings.Contains(fs[0].Text, want) {
			t.Errorf("%s: %q, want %q", text, fs[0].Text, want)
		}
		for _, figure := range []string{"135°10′20″", "135 10 20", "1351020", "135°10"} {
			if strings.Contains(fs[0].Text, figure) {
				t.Errorf("%s: the expected figure stands in %q", text, fs[0].Text)
			}
		}
	}
	far := Expect(b.s, spec.Slot{Quantity: spec.Horizontal, Round: 2, Face: faces.FL, Target: "Quarry"}, Known{})
	if c := far.Slip(30*reduce.Degree + 30*reduce.Arcminute); c.Kind != slip.FaceNotChanged {
		t.Errorf("half a turn off: %+v", c)
	}
	if e, err := Read(b.s, slot, "136 10 20", true, Known{}); err != nil || !e.Confirmed {
		t.Errorf("a marked reading books when it is confirmed: %v %+v", err, e)
	}
}

func partOf(k slip.Kind) slip.Part {
	switch k {
	case slip.WholeDegree, slip.DigitsExchanged:
		return slip.Degrees
	case slip.TenMinutes, slip.OneMinute:
		return slip.Minutes
	}
	return slip.NoPart
}

// In the first round face left may be the one that is wrong, and it is said so.
func TestExpectation_EitherFace(t *testing.T) {
	b := newBench(t, testSpec())
	b.keys("0 05 10", "45 10 20", "120 30 00", "250 00 45", "70 00 50")
	e := Expect(b.s, programme.Expect(b.s).Slot, Known{})
	c := e.Slip(301*reduce.Degree + 30*reduce.Arcminute + 5*reduce.Arcsecond)
	if !c.OnEither || c.Kind != slip.WholeDegree {
		t.Errorf("%+v", c)
	}
}

func TestExpectation_Verticals(t *testing.T) {
	spec := testSpec()
	spec.Verticals = true
	b := newBench(t, spec)
	b.keys("0 05 10", "45 10 20", "120 30 00", "250 00 45", "70 00 50", "300 30 10", "225 10 25", "180 05 15")
	b.keys("90 05 10", "135 10 25", "210 30 00", "340 00 40", "160 00 50", "30 30 05", "315 10 30", "270 05 15")
	at := func(text string) int {
		e := Expect(b.s, programme.Expect(b.s).Slot, Known{})
		return e.OffAt(text)
	}
	if at("267 25 25") != 3 || at("92 34 35") != 0 {
		t.Errorf("a zenith circle reads under 180° on face left: %d %d", at("267 25 25"), at("92 34 35"))
	}
	b.keys("92 34 35", "88 10 20", "85 00 10", "91 20 15")
	if at("268 39 40") != 0 || at("91 20 15") != 1 {
		t.Errorf("face right: %d %d", at("268 39 40"), at("91 20 15"))
	}
	b.keys("268 39 40", "275 00 00")
	e := Expect(b.s, programme.Expect(b.s).Slot, Known{})
	if c := e.Slip(88*reduce.Degree + 10*reduce.Arcminute + 25*reduce.Arcsecond); c.Kind != slip.FaceNotChanged {
		t.Errorf("%+v", c)
	}
	if fs := e.Check(int64(271*reduce.Degree + 49*reduce.Arcminute + 50*reduce.Arcsecond)); len(fs) != 1 || fs[0].Severity == event.Stop {
		t.Errorf("%+v", fs)
	}
}

func TestSuspects_NameTheReading(t *testing.T) {
	b := newBench(t, testSpec())
	b.keys("0 05 10", "45 10 20", "120 30 00", "250 00 45", "70 00 50", "300 30 10", "225 10 25", "180 05 15")
	if s := Suspects(b.s); len(s) != 0 {
		t.Errorf("one clean round: %+v", s)
	}
	b.keys("90 05 10", "135 10 25", "210 30 40", "340 00 40", "160 00 50", "30 30 05", "315 10 30", "270 05 15")
	s := Suspects(b.s)
	if len(s) != 1 || s[0].Round != 2 || s[0].Face != faces.FL || s[0].Target != "Quarry" {
		t.Fatalf("%+v", s)
	}
	if r := Culprits(b.s).Remedy; r.Round != 2 || r.Target != "Quarry" {
		t.Errorf("%+v", r)
	}
}

// benchTen is a setup of 10 targets with four rounds but for the last half.
func benchTen(tb *testing.B) booking.Setup {
	spec := testSpec()
	spec.Targets = strings.Split("Alder Quarry Mast Chapel Weirfoot Ash Barn Croft Dell Elm", " ")
	spec.Rounds = 4
	t := &testing.T{}
	b := newBench(t, spec)
	s := b.s
	for programme.Expect(s).Slot.Round < 4 || programme.Expect(s).Slot.Face == faces.FL {
		slot := programme.Expect(s).Slot
		v := reduce.Angle(slot.Round-1)*reduce.QuarterTurn + 10*reduce.Arcminute
		for i, n := range spec.Names() {
			if n == slot.Target {
				v += reduce.Angle(i) * 31 * reduce.Degree
			}
		}
		if slot.Face == faces.FR {
			v += reduce.HalfTurn
		}
		b.seq++
		n, err := s.Apply(event.Entry{Seq: b.seq, Setup: 1, Event: event.ReadingBooked{Slot: slot, Value: int64(v.Normalize())}})
		if err != nil {
			tb.Fatal(err)
		}
		s = n
	}
	return s
}

// The check of one key with a full station behind it.
func BenchmarkMarked(tb *testing.B) {
	s := benchTen(tb)
	e := Expect(s, programme.Expect(s).Slot, Known{})
	tb.ReportAllocs()
	for tb.Loop() {
		e.Marked("13010")
	}
}

// The check of a complete entry that is marked, its slip searched.
func BenchmarkCheck(tb *testing.B) {
	s := benchTen(tb)
	e := Expect(s, programme.Expect(s).Slot, Known{})
	off := int64(e.bands[0].centre + 10*reduce.Degree)
	tb.ReportAllocs()
	for tb.Loop() {
		e.Check(off)
	}
}

// What is worked out once a pointing.
func BenchmarkExpectation(tb *testing.B) {
	s := benchTen(tb)
	slot := programme.Expect(s).Slot
	tb.ReportAllocs()
	for tb.Loop() {
		Expect(s, slot, Known{})
	}
}

func TestSuspects_VerticalPair(t *testing.T) {
	spec := testSpec()
	spec.Verticals = true
	b := newBench(t, spec)
	b.keys("0 05 10", "45 10 20", "120 30 00", "250 00 45", "70 00 50", "300 30 10", "225 10 25", "180 05 15")
	b.keys("90 05 10", "135 10 25", "210 30 00", "340 00 40", "160 00 50", "30 30 05", "315 10 30", "270 05 15")
	b.keys("92 34 35", "88 10 20", "85 00 10", "91 20 15")
	b.keys("268 39 40", "275 00 00", "271 49 45", "267 52 25") // Spire: 25 for 52, exchanged on face right
	s := Suspects(b.s)
	if len(s) != 1 || !s[0].Upright || s[0].Target != "Spire" {
		t.Fatalf("%+v", s)
	}
	t.Logf("%+v", s[0])
}

func TestExpectation_Gon(t *testing.T) {
	spec := testSpec()
	spec.Instrument.Unit, spec.Instrument.LeastCount = reduce.GonUnit, reduce.Milligon
	spec.Instrument.Sigma = 0
	b := newBench(t, spec)
	b.keys("0.500", "50.123", "133.456", "277.800", "77.802", "333.459", "250.124", "200.503")
	b.key("100.700")
	slot := programme.Expect(b.s).Slot
	for text, want := range map[string]string{"150.325": " mgon from what", "151.323": "The whole gon look one out", "105.323": "Two digits of the whole gon look exchanged"} {
		e, err := Read(b.s, slot, text, true, Known{})
		if err != nil || len(e.Findings) != 1 || !strings.Contains(e.Findings[0].Text, want) {
			t.Errorf("%s: %v %+v", text, err, e.Findings)
		}
	}
}

// A pair confirmed although it did not fit the round before leaves the clean
// readings behind it unmarked.
func TestExpectation_AfterADoubtedPair(t *testing.T) {
	spec := testSpec()
	spec.Instrument.Sigma = 0
	b := newBench(t, spec)
	b.keys("0 05 10", "45 10 20", "120 30 00", "250 00 45", "70 00 50", "300 30 10", "225 10 25", "180 05 15")
	b.keys("90 05 10", "135 10 25", "210 30 00", "340 01 05", "160 01 15")
	slot := programme.Expect(b.s).Slot
	e, err := Read(b.s, slot, "30 30 05", false, Known{})
	if err != nil {
		t.Errorf("%s: %v %+v", slot, err, e.Findings)
	}
	// Off the rounds before though not in 2c: the sentence says against what.
	e, _ = Read(b.s, slot, "30 30 25", false, Known{})
	if len(e.Findings) != 1 || e.Findings[0].Severity != event.Stop {
		t.Errorf("%+v", e.Findings)
	}
}

// A slip in the first reading of a round, inside the circle setting, shows at the
// second: either of them may be wrong, and it is said so.
func TestExpectation_FirstReadingOfARound(t *testing.T) {
	b := newBench(t, testSpec())
	b.keys("0 05 10", "45 10 20", "120 30 00", "250 00 45", "70 00 50", "300 30 10", "225 10 25", "180 05 15")
	b.key("90 15 10") // called 90 05 10
	e, err := Read(b.s, programme.Expect(b.s).Slot, "135 10 25", false, Known{})
	if !errors.Is(err, ErrMarked) || len(e.Findings) != 1 || !strings.Contains(e.Findings[0].Text, "Here or at Spire: The minutes look ten out") {
		t.Errorf("%v %+v", err, e.Findings)
	}
}

// An instrument that was set up before is known: its first face-right sight is
// held against its 2c.
func TestInstrumentBefore(t *testing.T) {
	i := testSpec().Instrument
	span := &reduction.Span{N: 3}
	setups := []day.Summary{
		{Instrument: spec.Instrument{Name: "T-5", Serial: "9"}, TwoC: span, Collim: reduce.Degree},
		{Instrument: i, TwoC: span, Collim: -28 * reduce.Arcsecond},
		{Instrument: i, TwoC: span, Collim: -32 * reduce.Arcsecond},
	}
	c, e := InstrumentBefore(setups, i)
	if c.Value != -30*reduce.Arcsecond || c.SD < 3 || c.SD > 5 || e.SD != 0 {
		t.Errorf("%+v %+v", c, e)
	}
	b := newBench(t, testSpec())
	b.keys("0 05 10", "45 10 20", "120 30 00", "250 00 45")
	x := Expect(b.s, programme.Expect(b.s).Slot, Known{Collimation: c})
	if x.OffAt("70 01 45") != 0 || x.OffAt("70 00 45") == 0 {
		t.Errorf("2c −60″: %d, 2c 0″: %d", x.OffAt("70 01 45"), x.OffAt("70 00 45"))
	}
}
