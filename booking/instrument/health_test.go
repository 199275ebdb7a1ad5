package instrument

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/event"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// setup books two rounds and the vertical circles of three targets with the
// given errors of the instrument, seconds, through events.
func setup(t *testing.T, number int, at time.Time, c0, tilt, index float64, altitudes [3]float64) booking.Setup {
	t.Helper()
	lc := reduce.Arcsecond
	agreed := spec.Spec{Station: "Weir", RO: "Spire", Targets: []string{"Alder", "Mast"},
		Instrument: spec.Instrument{Name: "T-5", Serial: "4471", LeastCount: lc, Unit: reduce.DMS, Circle: faces.Zenith},
		Observer:   "Ines Holm", Booker: "Tam Okoro", Rounds: 2, Plan: spec.QuarterPlan,
		ClosingRule: faces.ClosingMean, Limits: spec.DefaultLimits(5 * lc), Verticals: true, LengthUnit: lengths.Metres, Refraction: spec.DefaultRefraction}
	open, err := booking.Open(agreed)
	if err != nil {
		t.Fatal(err)
	}
	var s booking.Setup
	seq := uint64(0)
	do := func(e event.Event) {
		seq++
		at = at.Add(10 * time.Second)
		if s, err = s.Apply(event.Entry{Seq: seq, At: at, Setup: number, Event: e}); err != nil {
			t.Fatal(err)
		}
	}
	do(open)
	true2 := map[string]int{"Spire": 0, "Alder": 1, "Mast": 2}
	for {
		p := programme.Expect(s)
		if p.Phase != programme.InRounds && p.Phase != programme.InVerticals {
			return s
		}
		k := true2[p.Slot.Target]
		h := altitudes[k] * math.Pi / 180
		sign := 1.0
		if p.Slot.Face == faces.FR {
			sign = -1
		}
		var a reduce.Angle
		if p.Slot.Quantity == spec.Horizontal {
			a = reduce.Angle(p.Slot.Round-1)*reduce.QuarterTurn + 5*reduce.Arcminute + reduce.Angle(k)*70*reduce.Degree
			a += reduce.FromSeconds(sign * (c0/math.Cos(h) + tilt*math.Tan(h)))
			if sign < 0 {
				a += reduce.HalfTurn
			}
		} else {
			a = reduce.Turn.Div(4) - reduce.FromDegrees(altitudes[k])
			if sign < 0 {
				a = -a
			}
			a += reduce.FromSeconds(index)
		}
		a = a.Round(lc).Normalize()
		text := fmt.Sprintf("%d %02d %02d", a/reduce.Degree, a%reduce.Degree/reduce.Arcminute, a%reduce.Arcminute/reduce.Arcsecond)
		e, err := check.Read(s, p.Slot, text, true, check.Known{})
		if err != nil {
			t.Fatal(err)
		}
		do(e)
	}
}

var (
	morning = time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)
	steep   = [3]float64{0, 20, -25}
	level   = [3]float64{0, 1, -1}
)

// c = c₀/cos h + i·tan h and e = (V_FL + V_FR − 360°)/2, put in and found again
// to the rounding of the readings.
func TestSample_ErrorsPutInAreFound(t *testing.T) {
	s := SampleOf(setup(t, 1, morning, 12, -20, -7, steep))
	if math.Abs(s.Collimation.Seconds-12) > 0.6 || math.Abs(s.Tilt.Seconds+20) > 1.5 || math.Abs(s.Index.Seconds+7) > 0.6 {
		t.Errorf("%+v", s)
	}
	if got := strings.Join(s.Sentences(), " "); !strings.Contains(got, "tilt of the trunnion axis −2") || !strings.Contains(got, "Index error −7.") {
		t.Error(got)
	}
	if s.Collimation.N != 6 || s.Index.N != 3 {
		t.Errorf("%+v", s)
	}
	if s = SampleOf(setup(t, 1, morning, 12, -20, -7, level)); s.Tilt.N != 0 {
		t.Errorf("level targets tell no tilt: %+v", s.Tilt)
	}
	if got := strings.Join(s.Sentences(), " "); !strings.Contains(got, "too close together to separate a tilt") {
		t.Error(got)
	}
}

