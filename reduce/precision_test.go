package reduce

import (
	"math"
	"strings"
	"testing"
)

func TestPool_S4(t *testing.T) {
	f := published(t, "S4")
	for _, l := range f.all("station") {
		var spreads []Spread
		for _, x := range strings.Fields(l[1]) {
			uu, div, _ := strings.Cut(x, "/")
			d := num(t, div)
			spreads = append(spreads, Spread{S: math.Sqrt(num(t, uu) / d), Dof: int(d)})
		}
		p := Pool(spreads...)
		uu, div, _ := strings.Cut(l[2], "/")
		f.meets(t, "pooled sum of squares", p.sumSquares(), uu)
		f.meets(t, "pooled degrees of freedom", float64(p.Dof), div)
		f.meets(t, "pooled variance", p.S*p.S, l[3])
	}
	if p := Pool(); p != (Spread{}) {
		t.Errorf("nothing pooled: %+v", p)
	}
}

func TestSampleSpread_F45(t *testing.T) {
	f := published(t, "F45")
	var x []float64
	for _, s := range strings.Fields(f.one(t, "seconds")[0]) {
		x = append(x, num(t, s))
	}
	mean, s := SampleSpread(x)
	f.meets(t, "mean of repeated readings", mean, f.one(t, "mean")[0])
	f.meets(t, "sum of squares", s.sumSquares(), f.one(t, "vv")[0])
	f.meets(t, "s of one reading", s.S, f.one(t, "s")[0])
	sm := s.S / math.Sqrt(float64(len(x)))
	f.meets(t, "s of the mean", sm, f.one(t, "smean")[0])
	f.meets(t, "Student's t", StudentLimit(0.05, s.Dof), f.one(t, "t")[0])
	f.meets(t, "95 % limits", StudentLimit(0.05, s.Dof)*sm, f.one(t, "limits")[0])
}

func TestPrecision_FactorsM3(t *testing.T) {
	f := published(t, "M3")
	for _, l := range f.all("factor") {
		dof := int(num(t, l[0]))
		s := Spread{S: 1, Dof: dof}
		f.meets(t, "chi square", s.AgainstStated(1, 0.05).High, l[1])
		f.meets(t, "factor on the stated value", StatedFactor(dof, 0.05), l[2])
		test := s.Against(s, 0.05)
		f.meets(t, "F", test.High, l[3])
		f.meets(t, "1/F", test.Low, l[4])
		f.meets(t, "Student's t", StudentLimit(0.05, dof), l[5])
	}
}

func TestAgainstStated_S15(t *testing.T) {
	f := published(t, "S15")
	s := Spread{S: num(t, f.one(t, "s")[0]), Dof: 99}
	test := s.AgainstStated(num(t, f.one(t, "sigma")[0]), 0.05)
	f.meets(t, "chi square statistic", test.Statistic, f.one(t, "statistic")[0])
	f.meets(t, "chi square limit", test.High, f.one(t, "limit")[0])
	for _, l := range f.all("station") {
		dof := int(num(t, l[1]))
		s := Spread{S: math.Sqrt(num(t, l[0]) / float64(dof)), Dof: dof}
		test := s.AgainstStated(num(t, l[2]), 0.05)
		f.meets(t, "chi square statistic", test.Statistic, l[3])
		f.meets(t, "chi square limit", test.High, l[4])
		if test.Passed != (l[5] == "yes") || !test.Possible {
			t.Errorf("station %v: %+v", l, test)
		}
	}
}

// The interval's ends are where the one-sided tests at half the risk turn.
func TestConfidence(t *testing.T) {
	s := Spread{S: 5, Dof: 32}
	low, high := s.Confidence(0.95)
	near(t, "upper end", s.sumSquares()/(low*low), chiQuantile(0.975, 32), 1e-9)
	near(t, "lower end", s.sumSquares()/(high*high), chiQuantile(0.025, 32), 1e-9)
	if !(low < 5 && 5 < high) {
		t.Errorf("%g to %g", low, high)
	}
	if lo, hi := (Spread{}).Confidence(0.95); lo != 0 || !math.IsInf(hi, 1) {
		t.Error("an interval out of nothing")
	}
}

func TestPrecision_NothingToTest(t *testing.T) {
	none := Spread{}
	for _, x := range []Test{none.AgainstStated(1, .05), (Spread{1, 3}).AgainstStated(0, .05), none.Against(Spread{1, 1}, .05), (Spread{1, 1}).Against(none, .05)} {
		if x.Possible || x.Passed {
			t.Errorf("%+v", x)
		}
	}
	if !math.IsInf(StatedFactor(0, .05), 1) || !math.IsInf(StudentLimit(.05, 0), 1) {
		t.Error("a factor without degrees of freedom")
	}
}
