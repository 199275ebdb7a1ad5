package observer

import (
	"math"
	"testing"

	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// Each fault touches the sights it names and no other, by as much as it says.
func TestFaults_TouchWhatTheyName(t *testing.T) {
	const d = 35 * reduce.Arcsecond
	o := Options{Seed: 5, Targets: 4, Rounds: 3, CloseHalves: true}
	clean := New(o)
	mast, ro, alder := clean.Spec.Targets[2], clean.Spec.RO, clean.Spec.Targets[0]
	for _, c := range []struct {
		name  string
		fault Fault
		off   func(s spec.Slot, half, round int) reduce.Angle
	}{
		{"one reading", Fault{Round: 2, Face: faces.FR, Target: mast, By: d}, func(s spec.Slot, _, _ int) reduce.Angle {
			return is(s.Round == 2 && s.Face == faces.FR && s.Target == mast, d)
		}},
		{"half", Fault{Round: 1, Face: faces.FR, By: -d}, func(s spec.Slot, _, _ int) reduce.Angle { return is(s.Round == 1 && s.Face == faces.FR, -d) }},
		{"kick", Fault{Round: 3, Face: faces.FR, From: 2, By: d}, func(s spec.Slot, half, _ int) reduce.Angle {
			return is(s.Round == 3 && s.Face == faces.FR && half >= 2, d)
		}},
		{"drift", Fault{Each: 5 * reduce.Arcsecond}, func(_ spec.Slot, _, round int) reduce.Angle {
			return reduce.Angle(round) * 5 * reduce.Arcsecond
		}},
		{"RO alone", Fault{Round: 1, Target: ro, By: d}, func(s spec.Slot, _, _ int) reduce.Angle { return is(s.Round == 1 && s.Target == ro, d) }},
	} {
		o.Faults = []Fault{c.fault}
		spoilt := New(o)
		for n := 1; n <= 3; n++ {
			slots := clean.Spec.RoundSlots(n)
			for i, slot := range slots {
				a, _ := clean.reading(slot, n, 0)
				b, _ := spoilt.reading(slot, n, 0)
				if got, want := reduce.Angle(b-a).Wrap(), c.off(slot, i%(len(slots)/2), i); got != want {
					t.Errorf("%s: %s is off by %v, expected %v", c.name, slot, got, want)
				}
			}
		}
	}
	o.Faults = []Fault{{Round: 1, Target: mast, Sighted: alder}, {Round: 2, Face: faces.FL, Target: alder, Exchanged: true}}
	spoilt := New(o)
	for _, face := range []faces.Face{faces.FL, faces.FR} {
		wrong, _ := spoilt.reading(spec.Slot{Quantity: spec.Horizontal, Round: 1, Face: face, Target: mast}, 1, 0)
		right, _ := clean.reading(spec.Slot{Quantity: spec.Horizontal, Round: 1, Face: face, Target: alder}, 1, 0)
		if d := reduce.Angle(wrong - right).Wrap().Abs(); d > 20*reduce.Arcsecond { // both have their noise
			t.Errorf("wrong target on %s: %v from the one sighted", face, d)
		}
	}
	slot := spec.Slot{Quantity: spec.Horizontal, Round: 2, Face: faces.FL, Target: alder}
	a, _ := clean.reading(slot, 2, 0)
	b, _ := spoilt.reading(slot, 2, 0)
	if kind, _ := slip.Pattern(reduce.Angle(a), reduce.Angle(b), reduce.DMS, 5*reduce.Arcsecond); kind != slip.DigitsExchanged {
		t.Errorf("%v for %v is %q", reduce.Angle(b), reduce.Angle(a), kind)
	}
}

func is(b bool, a reduce.Angle) reduce.Angle {
	if b {
		return a
	}
	return 0
}

// The noise is normal with the standard deviation that was ordered: the sample
// variance of n draws lies within 4·√(2/n) of it (the variance of a sample
// variance of normal draws is 2σ⁴/(n−1); any textbook of statistics).
func TestNoise_IsWhatWasOrdered(t *testing.T) {
	const sigma = 3.0
	n, sum := 0, 0.0
	for seed := uint64(1); seed <= 400; seed++ {
		o := New(Options{Seed: seed, Sigma: reduce.FromSeconds(sigma), LeastCount: reduce.Arcsecond / 10, Rounds: 2})
		exact := *o
		exact.Sigma = 0
		for _, slot := range o.Spec.RoundSlots(1) {
			a, _ := o.reading(slot, 1, 0)
			b, _ := exact.reading(slot, 1, 0)
			d := reduce.Angle(a - b).Wrap().Seconds()
			n, sum = n+1, sum+d*d
		}
	}
	if ratio := sum / float64(n) / (sigma * sigma); math.Abs(ratio-1) > 4*math.Sqrt(2/float64(n)) {
		t.Errorf("variance of %d readings is %.3f of what was ordered", n, ratio)
	}
}

// Slips come in the shares of package slip.
func TestSlips_ComeInTheirShares(t *testing.T) {
	const n = 20_000
	o := New(Options{Seed: 9})
	r := o.random(spec.Slot{}, 0, 1)
	made := map[slip.Kind]int{}
	for range n {
		made[o.drawKind(r)]++
	}
	for _, x := range slip.Rates() {
		if d := math.Abs(float64(made[x.Kind]) - n*x.Share); d > 4.5*math.Sqrt(n*x.Share*(1-x.Share)) {
			t.Errorf("%q: %d of %d, expected %.0f", x.Kind, made[x.Kind], n, n*x.Share)
		}
	}
}

// A station that is booked whole has every pointing of its programme.
func TestBook_HasTheWholeProgramme(t *testing.T) {
	for _, o := range []Options{{Seed: 1}, {Seed: 2, Targets: 11, Rounds: 4, CloseHalves: true, Distances: true}, {Seed: 3, Unit: reduce.GonUnit, LeastCount: reduce.Gon / 1000, NoVerticals: true}} {
		s, err := New(o).Book()
		if err != nil {
			t.Fatal(err)
		}
		if p := programme.Expect(s); p.Phase != programme.AtVerdict {
			t.Errorf("seed %d stands at %v", o.Seed, p.Slot)
		}
	}
}

func BenchmarkBook(b *testing.B) {
	for seed := uint64(1); b.Loop(); seed++ {
		s, err := New(Options{Seed: seed, Targets: 6, Rounds: 3}).Book()
		if err != nil || len(s.Readings) != 56 {
			b.Fatal(err, len(s.Readings))
		}
	}
}
