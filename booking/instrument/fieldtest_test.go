package instrument

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/event"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

const seed = 17123

// booked books a setup of the given rounds on the RO and targets, with random
// noise of 2″ a reading and an index error of 30″.
func booked(t *testing.T, rnd *rand.Rand, number, rounds, targets int, sigma reduce.Angle) booking.Setup {
	t.Helper()
	agreed := spec.Spec{
		Station: "Weir", RO: "Spire", Targets: []string{"Alder", "Quarry", "Mast", "Chapel"}[:targets-1],
		Instrument: spec.Instrument{Name: "T-5", Serial: "4471", LeastCount: reduce.Arcsecond, Unit: reduce.DMS, Circle: faces.Zenith, Sigma: sigma},
		Observer:   "Ines Holm", Booker: "Tam Okoro", Rounds: rounds, Plan: spec.QuarterPlan,
		Limits: spec.DefaultLimits(20 * reduce.Arcsecond), Verticals: true, LengthUnit: lengths.Metres, Refraction: spec.DefaultRefraction,
	}
	open, err := booking.Open(agreed)
	var s booking.Setup
	seq := uint64(0)
	do := func(e event.Event, err error) {
		seq++
		if err == nil {
			s, err = s.Apply(event.Entry{Seq: seq, At: time.Unix(int64(seq), 0), Setup: number, Event: e})
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	do(open, err)
	for programme.Expect(s).Phase != programme.AtVerdict {
		k := programme.Expect(s).Slot
		at := 0
		for i, n := range agreed.Names() {
			if n == k.Target {
				at = i
			}
		}
		noise := reduce.FromSeconds(2 * rnd.NormFloat64()).Round(reduce.Arcsecond)
		a := reduce.Angle(k.Round-1)*reduce.QuarterTurn + 10*reduce.Arcminute + reduce.Angle(at)*70*reduce.Degree
		if k.Face == faces.FR {
			a += reduce.HalfTurn
		}
		if k.Quantity == spec.Vertical {
			a = 89*reduce.Degree + reduce.Angle(at)*10*reduce.Arcminute
			if k.Face == faces.FR {
				a = -a
			}
			a += 30 * reduce.Arcsecond
		}
		a = (a + noise).Normalize()
		text := fmt.Sprintf("%d %02d %02d", a/reduce.Degree, a%reduce.Degree/reduce.Arcminute, a%reduce.Arcminute/reduce.Arcsecond)
		e, err := check.Read(s, k, text, true, check.Known{})
		do(e, err)
	}
	return s
}

func fieldSeries(t *testing.T, n, rounds, targets int) []booking.Setup {
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, uint64(n)))
	var ss []booking.Setup
	for i := range n {
		ss = append(ss, booked(t, rnd, i+1, rounds, targets, 2*reduce.Arcsecond))
	}
	return ss
}

// ISO 17123-3 (from memory): the full test has 4·(3−1)·(5−1) = 32 degrees of
// freedom, and s passes up to 1.20 σ at 95 %. Per series s is the s₀ of the
// station adjustment, so the pooled setups must give the same.
func TestFieldTest_FullTest(t *testing.T) {
	ss := fieldSeries(t, 4, 3, 5)
	r, err := WorkFieldTest(ss)
	if err != nil {
		t.Fatal(err)
	}
	if r.Horizontal.S.Dof != 32 || !r.Horizontal.Full {
		t.Errorf("%+v", r.Horizontal.S)
	}
	sum := 0.0
	for i, s := range ss {
		red := reduction.Of(s)
		sum += red.S0 * red.S0 * float64(red.Dof)
		if math.Abs(red.S0-r.Horizontal.Series[i].S) > 1e-6 {
			t.Errorf("series %d: %v, station adjustment %v", i+1, r.Horizontal.Series[i].S, red.S0)
		}
	}
	if math.Abs(math.Sqrt(sum/32)-r.Horizontal.S.S) > 1e-6 {
		t.Errorf("%v, pooled %v", r.Horizontal.S.S, math.Sqrt(sum/32))
	}
	text := r.Page().String(80)
	for _, want := range []string{"(the full test)", "degrees of freedom 32", "s up to 2.40″ passes", "(not a form of the standard)", "at 95 % it differs from zero"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said:\n%s", want, text)
		}
	}
}

// The short form has 6 degrees of freedom and a factor of 1.449.
func TestFieldTest_ShortForm(t *testing.T) {
	r, err := WorkFieldTest(fieldSeries(t, 1, 3, 4))
	if err != nil {
		t.Fatal(err)
	}
	if r.Horizontal.S.Dof != 6 || !r.Horizontal.AsStandard || r.Horizontal.Full || r.Vertical != nil {
		t.Errorf("%+v", r)
	}
	text := r.Page().String(80)
	if !strings.Contains(text, "(the short form)") || !strings.Contains(text, "s up to 2.90″ passes") || !strings.Contains(text, "No test of altitudes") {
		t.Error(text)
	}
}

// Two setups are held against each other with F, both sides at 5 %. The quantiles
// for 8 and 8 degrees of freedom are 0.226 and 4.43 (tables of F, from memory).
func TestFieldTest_TwoSeriesAgainstEachOther(t *testing.T) {
	r, err := WorkFieldTest(fieldSeries(t, 2, 3, 5))
	if err != nil {
		t.Fatal(err)
	}
	a, b := r.Horizontal.Series[0], r.Horizontal.Series[1]
	want := fmt.Sprintf("s²/s² = %.2f, F from 0.23 to 4.43.", a.S*a.S/(b.S*b.S))
	if text := r.Page().String(80); !strings.Contains(text, "At 95 % the two series do not differ: "+want) {
		t.Errorf("%q is not said:\n%s", want, text)
	}
	if r, err = WorkFieldTest(fieldSeries(t, 4, 3, 5)); err != nil || strings.Contains(r.Page().String(80), "two series") {
		t.Error(err, r.Page().String(80))
	}
}

// Twelve setups on four targets are the full test of altitudes.
func TestFieldTest_Altitudes(t *testing.T) {
	r, err := WorkFieldTest(fieldSeries(t, 12, 2, 4))
	if err != nil {
		t.Fatal(err)
	}
	if v := r.Vertical; v == nil || !v.Full || v.S.Dof != 32 || math.Abs(v.Index-30) > 1.5 {
		t.Errorf("%+v", v)
	}
}

func TestFieldTest_Refuses(t *testing.T) {
	one := fieldSeries(t, 1, 3, 4)[0]
	other := one
	other.Number, other.Spec.Instrument.Serial = 2, "4472"
	for name, ss := range map[string][]booking.Setup{"none": nil, "two instruments": {one, other}, "empty": {{}}} {
		if _, err := WorkFieldTest(ss); !errors.Is(err, ErrNoTest) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