func TestWork_DueAndDrift(t *testing.T) {
	var samples []Sample
	for k := range 6 {
		wobble := float64(k%2) * 2
		samples = append(samples, SampleOf(setup(t, k+1, morning.Add(time.Duration(k)*2*time.Hour), 5+wobble, 0, 10+5*float64(k)+wobble, steep)))
	}
	is := Work(samples, DefaultSettings())
	if len(is) != 1 || len(is[0].Series) != 3 {
		t.Fatalf("%+v", is)
	}
	c, index := is[0].Series[0], is[0].Series[2]
	if c.Due || c.Line.Drifts || !index.Due || !index.Line.Drifts || math.Abs(index.Line.Slope-2.5) > 0.3 {
		t.Errorf("%+v %+v", c.Line, index.Line)
	}
	text := strings.Join(strings.Fields(Text(is)), " ")
	for _, want := range []string{"T-5 serial 4471", "The index error was +37.0″ in setup 6, limit 30″ (common practice, no source): an adjustment is due.", "The index error drifts by +2.6″ a hour"} {
		if !strings.Contains(text, strings.Replace(want, "a hour", "an hour", 1)) {
			t.Errorf("%q is not said:\n%s", want, Text(is))
		}
	}
	for _, l := range strings.Split(Text(is), "\n") {
		if utf8.RuneCountInString(l) > 80 {
			t.Errorf("%d columns: %s", utf8.RuneCountInString(l), l)
		}
	}
	t.Log("\n" + Text(is))
}

func TestWork_Healthy(t *testing.T) {
	is := Work([]Sample{SampleOf(setup(t, 1, morning, 3, 0, 2, level))}, DefaultSettings())
	text := strings.Join(strings.Fields(Text(is)), " ")
	if !strings.Contains(text, "No adjustment is due (limit 30″, common practice, no source) and nothing drifts.") ||
		!strings.Contains(text, "too close together to tell the tilt") {
		t.Error(Text(is))
	}
	if got := Text(nil); !strings.HasPrefix(got, "No instrument") {
		t.Error(got)
	}
}

func TestText_GonCircleIsInMilligon(t *testing.T) {
	one := SampleOf(setup(t, 1, morning, 3.24, 0, 32.4, level))
	one.Instrument.Unit = reduce.GonUnit
	text := strings.Join(strings.Fields(Text(Work([]Sample{one}, DefaultSettings()))), " ")
	for _, want := range []string{"milligon", "limit 9.3 mgon", "was +9.88 mgon"} {
		if !strings.Contains(text, want) || strings.Contains(text, "″") {
			t.Errorf("%q is not said, or seconds are: %s", want, text)
		}
	}
}

func TestWork_ByInstrument(t *testing.T) {
	one, two := SampleOf(setup(t, 1, morning, 3, 0, 2, level)), SampleOf(setup(t, 2, morning, 3, 0, 2, level))
	two.Instrument.Serial = "4472"
	three := two
	three.Instrument.Name = "T-5 b"
	if is := Work([]Sample{one, two, three}, DefaultSettings()); len(is) != 2 || len(is[1].Samples) != 2 {
		t.Errorf("%+v", is)
	}
}

func TestDue_ByLeastCount(t *testing.T) {
	if d := DefaultSettings().due(spec.Instrument{LeastCount: 20 * reduce.Arcsecond}); d != 120*reduce.Arcsecond {
		t.Error(d)
	}
}

// A setup keyed from paper that has no times on it tells when it was keyed, and
// says so.
func TestText_TimeOfKeyingIsSaidToBeThat(t *testing.T) {
	s := setup(t, 1, morning, 3, 0, 2, level)
	s.Spec.KeyedAfterwards = &spec.KeyedAfterwards{By: "Runa Vey", File: "day.csv"}
	if text := Text(Work([]Sample{SampleOf(s)}, DefaultSettings())); !strings.Contains(text, "1  keyed 4 May   Weir") {
		t.Error(text)
	}
}
