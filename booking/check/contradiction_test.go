package check

import (
	"math"
	"testing"

	"example.org/readback/booking/observer"
	"example.org/readback/booking/spec"
	"example.org/readback/booking/spec/field"
	"example.org/readback/reduce"
	"example.org/readback/testdata"
)

// What Contradictions says a stated limit holds is what it holds: 100 sound stations
// each, 400 with -long, four standard errors and three points for the RO that targets share and for
// the rounding. Seeded.
func TestContradictions_AgainstStations(t *testing.T) {
	n := testdata.Times(100, 400)
	for _, c := range []struct {
		name  string
		field field.Name
		set   func(*spec.Limits, spec.Limit)
		limit reduce.Angle
	}{
		{"agreement", field.LimitRounds, func(l *spec.Limits, x spec.Limit) { l.Rounds = x }, 5 * reduce.Arcsecond},
		{"misclosure", field.LimitClosing, func(l *spec.Limits, x spec.Limit) { l.ROMisclosure = x }, 7 * reduce.Arcsecond},
		{"2c", field.LimitTwoC, func(l *spec.Limits, x spec.Limit) { l.TwoC = x }, 16 * reduce.Arcsecond},
		{"index", field.LimitIndex, func(l *spec.Limits, x spec.Limit) { l.Index = x }, 5 * reduce.Arcsecond},
	} {
		held := 0
		var share float64
		for seed := range uint64(n) {
			o := observer.New(observer.Options{Seed: 900 + seed, Targets: 4, Rounds: 3, LeastCount: reduce.Arcsecond, CloseHalves: true, Sigma: reduce.FromSeconds(2 * math.Sqrt2)})
			c.set(&o.Spec.Limits, spec.Limit{Value: c.limit, From: "the contract"})
			s, err := o.Book()
			if err != nil {
				t.Fatal(err)
			}
			list := Contradictions(o.Spec)
			if len(list) != 1 || list[0].Field != c.field {
				t.Fatalf("%s: %+v", c.name, list)
			}
			share = list[0].Share
			for _, x := range Judge(s).Checks {
				if x.Name == c.name && !x.Met {
					held++
					break
				}
			}
		}
		if got := float64(held) / float64(n); math.Abs(got-share) > 4*math.Sqrt(share*(1-share)/float64(n))+0.03 {
			t.Errorf("%s: %.3f of the stations held, %.3f said", c.name, got, share)
		}
	}
}

// A limit of practice contradicts nothing, nor does any where no σ is stated.
func TestContradictions_OnlyWhatIsStated(t *testing.T) {
	s := testSpec()
	s.Instrument.Sigma = 5 * reduce.Arcsecond
	s.Limits = spec.DefaultLimits(reduce.Arcsecond)
	if list := Contradictions(s); len(list) > 0 {
		t.Errorf("%+v", list)
	}
	s.Limits.Rounds.From = "the contract"
	if list := Contradictions(s); len(list) != 1 || list[0].Share < 0.5 {
		t.Errorf("%+v", list)
	}
	s.Instrument.Sigma = 0
	if list := Contradictions(s); len(list) > 0 {
		t.Errorf("%+v", list)
	}
}
