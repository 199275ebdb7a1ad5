package check

import (
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/observer"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// A trunnion axis tilted by 10″ makes 2c differ by 2·10″·tan 40° = 17″ on a sight
// of 40° (2c(h) = 2(c₀/cos h + i·tan h), common practice): a sound instrument isn't held
// for it once the altitudes are booked; a pair 60″ off still is, by name.
func TestVerdict_TwoCAfterItsModel(t *testing.T) {
	book := func(faults ...observer.Fault) booking.Setup {
		o := observer.New(observer.Options{Seed: 5, Targets: 4, Rounds: 3, Sigma: reduce.Arcsecond / 2, LeastCount: reduce.Arcsecond, Faults: faults})
		o.Collim, o.Tilt = 10*reduce.Arcsecond, 10*reduce.Arcsecond
		o.Lines[2].Altitude = 40 * reduce.Degree
		s, err := o.Book()
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	s := book()
	if raw := reduction.Of(s).TwoC; raw.Width() <= reduction.LimitsNow(s).TwoC.Value {
		t.Fatalf("the sight is not steep enough: %v", raw)
	}
	if v := Judge(s); !v.Lift {
		t.Errorf("sound: %q", v.Reasons())
	}
	mark := s.Spec.Targets[0]
	v := Judge(book(observer.Fault{Round: 2, Face: faces.FL, Target: mark, By: 60 * reduce.Arcsecond}))
	for _, c := range v.Checks {
		if c.Name == "2c" && (c.Met || !strings.Contains(c.Again, mark+" in round 2")) {
			t.Errorf("60″ off: %+v", c)
		}
	}
	if v.Lift {
		t.Error("60″ off: lifted")
	}
}

// A steep target whose altitude is not booked: 2c repeats there from round to round,
// and a tilted axis makes it differ (2·i·tan h; TRADE). It holds nothing until the
// altitudes are known; one pair that differs in one round does. With the altitudes
// of an earlier occupation it is judged after its model.
func TestTwoC_UnknownAltitudes(t *testing.T) {
	limit := spec.Limit{Value: 20 * reduce.Arcsecond, From: spec.CommonPractice}
	work := func(before map[string]reduce.Angle, steep ...reduce.Angle) (booking.Setup, reduction.Reduction) {
		s := booking.Setup{Spec: testSpec()}
		s.Spec.Before.Altitudes = before
		var r reduction.Reduction
		r.Comparison.Limits.TwoC, r.Comparison.Scale.S = limit, 2
		for i, c := range steep {
			w := reduction.RoundWork{Round: booking.Round{Number: i + 1}}
			for j, target := range []string{"Spire", "Alder", "Mast"} {
				two := reduce.Angle(j) * reduce.Arcsecond
				if target == "Mast" {
					two = c
				}
				w.Pairs = append(w.Pairs, reduction.PairWork{Target: target, HasPair: true, TwoC: two})
			}
			r.Comparison.Rounds = append(r.Comparison.Rounds, w)
		}
		return s, r
	}
	const s = reduce.Arcsecond
	for _, x := range []struct {
		name   string
		before map[string]reduce.Angle
		twoC   []reduce.Angle
		met    bool
	}{
		{"repeats", nil, []reduce.Angle{34 * s, 35 * s}, true},
		{"differs from round to round", nil, []reduce.Angle{34 * s, 3 * s}, false},
		{"more than altitudes make", nil, []reduce.Angle{64 * s, 65 * s}, false},
		{"after its model", map[string]reduce.Angle{"Spire": 0, "Alder": 0, "Mast": 55 * reduce.Degree}, []reduce.Angle{34 * s, 35 * s}, true},
		{"level, as known before", map[string]reduce.Angle{"Spire": 0, "Alder": 0, "Mast": 0}, []reduce.Angle{34 * s, 35 * s}, false},
	} {
		setup, r := work(x.before, x.twoC...)
		if c := checkTwoC(setup, r, workTwoC(setup, r)); c.Met != x.met || c.Text == "" {
			t.Errorf("%s: met %v: %s", x.name, c.Met, c.Text)
		}
	}
}
